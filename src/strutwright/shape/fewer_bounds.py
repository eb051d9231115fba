"""What a shell with fewer lengths must keep: folds, hubs that stand out, sizes, doors."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from strutwright.shape import fewer_model as fm
from strutwright.shape.fewer_model import Reduced
from strutwright.shape.fewer_solve import Bounds
from strutwright.shape.shell import Shell
from strutwright.values import Floats, Indices

__all__ = ["DEFICIT_SHARE", "FOLD_SHARE", "bounds_of", "is_flat"]

FOLD_SHARE: Final = 0.5
"""A firm fold keeps this share of the smallest fold at the start: our choice, as a shallow hub
loses stiffness with the square of its dip and a half is within what other loads already ask."""
DEFICIT_SHARE: Final = 0.5
"""An inner hub keeps this share of its angle deficit, so that none is flattened: our choice."""
FLAT_SHARE: Final = 0.1
"""A fold or an angle deficit below this share of the middle one is flat by design, as in the
straight strips of a barrel: it must not turn inwards, but there is nothing to keep."""
DOOR_ROLES: Final = ("jamb", "head")
"""Struts that must not get shorter, so that doors stay clear."""
NOTHING: Final = 1e-6
"""An angle below this (rad) is rounding."""
AT_EDGE: Final = 1e-6
"""A hub within this share of the size from the furthest one sets that size."""


def is_flat(angles: Floats) -> NDArray[np.bool_]:
    """Return which folds or angle deficits (n,) are flat by design, or turn inwards, at the start.

    The middle one is that of those that are there at all.
    """
    there = angles[angles > NOTHING]
    middle = float(np.median(there)) if len(there) else 0.0
    return np.asarray(angles <= max(FLAT_SHARE * middle, NOTHING))


def bounds_of(shell: Shell, model: Reduced, freedom: float | None, *, firm: bool) -> Bounds:
    """Return the bounds on a shape.

    With `firm` every fold keeps a share of the smallest one at the start; without, it need only
    not turn inwards. Each hub as a whole keeps a share of its angle deficit; one that has none by
    design, as on a barrel, keeps the folds of the struts that meet in it.
    """
    angles = fm.folds(model.start, model.hinges)
    fold_floor = np.minimum(angles, 0.0)
    stands = ~is_flat(angles)
    start = fm.deficits(model, model.start)
    if not firm:
        stands &= _at_flat_hubs(model, is_flat(start))
    if stands.any():
        fold_floor[stands] = FOLD_SHARE * angles[~is_flat(angles)].min()
    deficit_floor = np.where(is_flat(start), np.minimum(start, 0.0), DEFICIT_SHARE * start)
    rows, most = _sizes(shell, model, freedom)
    return Bounds(fold_floor, deficit_floor, rows, most)


def _at_flat_hubs(model: Reduced, flat: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Return which hinges (f,) end at an inner hub that is `flat` (h,)."""
    orbits = model.orbit_of[model.corners[flat[model.corner_hub], 0]]
    return np.asarray(np.isin(model.orbit_of[model.hinges[:, :2]], orbits).any(axis=1))


def _sizes(shell: Shell, model: Reduced, freedom: float | None) -> tuple[Floats, Floats]:
    """Return rows (b, n) and most (b,): width, length and rise within `freedom`, doors clear."""
    rows, most = [np.zeros((0, model.n_unknowns))], [np.zeros(0)]
    if freedom is not None:
        for hub, way, reach in _extremes(shell, model):
            row = _row(model, hub, way)
            rows.append(np.stack([row, -row]))
            most.append(np.full(2, freedom * reach))
    doors = np.isin(shell.role, DOOR_ROLES)
    for strut in np.flatnonzero(doors):
        # a length is convex in the hubs: held to first order, it is held
        i, j = shell.struts[strut]
        way = model.start[j] - model.start[i]
        way = way / np.linalg.norm(way)
        rows.append((_row(model, int(i), way) - _row(model, int(j), way))[None])
        most.append(np.zeros(1))
    return np.concatenate(rows), np.concatenate(most)


def _extremes(shell: Shell, model: Reduced) -> list[tuple[int, Floats, float]]:
    """Return hub, outward direction and reach (m) of one of each orbit that sets a size."""
    found: list[tuple[int, Floats, float]] = []
    points = model.start
    _, first = np.unique(model.orbit_of, return_index=True)
    near = AT_EDGE * model.size
    ways: list[tuple[Indices, Floats]] = []
    if shell.recipe.family == "dome":
        plan = points[shell.base] * [1.0, 1, 0]
        ways += [(shell.base[k : k + 1], p / np.linalg.norm(p)) for k, p in enumerate(plan)]
    else:
        for axis in ([1.0, 0, 0], [0, 1.0, 0]):
            reach = np.abs(points @ axis)
            for hub in np.flatnonzero(reach > reach.max() - near):
                ways.append((np.array([hub]), np.sign(points[hub] @ axis) * np.array(axis)))
    top = np.flatnonzero(points[:, 2] > points[:, 2].max() - near)
    ways += [(top[k : k + 1], np.array([0.0, 0, 1])) for k in range(len(top))]
    for hubs, way in ways:
        if hubs[0] in first:
            found.append((int(hubs[0]), way, float(points[hubs[0]] @ way)))
    return found


def _row(model: Reduced, hub: int, way: Floats) -> Floats:
    row = np.zeros(model.n_unknowns + 1)
    np.add.at(row, model.slots[hub], way @ model.spans[hub])
    return row[:-1]
