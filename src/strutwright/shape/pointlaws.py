"""Where the hubs of a subdivided seed lie on the sphere: the point laws.

``flat``
    Equal parts of the flat seed face, pushed out to the sphere along the radius (for class I also
    known as method 1).
``arc``
    Each edge of the seed's triangular grid is divided into equal arcs; points of two edges with
    the same share are joined by great circles, parallel to no edge but one family to each of the
    three. A hub lies where three of them nearly meet: at the three crossings of two, which are
    added up and pushed out to the sphere. Hubs on a seed edge lie on its equal arcs. For classes
    II and III the shares are those of the hub's weights, so that class I is the usual grid.
``even``
    Our own: the hubs move on the sphere, the symmetry of the seed kept, until the variance of the
    logarithms of all strut lengths is least. It starts from ``arc`` and never folds a face.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.shape import topology
from strutwright.shape.subdivide import Net, triangulation_number
from strutwright.shape.symmetric import Orbits, hub_rows, net_orbits, spread_out, tangents
from strutwright.values import Floats, HubPoints, Indices

__all__ = ["POINT_LAWS", "arc_points", "even_points", "flat_points", "spread_points", "unit"]

POINT_LAWS: Final = ("flat", "arc", "even")
EVEN_STEPS: Final = 200
"""Most steps towards even lengths; each is a small dense solve. About 20 are needed."""
EVEN_CLOSE: Final = 1e-12
"""Even lengths are reached when no hub would move farther, on the unit sphere: rounding."""


def unit(points: Floats) -> Floats:
    """Return `points` (..., 3) pushed along their radius to the unit sphere."""
    return np.asarray(points / np.linalg.norm(points, axis=-1, keepdims=True))


def spread_points(net: Net, law: str) -> HubPoints:
    """Return the (V, 3) positions of the hubs of `net` on the unit sphere under `law`.

    Raises
    ------
    InputError
        ``shape-point-law``: no law has that name.
    """
    laws = {"flat": flat_points, "arc": arc_points, "even": even_points}
    if law not in laws:
        raise InputError(
            "shape-point-law",
            f'there is no point law "{law}"',
            "shape.point_law",
            f"take one of {POINT_LAWS}",
        )
    return laws[law](net)


def flat_points(net: Net) -> HubPoints:
    """Return the (V, 3) hubs at equal parts of the flat seed faces, pushed out to the sphere."""
    corners = net.seed.points[net.corners]
    return unit(np.einsum("vk,vkd->vd", net.weights.astype(np.float64), corners))


def arc_points(net: Net) -> HubPoints:
    """Return the (V, 3) hubs where great circles between equal arcs of the seed edges meet."""
    corners = net.seed.points[net.corners]
    share = net.weights / triangulation_number(*net.division)
    circles = np.empty_like(corners)
    for k in range(3):
        apex, left, right = (corners[:, (k + j) % 3] for j in range(3))
        # all points with share s of the apex: from s on one edge to s on the other
        start, end = _on_arc(left, apex, share[:, k]), _on_arc(right, apex, share[:, k])
        circles[:, k] = np.cross(start, end)
    near = flat_points(net)
    total = np.zeros_like(near)
    inner = (net.weights > 0).all(axis=1)
    for k in range(3):
        crossing = unit(np.cross(circles[inner, k], circles[inner, (k + 1) % 3]))
        side = np.sign(np.einsum("vd,vd->v", crossing, near[inner]))
        total[inner] += side[:, None] * crossing
    rim = np.flatnonzero(~inner)
    order = np.argsort(-net.weights[rim], axis=1, kind="stable")
    ends = np.take_along_axis(net.corners[rim], order, axis=1)
    first, second = net.seed.points[ends[:, 0]], net.seed.points[ends[:, 1]]
    largest = np.take_along_axis(share[rim], order, axis=1)[:, 0]
    total[rim] = _on_arc(second, first, largest)
    return unit(total)


def _on_arc(start: HubPoints, end: HubPoints, share: Floats) -> HubPoints:
    """Return the points at `share` of the arcs from `start` to `end` on the unit sphere."""
    angle = np.arctan2(
        np.linalg.norm(np.cross(start, end), axis=1), np.einsum("vd,vd->v", start, end)
    )
    parts = np.sin((1 - share) * angle)[:, None] * start + np.sin(share * angle)[:, None] * end
    return unit(parts)


def even_points(net: Net) -> HubPoints:
    """Return the (V, 3) hubs for which the strut lengths are as alike as they can be.

    Least variance of log length over all struts of the sphere, by Gauss-Newton with a damping
    that grows when a step does not help; same input, same bytes.
    """
    orbits = net_orbits(net)
    ends, share = _standing_struts(net, orbits)
    places = np.einsum("vji,vj->vi", orbits.turns, arc_points(net))[orbits.standing]
    damping, residual = 1e-9, _unevenness(spread_out(orbits, places), ends, share)
    for _ in range(EVEN_STEPS):
        free = tangents(orbits, places)
        slope = _slope(orbits, places, free, ends)
        slope = share[:, None] * (slope - (share**2 @ slope) / (share**2).sum())
        normal, pull = slope.T @ slope, -slope.T @ residual
        damped = normal + damping * np.trace(normal) * np.eye(len(normal))
        step = np.linalg.solve(damped, pull) if len(pull) else pull
        if not len(step) or np.abs(step).max() < EVEN_CLOSE:
            break
        tried = _moved(places, free, step)
        found = _unevenness(spread_out(orbits, tried), ends, share)
        folded = (np.linalg.det(spread_out(orbits, tried)[net.faces]) <= 0).any()
        if folded or found @ found > residual @ residual:
            damping *= 10
            if damping > 1:
                break
            continue
        places, residual, damping = tried, found, damping / 3
    return unit(spread_out(orbits, places))


def _standing_struts(net: Net, orbits: Orbits) -> tuple[Indices, Floats]:
    """Return the struts (n, 2) at the standing hubs and the square roots of what they count for.

    A strut counts half at each of its hubs, and a standing hub for all of its orbit.
    """
    both = topology.directed_edges(net.faces)
    at = np.flatnonzero(np.isin(both[:, 0], orbits.standing))
    ends = both[at]
    return ends, np.sqrt(orbits.quantity[orbits.orbit[ends[:, 0]]] / 2)


def _unevenness(points: HubPoints, ends: Indices, share: Floats) -> Floats:
    log = np.log(np.linalg.norm(points[ends[:, 1]] - points[ends[:, 0]], axis=1))
    return np.asarray(share * (log - (share**2 @ log) / (share**2).sum()))


def _slope(orbits: Orbits, places: HubPoints, free: list[Floats], ends: Indices) -> Floats:
    """Return (n, U): change of log length of the struts `ends` for each free movement."""
    points = spread_out(orbits, places)
    along = points[ends[:, 1]] - points[ends[:, 0]]
    along /= np.einsum("nd,nd->n", along, along)[:, None]
    relative = hub_rows(orbits, free, ends[:, 1]) - hub_rows(orbits, free, ends[:, 0])
    return np.asarray(np.einsum("nd,ndu->nu", along, relative))


def _moved(places: HubPoints, free: list[Floats], step: Floats) -> HubPoints:
    first = np.cumsum([0] + [f.shape[1] for f in free])
    shift = [f @ step[a:b] for f, a, b in zip(free, first[:-1], first[1:], strict=True)]
    return unit(places + np.array(shift))
