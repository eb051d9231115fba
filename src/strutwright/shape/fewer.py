"""Fewer distinct strut lengths: the same shell with its hubs moved a little, for fewer lengths."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.progress import SILENT, Progress
from strutwright.sentences import note
from strutwright.shape.fewer_tradeoff import Entry, Tradeoff, length_tradeoff, meet_classes
from strutwright.shape.shell import Shell
from strutwright.values import HubPoints, Note

__all__ = [
    "Entry",
    "Tradeoff",
    "fewer_lengths",
    "length_tradeoff",
    "meet_classes",
    "moved_net",
]

UPRIGHTS: Final = ("leg", "post")
"""Struts whose lower hub follows the upper one in plan, so that they stay upright."""
CONFUSABLE: Final = 0.010
CONFUSABLE_SHARE: Final = 0.015
"""Lengths nearer than 10 mm or 1.5 % are taken for one another on a lawn: our choice."""


def fewer_lengths(
    shell: Shell,
    lengths: int | None = None,
    drift: float | None = None,
    *,
    freedom: float | None = None,
    progress: Progress = SILENT,
) -> tuple[Shell, Tradeoff]:
    """Return `shell` with at most `lengths` distinct strut lengths, and the whole trade-off.

    Lengths are those of the struts that bound faces; braces and the like follow their hubs.

    Parameters
    ----------
    lengths : int, optional
        Most distinct lengths; left out: as few as `drift` allows.
    drift : float, m, optional
        Most that a hub may move.
    freedom : float, optional
        Share by which width, length and rise may change; left out: `drift` alone bounds them.

    Raises
    ------
    InputError
        ``lengths-unreachable`` or ``lengths-number``: what was asked cannot be had; the message
        says what can.
    """
    _check(lengths, drift)
    aims = () if lengths is None else (lengths, lengths - 1)
    tradeoff = length_tradeoff(shell, aims=aims, freedom=freedom, progress=progress)
    entry = _chosen(tradeoff, lengths, drift)
    return _moved(shell, tradeoff.entries[0], entry), tradeoff


def _check(lengths: int | None, drift: float | None) -> None:
    if lengths is None and drift is None:
        what = "neither a number of lengths nor a drift is given"
        raise InputError("lengths-number", what, "shape.lengths", "give one of the two")
    if lengths is not None and lengths < 1:
        what = f"{lengths} lengths: a shell has at least 1"
        raise InputError("lengths-number", what, "shape.lengths", "give 1 or more")
    if drift is not None and not drift >= 0:
        what = f"a drift of {drift} m is below 0"
        raise InputError("lengths-number", what, "shape.drift", "give a length from 0 up")


def _chosen(tradeoff: Tradeoff, lengths: int | None, drift: float | None) -> Entry:
    start = tradeoff.entries[0]
    can = [entry for entry in tradeoff.entries if not entry.refused]
    within = [entry for entry in can if drift is None or entry.drift <= drift]
    if lengths is None:
        return within[-1]
    if lengths >= start.lengths:
        return start
    entry = tradeoff.of(lengths)
    if entry is None or entry.refused:
        reason = entry.refused if entry else "not tried"
        fewest = can[-1]
        mend = f"ask for {fewest.lengths} lengths, which move a hub by {_mm(fewest.drift)}"
        raise InputError("lengths-unreachable", reason, "shape.lengths", mend)
    if entry not in within:
        what = (
            f"{lengths} lengths move a hub by {_mm(entry.drift)}, more than the drift of "
            f"{_mm(drift or 0.0)}"
        )
        mend = f"allow that drift, or ask for {within[-1].lengths} lengths, the fewest within it"
        raise InputError("lengths-unreachable", what, "shape.drift", mend)
    return entry


def _moved(shell: Shell, start: Entry, entry: Entry) -> Shell:
    notes = _confusable(entry)
    if entry is start:
        return shell.with_notes(*notes)
    hubs = moved_net(shell, entry).hubs
    said = (
        f"fewer lengths: {start.lengths} to {len(entry.class_lengths)}, hubs moved by up to "
        f"{_mm(entry.drift)}"
    )
    if entry.smallest_fold < start.smallest_fold / 2:
        flatter = note("lengths-flatter", fold=entry.smallest_fold, before=start.smallest_fold)
        notes = (*notes, flatter)
    recipe = replace(
        shell.recipe, steps=(*shell.recipe.steps, said), notes=(*shell.recipe.notes, *notes)
    )
    return replace(shell, hubs=hubs, recipe=recipe)


def moved_net(shell: Shell, entry: Entry) -> Shell:
    """Return `shell` with its hubs where `entry` has them; others, such as feet, follow."""
    hubs = _with_followers(shell, entry.hubs)
    if shell.recipe.base == "level":
        hubs[shell.base, 2] = 0.0
    return replace(shell, hubs=hubs)


def _with_followers(shell: Shell, moved: HubPoints) -> HubPoints:
    """Return hubs (H, 3) in which those without faces, such as feet of legs, follow in plan."""
    hubs = shell.hubs.copy()
    in_face = np.isin(np.arange(len(hubs)), shell.faces)
    hubs[in_face] = moved[in_face]
    shift = hubs - shell.hubs
    upright = np.isin(shell.role, UPRIGHTS)
    for hub in np.flatnonzero(~in_face):
        at = (shell.struts == hub).any(axis=1)
        at = at & upright if (at & upright).any() else at
        beside = np.setdiff1d(shell.struts[at], [hub])
        beside = beside[in_face[beside]]
        if len(beside):
            hubs[hub, :2] += shift[beside, :2].mean(axis=0)
    return hubs


def _confusable(entry: Entry) -> tuple[Note, ...]:
    sizes = entry.class_lengths
    notes = []
    for longer, shorter in pairwise(sizes.tolist()):
        if longer - shorter < max(CONFUSABLE, CONFUSABLE_SHARE * longer):
            values = {"longer": longer, "shorter": shorter, "apart": longer - shorter}
            notes.append(note("lengths-confusable", **values))
    return tuple(notes)


def _mm(length: float) -> str:
    return f"{length * 1000:.1f} mm"
