"""The trade-off: how far hubs move for each number of distinct lengths."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.progress import SILENT, Progress, step
from strutwright.shape import fewer_model as fm
from strutwright.shape.fewer_bounds import bounds_of
from strutwright.shape.fewer_model import Reduced
from strutwright.shape.fewer_search import Best, search, settle
from strutwright.shape.fewer_solve import Fit, is_kept
from strutwright.shape.fewer_surface import hold_surface, surface_of
from strutwright.shape.shell import Shell
from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["SAME_LENGTH", "Entry", "Tradeoff", "length_tradeoff", "meet_classes"]

FLAT_HUB: Final = 1e-3
"""A hub with an angle deficit below this (rad) at the start is flat by design."""
SAME_LENGTH: Final = 5e-5
"""Struts whose node lengths differ by no more than this (m) are one length: one cut length."""


@dataclass(frozen=True, eq=False)
class Entry(ArrayValue):
    """One number of lengths and its price.

    Parameters
    ----------
    lengths : int
        Number of distinct lengths asked for.
    drift : float, m
        Largest distance of a hub from its place at the start; infinite where refused.
    smallest_fold : float, rad
        Smallest angle between two neighbouring faces, positive where convex; nan where refused.
    class_lengths : (k,) array, m
        The lengths, longest first; fewer than `lengths` where fewer cost no more.
    counts : (k,) int array
        Struts of each length.
    refused : str
        Why there is no such shape; empty where there is one.
    hubs : (H, 3) array, m
        The shape; empty where refused.
    class_of : (S,) int array
        Length of each strut that bounds faces, -1 for others; empty where refused.
    """

    lengths: int
    drift: float
    smallest_fold: float
    class_lengths: Floats
    counts: Indices
    refused: str = ""
    hubs: Floats = field(default_factory=lambda: np.zeros((0, 3)))
    class_of: Indices = field(default_factory=lambda: np.zeros(0, dtype=np.int64))


@dataclass(frozen=True, eq=False)
class Tradeoff(ArrayValue):
    """All numbers of lengths, from those that the shape has by nature downwards.

    Parameters
    ----------
    entries : tuple of Entry
        The first is the start; drift never falls from one to the next; refused ones are last.
    """

    entries: tuple[Entry, ...]

    def of(self, lengths: int) -> Entry | None:
        """Return the entry of a number of lengths; None when it is not among them."""
        return next((entry for entry in self.entries if entry.lengths == lengths), None)


def length_tradeoff(
    shell: Shell,
    *,
    aims: tuple[int, ...] = (),
    freedom: float | None = None,
    progress: Progress = SILENT,
) -> Tradeoff:
    """Return the price of every number of lengths from those of `shell` down to one.

    aims : numbers of lengths that are tried in any case; a large shell skips some others, which
    then have the price of the next smaller number that was tried.
    freedom : share by which width, length and rise may change; None sets no bound on them.
    """
    step(progress, "fewer lengths: symmetry", 0.0)
    model = fm.reduce_shell(shell)
    top = _nature(model)
    first = len(top.class_lengths)
    found: Best = {}
    missed: Best = {}
    start = top
    surface = surface_of(shell, model)
    for firm in (True, False):
        bounds = bounds_of(shell, model, freedom, firm=firm)
        kept, broken = search(model, bounds, start, aims, progress)
        missed = {**missed, **broken}
        if surface is not None:
            kept = {k: hold_surface(model, bounds, fit, surface) for k, fit in kept.items()}
        found = {**kept, **found}
        start = found.get(min(found, default=first), top)
    entries = [_entry(model, first, top)]
    known = _monotone(found, first)
    for k in range(first - 1, 0, -1):
        entries.append(
            _entry(model, k, known[k]) if k in known else _refused(model, k, missed.get(k))
        )
    return Tradeoff(tuple(entries))


def _monotone(found: Best, first: int) -> Best:
    """Return `found` with every number of lengths at least as good as every smaller one."""
    best: Best = {}
    last: Fit | None = None
    for k in range(1, first):
        if k in found and (last is None or found[k].drift < last.drift):
            last = found[k]
        if last is not None:
            best[k] = last
    return best


def nature_classes(node_lengths: Floats) -> Indices:
    """Return the class of each length (m,): longest first, each within `SAME_LENGTH`."""
    order = np.argsort(-node_lengths, kind="stable")
    class_of = np.zeros(len(node_lengths), dtype=np.int64)
    longest, current = np.inf, -1
    for orbit in order:
        if current < 0 or longest - node_lengths[orbit] > SAME_LENGTH:
            longest, current = node_lengths[orbit], current + 1
        class_of[orbit] = current
    return class_of


def _nature(model: Reduced) -> Fit:
    now = fm.lengths(model, model.start)
    class_of = nature_classes(now)
    mean = np.bincount(class_of, model.counts * now) / np.bincount(class_of, model.counts)
    return Fit(class_of, mean, np.zeros(model.n_unknowns), 0.0, 0.0, -1.0, 0.0)


def _entry(model: Reduced, lengths: int, fit: Fit) -> Entry:
    order = np.argsort(-fit.class_lengths, kind="stable")
    rank = np.argsort(order, kind="stable")
    hubs = fm.places(model, fit.q)
    class_of = np.where(model.class_of >= 0, rank[fit.class_of[model.class_of]], -1)
    return Entry(
        lengths,
        fit.drift,
        float(fm.folds(hubs, model.hinges).min(initial=np.inf)),
        fit.class_lengths[order],
        np.bincount(class_of[class_of >= 0], minlength=len(order)),
        "",
        hubs,
        class_of,
    )


def _refused(model: Reduced, k: int, nearest: Fit | None) -> Entry:
    """Return the entry of a number of lengths for which no shape was found, with the reason."""
    reason = f"no shape with {k} length(s) was found in which every fold points outwards"
    if nearest is not None:
        hubs = fm.places(model, nearest.q)
        angles = fm.folds(hubs, model.hinges)
        start = fm.deficits(model, model.start)
        share = (fm.deficits(model, hubs) / np.maximum(start, FLAT_HUB))[start > FLAT_HUB]
        reason += (
            f" and no hub is flattened: the nearest folds strut "
            f"{model.hinge_struts[angles.argmin()]} by {np.degrees(angles.min()):.1f} deg and "
            f"leaves a hub {100 * share.min(initial=1.0):.0f} % of its dip (snap-through risk)"
        )
        if nearest.over > 0:
            reason += f"; a size or a door misses its bound by {1000 * nearest.over:.1f} mm"
    return Entry(k, np.inf, np.nan, np.zeros(0), np.zeros(0, dtype=np.int64), reason)


def meet_classes(shell: Shell, class_of: Indices, *, freedom: float | None = None) -> Entry:
    """Return the shape in which struts have the lengths' classes given, as of a kit made before.

    class_of : (S,) class of each strut, from 0; those of struts that bound no face do not count.

    Raises
    ------
    InputError
        ``lengths-classes``: struts that the symmetry lays on one another have different classes.
        ``lengths-unreachable``: no shape with these classes keeps its hubs from being flattened.
    """
    model = fm.reduce_shell(shell)
    used = model.class_of >= 0
    chosen = np.zeros(len(model.struts), dtype=np.int64)
    names, kinds = np.unique(class_of[used], return_inverse=True)
    chosen[model.class_of[used]] = kinds
    unlike = np.flatnonzero(chosen[model.class_of[used]] != kinds)
    if unlike.size:
        strut = int(np.flatnonzero(used)[unlike[0]])
        what = f"strut {strut} has another class than the struts that it mirrors"
        raise InputError("lengths-classes", what, "shape.lengths", "give them one class")
    now = fm.lengths(model, model.start)
    mean = np.bincount(chosen, model.counts * now) / np.bincount(chosen, model.counts)
    start = Fit(chosen, mean, np.zeros(model.n_unknowns), 0.0, 0.0, -1.0, 0.0)
    nearest = None
    for firm in (True, False):
        bounds = bounds_of(shell, model, freedom, firm=firm)
        found = settle(model, bounds, start)
        if found is not None and is_kept(model, found):
            surface = surface_of(shell, model)
            kept = hold_surface(model, bounds, found, surface) if surface else found
            return _entry(model, len(names), kept)
        nearest = found or nearest
    reason = _refused(model, len(names), nearest).refused
    mend = "give more classes, or others"
    raise InputError("lengths-unreachable", reason, "shape.lengths", mend)
