"""Subdivision of a seed by (b, c): which hubs there are and how they are joined, no positions.

A seed face is laid on the triangular lattice with corners 0, (b, c) and (-c, b + c) in the basis
of two unit steps 60 degrees apart. Every lattice point of it has three whole weights that sum to
T = b² + b c + c²: its shares of the three corners. A point has the same weights from every face
that it lies on, so the (corner, weight) pairs name it. Small triangles that straddle a seed edge
are unfolded into the neighbour: with weight w < 0 on corner A, the weights on the corner D across
the edge are -w, and w less on each end of the edge than they were.
Source: Coxeter, Virus macromolecules and geodesic domes (1971), recalled; the weights are ours.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.shape.seeds import Seed, across_edges
from strutwright.values import ArrayValue, Faces, Indices

__all__ = ["HIGHEST_FREQUENCY", "Net", "division_class", "subdivide", "triangulation_number"]

HIGHEST_FREQUENCY: Final = 24
"""Largest b + c: our bound; beyond it a kit has over 2,800 hubs in a half icosahedron."""


@dataclass(frozen=True, eq=False)
class Net(ArrayValue):
    """A subdivided closed seed: connectivity, and each hub's place on its seed face.

    Parameters
    ----------
    seed : Seed
    division : (int, int)
        b and c.
    corners : (V, 3) int array
        Seed corners of the face that the hub lies on, anticlockwise seen from outside.
    weights : (V, 3) int array
        Shares of those corners; they sum to T.
    faces : (F, 3) int array
        Hubs of each small face, anticlockwise seen from outside.
    """

    seed: Seed
    division: tuple[int, int]
    corners: Indices
    weights: Indices
    faces: Faces


def triangulation_number(b: int, c: int) -> int:
    """Return T = b² + b c + c²: small faces on one seed face."""
    return b * b + b * c + c * c


def division_class(b: int, c: int) -> str:
    """Return the class of a division: ``I`` for (b, 0), ``II`` for (b, b), else ``III``."""
    if 0 in (b, c):
        return "I"
    return "II" if b == c else "III"


def subdivide(seed: Seed, division: tuple[int, int]) -> Net:
    """Return the net of `seed` divided by `division`.

    (b, c) and (c, b) are mirror images of each other. A closed net has V = p T + 2 hubs, where
    p = 10, 4, 2 for the icosahedron, octahedron, tetrahedron.

    Raises
    ------
    InputError
        ``shape-division``: a part is negative, or b + c is not from 1 to 24.
    """
    b, c = _checked(division)
    points, triangles = _lattice(b, c)
    n_points, n_seed = len(points), len(seed.faces)
    base = triangulation_number(b, c) + 1
    corners = np.repeat(seed.faces, n_points, axis=0)
    weights = np.tile(points, (n_seed, 1))
    names, first = np.unique(_names(corners, weights, base), return_index=True)
    corner_names = _names(*_unfolded(seed, triangles), base)
    faces = np.searchsorted(names, corner_names).reshape(-1, 3)
    _, keep = np.unique(np.sort(faces, axis=1), axis=0, return_index=True)
    return Net(seed, (b, c), corners[first], weights[first], faces[np.sort(keep)])


def _checked(division: tuple[int, int]) -> tuple[int, int]:
    b, c = division
    if isinstance(b, bool) or int(b) != b or int(c) != c or b < 0 or c < 0:
        what = f"division {[b, c]} is not two whole numbers from 0 up"
    elif not 1 <= b + c <= HIGHEST_FREQUENCY:
        what = f"division {[b, c]} has frequency {b + c}, outside 1 to {HIGHEST_FREQUENCY}"
    else:
        return int(b), int(c)
    raise InputError("shape-division", what, "shape.division", "such as [2, 0], [2, 2] or [3, 1]")


def _lattice(b: int, c: int) -> tuple[Indices, Indices]:
    """Return weights (n, 3) of the points on a seed face and (t, 3, 3) of its small triangles."""
    i, j = (a.ravel() for a in np.mgrid[-c - 1 : b + 2, -1 : b + c + 2])
    # anticlockwise corners of the triangle above and the triangle below each lattice step
    steps = np.array([[[0, 0], [1, 0], [0, 1]], [[1, 0], [1, 1], [0, 1]]])
    triangles = (np.stack([i, j], axis=1)[:, None, None] + steps).reshape(-1, 3, 2)
    weights = _weights(triangles, b, c)
    inside = (weights.sum(axis=1) >= 0).all(axis=1)
    points = _weights(np.stack([i, j], axis=1), b, c)
    return points[(points >= 0).all(axis=1)], weights[inside]


def _weights(steps: Indices, b: int, c: int) -> Indices:
    i, j = steps[..., 0], steps[..., 1]
    second, third = i * (b + c) + j * c, b * j - c * i
    total = triangulation_number(b, c)
    return np.stack([total - second - third, second, third], axis=-1)


def _unfolded(seed: Seed, triangles: Indices) -> tuple[Indices, Indices]:
    """Return corners and weights (Q t 3, 3) of all triangles' hubs, none negative."""
    beyond = across_edges(seed.faces)
    across = np.array(
        [[beyond[b, c, a], beyond[a, c, b], beyond[a, b, c]] for a, b, c in seed.faces.tolist()]
    )
    weights = np.broadcast_to(triangles, (len(seed.faces), *triangles.shape)).copy()
    corners = np.broadcast_to(seed.faces[:, None, None, :], weights.shape).copy()
    for k in range(3):
        outside = weights[..., k] < 0
        lack = np.where(outside, weights[..., k], 0)
        weights += lack[..., None]
        weights[..., k] -= 3 * lack
        corners[..., k] = np.where(outside, across[:, None, None, k], corners[..., k])
    return corners.reshape(-1, 3), weights.reshape(-1, 3)


def _names(corners: Indices, weights: Indices, base: int) -> Indices:
    """Return one whole number for each point, the same from every seed face that it lies on."""
    n = int(corners.max()) + 1
    pairs = np.sort(np.where(weights > 0, corners * base + weights, 0), axis=1)
    width = n * base
    return np.asarray((pairs[:, 0] * width + pairs[:, 1]) * width + pairs[:, 2])
