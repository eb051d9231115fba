"""Headroom: the height of the shell over a point of the floor, and where it is enough."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from strutwright.shape.shell import Shell
from strutwright.shape.surface import floor_area
from strutwright.shape.topology import boundary_rings
from strutwright.values import Floats, HubPoints

__all__ = ["contours", "headroom_area", "height_at"]

_Edge = tuple[int, int]

EDGE = 1e-12
"""A point this far outside a face, as a share of the face, still lies on it: rounding."""


def height_at(shell: Shell, points: Floats) -> Floats:
    """Return the (n,) heights above the base plane of the shell over `points` (n, 2), m.

    The highest face counts where several lie above one another; nan beside the shell.
    """
    a, b, c = (shell.hubs[shell.faces[:, k]] for k in range(3))
    double = _cross(b - a, c - a)
    lying = np.abs(double) > 0
    a, b, c, double = a[lying], b[lying], c[lying], double[lying]
    heights = np.full(len(points), np.nan)
    for k, point in enumerate(np.asarray(points, dtype=np.float64)):
        to_b = _cross(point - a[:, :2], c - a) / double
        to_c = _cross(b - a, point - a[:, :2]) / double
        inside = (to_b >= -EDGE) & (to_c >= -EDGE) & (to_b + to_c <= 1 + EDGE)
        if inside.any():
            level = a[:, 2] + to_b * (b[:, 2] - a[:, 2]) + to_c * (c[:, 2] - a[:, 2])
            heights[k] = level[inside].max()
    return heights


def contours(shell: Shell, height: float) -> tuple[Floats, ...]:
    """Return the outlines (n, 2) in plan of the level cut through the faces at `height`, m.

    Each runs anticlockwise seen from above, its first point not repeated. Where it meets an
    opening or an open end it goes straight to where the level is met again along the rim. Ordered
    by length, longest first.
    """
    above = shell.hubs[:, 2] >= height
    crossed = shell.faces[np.isin(above[shell.faces].sum(axis=1), (1, 2))]
    following, place = {}, {}
    for face in crossed.tolist():
        ends = {}
        for i, j in zip(face, face[1:] + face[:1], strict=True):
            if above[i] != above[j]:
                edge = (min(i, j), max(i, j))
                ends[bool(above[j])] = edge
                place[edge] = _between(shell.hubs[list(edge)], height)
        # faces run anticlockwise from outside: the way down comes first on the level outline
        following[ends[False]] = ends[True]
    following |= _across_openings(shell, above, following)
    lines = [np.array([place[edge] for edge in chain]) for chain in _chains(following)]
    return tuple(sorted(lines, key=len, reverse=True))


def headroom_area(shell: Shell, height: float) -> float:
    """Return the floor area over which the shell stands at least `height` above the base, m².

    The level cut at `height`, as far as it lies over the base polygon; exact for flat faces,
    straight across openings and open ends. The whole floor at 0.
    """
    if height <= 0:
        return floor_area(shell)
    base = shell.hubs[shell.base, :2]
    middle = base.mean(axis=0)
    total = 0.0
    for outline in contours(shell, height):
        for start, end in zip(base, np.roll(base, -1, axis=0), strict=True):
            corner = np.array([middle, start, end])
            double = _cross(start - middle, end - middle)
            if double < 0:
                corner = corner[::-1]
            part = _area(_clipped(outline, corner))
            total += part if double > 0 else -part
    return total


def _cross(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])


def _area(polygon: Floats) -> float:
    if not len(polygon):
        return 0.0
    return float(_cross(polygon, np.roll(polygon, -1, axis=0)).sum() / 2)


def _between(ends: HubPoints, height: float) -> Floats:
    share = (height - ends[0, 2]) / (ends[1, 2] - ends[0, 2])
    return np.asarray(ends[0, :2] + share * (ends[1, :2] - ends[0, :2]))


def _across_openings(
    shell: Shell, above: NDArray[np.bool_], following: Mapping[_Edge, _Edge]
) -> dict[_Edge, _Edge]:
    """Return, for each run of edges that ends at a rim, the edge where the next one starts.

    From its end the rim is followed over the hubs above the level until it dips under it again.
    """
    beside: dict[int, tuple[int, int]] = {}
    for ring in boundary_rings(shell.faces):
        hubs = ring.tolist()
        for before, hub, after in zip(hubs[-1:] + hubs, hubs, hubs[1:] + hubs[:1], strict=False):
            beside[hub] = (before, after)
    joined: dict[_Edge, _Edge] = {}
    for edge in set(following.values()) - set(following):
        below, hub = sorted(edge, key=lambda h: bool(above[h]))
        while above[hub]:
            below, hub = hub, next(h for h in beside[hub] if h != below)
        joined[edge] = (min(below, hub), max(below, hub))
    return joined


def _chains(following: dict[_Edge, _Edge]) -> list[list[_Edge]]:
    """Return the closed runs of edges that follow one another."""
    left = dict(following)
    chains = []
    while left:
        edge = min(left)
        chain = []
        while edge in left:
            chain.append(edge)
            edge = left.pop(edge)
        chains.append(chain)
    return chains


def _clipped(polygon: Floats, corners: Floats) -> Floats:
    """Return `polygon` (n, 2) as far as it lies in the anticlockwise triangle `corners` (3, 2).

    Source: Sutherland and Hodgman, Reentrant polygon clipping (1974), recalled.
    """
    for start, end in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        if not len(polygon):
            break
        side = _cross(end - start, polygon - start)
        following, next_side = np.roll(polygon, -1, axis=0), np.roll(side, -1)
        kept: list[Floats] = []
        for point, there, s, t in zip(polygon, following, side, next_side, strict=True):
            if s >= 0:
                kept.append(point)
            if (s >= 0) != (t >= 0):
                kept.append(point + s / (s - t) * (there - point))
        polygon = np.array(kept).reshape(-1, 2)
    return polygon
