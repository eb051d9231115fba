"""Faces of a shell: areas, angles, normals, angle deficits; floor, cover, volume and width."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Final

import numpy as np

from strutwright.shape import topology
from strutwright.shape.shell import Shell
from strutwright.values import Floats, HubPoints, Indices

__all__ = [
    "ROUND",
    "angle_deficits",
    "cover_area",
    "face_angles",
    "face_areas",
    "face_normals",
    "floor_area",
    "is_round",
    "volume",
    "width",
]

ROUND: Final = 0.02
"""Base hubs whose distances from the axis differ by at most this share lie on a circle: our
choice, some times what an old kit is measured to."""


def _double_areas(shell: Shell) -> HubPoints:
    a, b, c = (shell.hubs[shell.faces[:, k]] for k in range(3))
    return np.asarray(np.cross(b - a, c - a))


def face_normals(shell: Shell) -> HubPoints:
    """Return the (F, 3) outward unit normals of the faces."""
    double = _double_areas(shell)
    return np.asarray(double / np.linalg.norm(double, axis=1, keepdims=True))


def face_areas(shell: Shell) -> Floats:
    """Return the (F,) areas of the faces, m²."""
    return np.asarray(np.linalg.norm(_double_areas(shell), axis=1) / 2)


def face_angles(shell: Shell) -> Floats:
    """Return the (F, 3) angles of each face at its three hubs, rad."""
    corners = shell.hubs[shell.faces]
    forth = np.roll(corners, -1, axis=1) - corners
    back = np.roll(corners, 1, axis=1) - corners
    sine = np.linalg.norm(np.cross(forth, back), axis=2)
    return np.asarray(np.arctan2(sine, np.einsum("fkd,fkd->fk", forth, back)))


def angle_deficits(shell: Shell) -> Floats:
    """Return the (H,) angles missing from a flat surface at each hub, rad.

    Inner hubs: 2 pi less the sum of the face angles. Hubs on a rim: pi less that sum. For a
    shell with one rim they sum to 2 pi (Gauss-Bonnet). A hub without faces has 0.
    """
    n = len(shell.hubs)
    total = np.zeros(n)
    np.add.at(total, shell.faces, face_angles(shell))
    full = np.zeros(n)
    full[shell.faces] = 2 * np.pi
    for ring in topology.boundary_rings(shell.faces):
        full[ring] = np.pi
    return np.asarray(full - total)


def cover_area(shell: Shell) -> float:
    """Return the area of all faces, m²."""
    return float(face_areas(shell).sum())


def floor_area(shell: Shell) -> float:
    """Return the area of the base polygon in plan, hub centre to hub centre, m²."""
    x, y = shell.hubs[shell.base, 0], shell.hubs[shell.base, 1]
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2)


def volume(shell: Shell) -> float:
    """Return the volume between the faces and the base, openings and open ends closed, m³.

    The base is the flat polygon of the base hubs; where they do not lie in a plane it is the fan
    of triangles from their mean point. An opening is closed by such a fan over its rim, and over
    the ground between its feet: exact where it is flat.
    """
    base = shell.hubs[shell.base]
    lids = [shell.hubs[rim[::-1]] for rim in _open_rims(shell)]
    over = np.concatenate([shell.hubs[shell.faces], *(_fan(lid) for lid in lids)])
    return _under(over) - _under(_fan(base))


def _open_rims(shell: Shell) -> Iterator[Indices]:
    """Yield the hubs round each opening and open end, as the faces run along them."""
    for ring in topology.boundary_rings(shell.faces):
        feet = np.flatnonzero(np.isin(ring, shell.base))
        if not len(feet):
            yield ring
            continue
        turned = np.roll(ring, -feet[0])
        stops = np.append(np.flatnonzero(np.isin(turned, shell.base)), len(ring))
        around = np.append(turned, turned[0])
        for start, stop in itertools.pairwise(stops.tolist()):
            if stop - start > 1:
                yield around[start : stop + 1]


def _fan(ring: HubPoints) -> Floats:
    """Return the triangles (n, 3, 3) from the mean of `ring` (n, 3) to its edges."""
    middle = np.broadcast_to(ring.mean(axis=0), ring.shape)
    return np.stack([middle, ring, np.roll(ring, -1, axis=0)], axis=1)


def _under(triangles: Floats) -> float:
    """Return the volume between `triangles` (n, 3, 3) and z = 0, below 0 for those facing down."""
    a, b, c = (triangles[:, k, :2] for k in range(3))
    p, q = b - a, c - a
    plan = (p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0]) / 2
    return float(plan @ triangles[..., 2].mean(axis=1))


def is_round(shell: Shell) -> bool:
    """Return whether `shell` is a dome, or an old kit whose base hubs lie on a circle."""
    if shell.recipe.family != "imported":
        return shell.recipe.family == "dome"
    reach = np.hypot(*shell.hubs[shell.base, :2].T)
    return bool(np.ptp(reach) <= ROUND * reach.max())


def width(shell: Shell) -> float:
    """Return the width across the base, hub centre to hub centre, m.

    For a dome twice the distance of the farthest base hub from the axis: the diameter of the
    circle through the base hubs. For other families the extent of the base along y.
    """
    plan = shell.hubs[shell.base, :2]
    if is_round(shell):
        return float(2 * np.hypot(plan[:, 0], plan[:, 1]).max())
    return float(np.ptp(plan[:, 1]))
