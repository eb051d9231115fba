"""Hubs of a barrel held near its surface when they move for fewer lengths.

A hub may slide along the surface and the whole may get a little longer: neither shows. A hub that
leaves the surface does: the barrel gets a bump and the cover a crease.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.shape import fewer_model as fm
from strutwright.shape import fewer_solve as fs
from strutwright.shape.fewer_least import Limits, least_largest
from strutwright.shape.fewer_model import Reduced
from strutwright.shape.fewer_solve import Bounds, Fit
from strutwright.shape.measure import hub_normals
from strutwright.shape.shell import Shell
from strutwright.values import ArrayValue, Floats, HubPoints, Indices

__all__ = ["Surface", "hold_surface", "surface_of"]

BARRELS: Final = ("long-dome", "vault")
"""Families whose hubs lie on a barrel."""
OFF_SHARE: Final = 0.005
"""Hubs stay within this share of the radius from the surface where that can be had: our choice,
about the width of a hub."""
MARGIN: Final = 0.95
"""Share of that used in a step, to leave room for what is beyond second order."""
STRETCH_WEIGHT: Final = 0.1
"""A change of the barrel's length weighs this much of a hub's movement: our choice."""
STEPS: Final = 8
STRAIGHT: Final = 0.05
"""A normal leaning along the length by less (cosine) is that of the straight barrel."""


@dataclass(frozen=True, eq=False)
class Surface(ArrayValue):
    """The surface through the hubs at the start.

    Parameters
    ----------
    hubs : (o,) int array
        One hub of each orbit.
    out : (o, 3) array
        Normals of the surface there.
    normals : (o, n) array
        Movement out of the surface of one hub of each orbit, by q.
    stretch : (o,) array
        The same for a barrel that gets longer by twice the unit.
    radius : float, m
        Of the barrel and its ends.
    """

    hubs: Indices
    out: HubPoints
    normals: Floats
    stretch: Floats
    radius: float

    @property
    def most(self) -> float:
        """Furthest that a hub may be from the surface, m."""
        return OFF_SHARE * self.radius

    def off(self, model: Reduced, q: Floats, longer: float) -> Floats:
        """Return how far outside the surface the hubs are (o,), m, to second order."""
        moved = (fm.places(model, q) - model.start)[self.hubs]
        on_end = np.abs(self.out[:, 0]) > STRAIGHT
        moved[on_end, 0] -= np.sign(model.start[self.hubs[on_end], 0]) * longer
        outward = np.einsum("oi,oi->o", moved, self.out)
        aside = moved - outward[:, None] * self.out
        aside[~on_end, 0] = 0.0
        return np.asarray(outward + np.einsum("oi,oi->o", aside, aside) / (2 * self.radius))


def surface_of(shell: Shell, model: Reduced) -> Surface | None:
    """Return the surface that the hubs of a barrel keep to; None for other shells."""
    if shell.recipe.family not in BARRELS or shell.recipe.radius is None:
        return None
    _, first = np.unique(model.orbit_of, return_index=True)
    hubs = first[np.isin(first, shell.faces)]
    out = hub_normals(shell)[hubs]
    normals = np.zeros((len(hubs), model.n_unknowns + 1))
    rows = np.arange(len(hubs))[:, None]
    along = np.einsum("hi,hij->hj", out, model.spans[hubs])
    np.add.at(normals, (rows, model.slots[hubs]), along)
    stretch = out[:, 0] * np.sign(model.start[hubs, 0])
    return Surface(hubs, out, normals[:, :-1], stretch, shell.recipe.radius)


def hold_surface(model: Reduced, bounds: Bounds, found: Fit, surface: Surface) -> Fit:
    """Return `found` with hubs brought near the surface, or as it is where they cannot be."""
    now, longer = found, 0.0
    if np.abs(surface.off(model, found.q, 0.0)).max() <= surface.most:
        return found
    k = len(found.class_lengths)
    columns = np.eye(k)[found.class_of]
    owner = np.append(model.owner, model.owner.max() + 1)
    for _ in range(STEPS):
        answer = fs.respond(model, now.q, now.class_of, now.class_lengths, columns)
        reached = now.q + answer.offset
        rows = np.zeros((model.n_unknowns + 1, k + 1))
        rows[:-1, :-1], rows[-1, -1] = answer.by_length, STRETCH_WEIGHT
        limits = _limits(model, bounds, now, (answer, longer), surface)
        x = least_largest(rows, np.append(reached, STRETCH_WEIGHT * longer), owner, limits)
        if x is None:
            return found
        q, class_lengths, largest = fs.stepped(model, now.q, now.class_lengths, answer, x[:-1])
        now, longer = fs.finished(model, bounds, now.class_of, class_lengths, q), longer + x[-1]
        if largest < fs.SETTLED * model.size:
            break
    off = np.abs(surface.off(model, now.q, longer)).max()
    return now if fs.is_kept(model, now) and off <= surface.most else found


def _limits(
    model: Reduced,
    bounds: Bounds,
    now: Fit,
    at: tuple[fs.Response, float],
    surface: Surface,
) -> Limits:
    """Return the bounds, and the surface to both sides, as limits on class lengths and stretch."""
    answer, longer = at
    kept = fs.limits_of(model, bounds, now.q, answer, hard=True)
    off = surface.off(model, now.q, longer) + surface.normals @ answer.offset
    slopes = np.column_stack([surface.normals @ answer.by_length, -surface.stretch])
    most = MARGIN * surface.most
    return Limits(
        np.vstack([np.pad(kept.rows, ((0, 0), (0, 1))), slopes, -slopes]),
        np.concatenate([kept.least, -most - off, off - most]),
        None,
    )
