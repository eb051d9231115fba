"""Setting an uneven base ring level: the ring alone, or the whole sphere with its symmetry.

``ring``
    Only the base hubs move: along their meridians, on the sphere, to the mean of their heights.
    The base hubs then lie on one circle. Always possible; the struts at the base get new lengths.
``whole``
    All hubs stay on the sphere and keep the symmetry of the seed, so few lengths are needed. Of
    all such shapes with a level base ring, the one whose hubs move least (sum of squares) from
    the point law. Not possible where the ring runs through hubs that symmetry holds at different
    heights, or where a face would turn over.
``none``
    The base stays uneven, and the shell says so.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.errors import InputError, ResultError
from strutwright.sentences import sentence
from strutwright.shape import topology
from strutwright.shape.subdivide import Net
from strutwright.shape.symmetric import Orbits, hub_rows, net_orbits, spread_out, tangents
from strutwright.values import Floats, HubPoints, Indices, StrutEnds

__all__ = ["LEVELS", "LEVEL_SPREAD", "check_level", "level_ring", "level_whole"]

LEVELS: Final = ("whole", "ring", "none")
LEVEL_SPREAD: Final = 1e-9
"""A base ring whose heights differ by less than this share of R is level."""
WHOLE_STEPS: Final = 40
"""Most steps to a level base; five to twenty are needed where there is a solution."""
WHOLE_LEVEL: Final = 1e-13
WHOLE_STILL: Final = 1e-9
"""Solved when the ring's spread and the step are below these shares of R: rounding, and a
thousandth of what can be sawn."""
SHORTENING: Final = 0.5
"""No strut may lose more than this share of its length for a level base: our choice, beyond it
the lengths part so far that the levelled ring alone is the better kit."""
VANISHED: Final = 1e-6
"""A strut shorter than this share of its length has both its hubs at one point."""
RANK: Final = 1e-9
"""Directions in which the ring's heights change by less than this share count as none."""


def level_ring(points: HubPoints, ring: Indices) -> HubPoints:
    """Return `points` (V, 3) on the unit sphere with the hubs `ring` at their mean height.

    The upright axis is z. Each ring hub slides along its meridian; no other hub moves.
    """
    moved = points.copy()
    height = float(points[ring, 2].mean())
    plan = points[ring, :2]
    outward = plan / np.linalg.norm(plan, axis=1, keepdims=True)
    moved[ring, :2] = outward * np.sqrt(1 - height**2)
    moved[ring, 2] = height
    return moved


def level_whole(net: Net, points: HubPoints, ring: Indices, top: Floats) -> HubPoints:
    """Return `points` (V, 3) on the unit sphere, moved least so that `ring` is level.

    The seed's symmetry is kept; `top` (3,) is the upright axis. Sequential quadratic programming
    on the free movements of the orbits; redundant conditions are dropped by their rank.

    Raises
    ------
    ResultError
        ``level-base-impossible``: symmetry leaves a spread, or a face would turn over.
    """
    orbits = net_orbits(net)
    start = np.einsum("vji,vj->vi", orbits.turns, points)[orbits.standing]
    places, spread = start, np.inf
    for _ in range(WHOLE_STEPS):
        free = tangents(orbits, places)
        step = _least_step(orbits, places, start, free, (ring, top))
        first = np.cumsum([0] + [f.shape[1] for f in free])
        moves = [f @ step[a:b] for f, a, b in zip(free, first[:-1], first[1:], strict=True)]
        places = places + np.array(moves)
        places /= np.linalg.norm(places, axis=1, keepdims=True)
        spread = float(np.ptp(spread_out(orbits, places)[ring] @ top))
        if spread < WHOLE_LEVEL and np.abs(step).max(initial=0.0) < WHOLE_STILL:
            break
    moved = spread_out(orbits, places)
    _check_whole(net, points, moved, spread)
    return moved


def _least_step(
    orbits: Orbits,
    places: HubPoints,
    start: HubPoints,
    free: list[Floats],
    heights_of: tuple[Indices, Floats],
) -> Floats:
    """Return the step (U,) to the least total movement with, to first order, a level ring.

    heights_of : the (B,) hubs of the ring and the (3,) upright axis
    """
    ring, top = heights_of
    heights = spread_out(orbits, places)[ring] @ top
    rows = np.einsum("d,ndu->nu", top, hub_rows(orbits, free, ring))
    rows, misfit = rows - rows.mean(axis=0), heights - heights.mean()
    count = np.sqrt(np.repeat(orbits.quantity, [f.shape[1] for f in free]))
    drift = [f.T @ (p - s) for f, p, s in zip(free, places, start, strict=True)]
    moved = count * np.concatenate([*drift, np.zeros(0)])
    scaled = rows / count
    if not scaled.size:
        return np.zeros(0)
    step = np.linalg.pinv(scaled, rcond=RANK) @ (scaled @ moved - misfit) - moved
    return np.asarray(step / count)


def _check_whole(net: Net, points: HubPoints, moved: HubPoints, spread: float) -> None:
    struts = topology.struts_of(net.faces)
    before, after = (_lengths(hubs, struts) for hubs in (points, moved))
    shortest = float((after / before).min())
    if spread > LEVEL_SPREAD:
        what = sentence("level-base-impossible.spread", spread=spread)
    elif shortest < VANISHED:
        what = sentence("level-base-impossible.meet")
    elif (np.linalg.det(moved[net.faces]) <= 0).any():
        what = sentence("level-base-impossible.over")
    elif shortest < 1 - SHORTENING:
        what = sentence("level-base-impossible.short", share=shortest, least=1 - SHORTENING)
    elif _inward(net, moved) > _inward(net, points):
        what = sentence("level-base-impossible.fold")
    else:
        return
    mend = 'set level_base = "ring", or cut the sphere elsewhere'
    raise ResultError("level-base-impossible", what, "shape.level_base", mend)


def _lengths(points: HubPoints, struts: StrutEnds) -> Floats:
    return np.asarray(np.linalg.norm(points[struts[:, 1]] - points[struts[:, 0]], axis=1))


def _inward(net: Net, points: HubPoints) -> int:
    """Return how many struts of the closed net have a neighbour's hub outside their face."""
    edges = topology.directed_edges(net.faces)
    far = np.concatenate([net.faces[:, 2], net.faces[:, 0], net.faces[:, 1]])
    n = len(points)
    order = np.argsort(edges @ [n, 1])
    partner = order[np.searchsorted((edges @ [n, 1])[order], edges[:, ::-1] @ [n, 1])]
    start = points[edges[:, 0]]
    sides = np.stack([points[hubs] - start for hubs in (edges[:, 1], far, far[partner])], axis=1)
    return int((np.linalg.det(sides) > RANK).sum())


def check_level(level: str) -> None:
    """Raise InputError ``shape-level-base`` unless `level` is one of `LEVELS`."""
    if level not in LEVELS:
        what = f'"{level}" is no way to level the base'
        raise InputError("shape-level-base", what, "shape.level_base", f"take one of {LEVELS}")
