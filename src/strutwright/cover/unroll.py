"""Faces laid flat one beside the other, as they are joined in the shell."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from strutwright.cover.surface import Cloth
from strutwright.values import Floats

__all__ = ["Unrolled", "flat_face", "hinged", "hull", "least_width", "polygon_area", "turned"]

Unrolled = dict[int, Floats]
"""Where the corners of each face lie: the first three rows; any points carried along after them."""


def flat_face(cloth: Cloth, face: int) -> Floats:
    """Return the corners (3, 2) of a face laid flat, its first edge along +x, m."""
    a, b, c = cloth.lengths[face]  # edges 01, 12, 20
    x = (a * a + c * c - b * b) / (2 * a)
    return np.array([[0.0, 0.0], [a, 0.0], [x, np.sqrt(max(c * c - x * x, 0.0))]])


def hinged(cloth: Cloth, laid: Mapping[int, Floats], flat: Floats, face: int, edge: int) -> Floats:
    """Return `flat` (n, 2), the points of `face` laid anyhow, turned about its `edge` to the rest.

    The face across that edge lies in the plane already.
    """
    other = int(cloth.across[face, edge])
    first, second = cloth.faces[face, edge], cloth.faces[face, (edge + 1) % 3]
    hubs = cloth.faces[other].tolist()
    start, end = laid[other][hubs.index(first)], laid[other][hubs.index(second)]
    along = flat[(edge + 1) % 3] - flat[edge]
    goal = end - start
    turn = np.arctan2(goal[1], goal[0]) - np.arctan2(along[1], along[0])
    return np.asarray((flat - flat[edge]) @ _rotation(turn).T + start)


def _rotation(angle: float) -> Floats:
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, -s], [s, c]])


def turned(points: Floats, angle: float) -> Floats:
    """Return `points` (..., 2) turned anticlockwise by `angle`, rad, about the origin."""
    return np.asarray(points @ _rotation(angle).T)


def hull(points: Floats) -> Floats:
    """Return the corners of the convex hull of `points` (n, 2), anticlockwise.

    Source: Andrew, Another efficient algorithm for convex hulls in two dimensions (1979), recalled.
    """
    ordered = sorted({(x, y) for x, y in points.tolist()})
    ring: list[tuple[float, float]] = []
    for run in (ordered, ordered[::-1]):
        start = len(ring)
        for x, y in run:
            while len(ring) >= start + 2:
                (ax, ay), (bx, by) = ring[-2], ring[-1]
                if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0:
                    break
                ring.pop()
            ring.append((x, y))
        ring.pop()
    return np.array(ring)


def least_width(points: Floats) -> tuple[float, float]:
    """Return the least width of `points` (n, 2), m, and the direction it is measured in, rad.

    It lies square to an edge of their hull (rotating calipers).
    """
    ring = hull(points)
    step = ring[np.arange(1, len(ring) + 1) % len(ring)] - ring
    angles = np.arctan2(step[:, 1], step[:, 0]) + np.pi / 2
    reach = ring @ np.array([np.cos(angles), np.sin(angles)])
    widths = reach.max(axis=0) - reach.min(axis=0)
    best = int(np.argmin(np.rint(widths * 1e9)))
    return float(widths[best]), float(angles[best])


def polygon_area(polygon: Floats) -> float:
    """Return the area of `polygon` (n, 2), m2; below 0 when it runs clockwise."""
    x, y = polygon.T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2)
