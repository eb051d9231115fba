"""What a shell with fewer lengths must keep: folds, hubs that stand out, sizes, doors."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.shape import fewer_model as fm
from strutwright.shape.fewer_model import Reduced
from strutwright.shape.fewer_solve import Bounds
from strutwright.shape.shell import Shell
from strutwright.values import Floats, Indices

__all__ = ["DEFICIT_SHARE", "FOLD_SHARE", "bounds_of", "smallest_fold"]

FOLD_SHARE: Final = 0.5
"""A firm fold keeps this share of the smallest fold at the start: our choice, as a shallow hub
loses stiffness with the square of its dip and a half is within what other loads already ask."""
DEFICIT_SHARE: Final = 0.5
"""An inner hub keeps this share of its angle deficit, so that none is flattened: our choice."""
FLAT: Final = np.radians(0.25)
"""A fold below this at the start is flat by design (a strip of a barrel), not a fold to keep."""
DOOR_ROLES: Final = ("jamb", "head")
"""Struts that must not get shorter, so that doors stay clear."""
AT_EDGE: Final = 1e-6
"""A hub within this share of the size from the furthest one sets that size."""


def smallest_fold(angles: Floats) -> float:
    """Return the smallest of the folds that are not flat by design, rad; 0 where all are."""
    return float(angles[angles > FLAT].min(initial=np.inf)) if (angles > FLAT).any() else 0.0


def bounds_of(shell: Shell, model: Reduced, freedom: float | None, *, firm: bool) -> Bounds:
    """Return the bounds on a shape.

    With `firm` every fold keeps a share of the smallest one at the start; without, it need only
    not turn inwards, while each hub as a whole still keeps a share of its angle deficit.
    """
    angles = fm.folds(model.start, model.hinges)
    wanted = FOLD_SHARE * smallest_fold(angles) if firm else 0.0
    alone = np.minimum(wanted, np.where(angles > FLAT, angles, np.minimum(angles, 0.0)))
    start = fm.deficits(model, model.start)
    kept = np.minimum(DEFICIT_SHARE * start, start)
    rows, most = _sizes(shell, model, freedom)
    return Bounds(alone, kept, rows, most)


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
