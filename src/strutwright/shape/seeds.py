"""The polyhedra that are subdivided, on the unit sphere, and the poses they are set up in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.values import ArrayValue, Faces, Floats, HubPoints

__all__ = ["POSES", "SEEDS", "Seed", "across_edges", "make_seed", "seed_mirrors", "top_of"]

SEEDS: Final = ("icosahedron", "octahedron", "tetrahedron")
POSES: Final = ("vertex", "edge", "face")
SAME_POINT: Final = 1e-9
"""Two points on the unit sphere closer than this are one: our choice, far above rounding."""


@dataclass(frozen=True, eq=False)
class Seed(ArrayValue):
    """A polyhedron of equilateral triangles on the unit sphere.

    Parameters
    ----------
    name : str
        One of `SEEDS`.
    points : (P, 3) array
        Corners, on the unit sphere.
    faces : (Q, 3) int array
        Corners of each face, anticlockwise seen from outside.
    """

    name: str
    points: HubPoints
    faces: Faces


def make_seed(name: str) -> Seed:
    """Return the seed called `name`.

    Raises
    ------
    InputError
        ``shape-seed``: no seed has that name.
    """
    golden = (1 + np.sqrt(5)) / 2
    if name == "icosahedron":
        rows = [(0, s, t * golden) for s in (1, -1) for t in (1, -1)]
        corners = [np.roll(row, shift) for shift in range(3) for row in rows]
    elif name == "octahedron":
        corners = [sign * np.eye(3)[axis] for axis in range(3) for sign in (1, -1)]
    elif name == "tetrahedron":
        corners = [np.array(row) for row in ((1, 1, 1), (1, -1, -1), (-1, 1, -1), (-1, -1, 1))]
    else:
        raise InputError(
            "shape-seed", f'there is no seed "{name}"', "shape.seed", f"take one of {SEEDS}"
        )
    points = np.array(corners, dtype=np.float64)
    points /= np.linalg.norm(points, axis=1, keepdims=True)
    return Seed(name, points, _hull(points))


def top_of(seed: Seed, pose: str) -> Floats:
    """Return the (3,) unit vector that points up when `seed` stands in `pose`.

    Raises
    ------
    InputError
        ``shape-pose``: no pose has that name.
    """
    count = {"vertex": 1, "edge": 2, "face": 3}.get(pose)
    if count is None:
        raise InputError(
            "shape-pose", f'there is no pose "{pose}"', "shape.pose", f"take one of {POSES}"
        )
    top = seed.points[seed.faces[0, :count]].sum(axis=0)
    return np.asarray(top / np.linalg.norm(top), dtype=np.float64)


def seed_mirrors(seed: Seed, axis: Floats, through: HubPoints) -> np.ndarray:
    """Return for each point of `through` (n, 3) whether the seed is its own mirror image there.

    The mirror is the plane through the centre, `axis` (3,) and the point; a point on the axis
    gives False.
    """
    normals = np.cross(axis, through)
    lengths = np.linalg.norm(normals, axis=1)
    normals = normals / np.where(lengths > SAME_POINT, lengths, 1)[:, None]
    offsets = normals @ seed.points.T
    images = seed.points[None] - 2 * offsets[..., None] * normals[:, None, :]
    gaps = np.linalg.norm(images[:, :, None, :] - seed.points[None, None], axis=3).min(axis=2)
    return np.asarray((gaps.max(axis=1) < SAME_POINT) & (lengths > SAME_POINT))


def across_edges(faces: Faces) -> dict[tuple[int, int, int], int]:
    """Return the corner beyond each edge: ``[i, j, k]`` is the one across edge i j from k."""
    corner = {}
    for face in faces.tolist():
        for k in range(3):
            corner[face[k], face[(k + 1) % 3]] = face[(k + 2) % 3]
    beyond = {}
    for (i, j), k in corner.items():
        beyond[i, j, k] = beyond[j, i, k] = corner[j, i]
    return beyond


def _hull(points: HubPoints) -> Faces:
    """Return the triangles of nearest neighbours, each wound outwards and in ascending order."""
    gaps = np.linalg.norm(points[:, None] - points[None], axis=2)
    side = np.sort(gaps[0])[1]
    near = np.abs(gaps - side) < SAME_POINT
    n = len(points)
    rows = []
    for i in range(n):
        for j in range(i + 1, n):
            for k in range(j + 1, n):
                if near[i, j] and near[j, k] and near[i, k]:
                    outward = np.linalg.det(points[[i, j, k]]) > 0
                    rows.append((i, j, k) if outward else (i, k, j))
    return np.array(rows, dtype=np.int64)
