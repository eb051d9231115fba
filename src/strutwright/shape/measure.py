"""What is measured on a shell: lengths and angles of struts; with surface and headroom, all of it.

Tangent plane and normal of a hub. On a dome whose hubs all lie on one sphere the normal is the
radius. On every other shell (scaled, stretched, vaults, shells with fewer lengths) it is the mean
of the normals of the hub's faces, each weighted by its angle at the hub (Thürmer and Wüthrich,
1998, recalled). At a base hub there are faces on one side alone, so that normal leans upwards; a
hub without faces (the foot of a leg) has its normal straight up.

The dip of a strut at its hub is the angle below the tangent plane, asin(c / 2) on a sphere for
chord factor c; the angle to the radius (from the inward normal) is its complement, 90° - dip.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.shape import topology
from strutwright.shape.headroom import contours, headroom_area, height_at
from strutwright.shape.shell import Shell
from strutwright.shape.surface import (
    angle_deficits,
    cover_area,
    face_angles,
    face_areas,
    face_normals,
    floor_area,
    volume,
    width,
)
from strutwright.values import ArrayValue, Floats, HubPoints, Indices

__all__ = [
    "ON_SPHERE",
    "SpokeTable",
    "angle_deficits",
    "chord_factors",
    "contours",
    "cover_area",
    "dihedrals",
    "face_angles",
    "face_areas",
    "face_normals",
    "floor_area",
    "headroom_area",
    "height_at",
    "hub_normals",
    "node_lengths",
    "radius_angles",
    "spoke_table",
    "spokes",
    "strut_faces",
    "volume",
    "width",
]

ON_SPHERE: Final = 1e-9
"""A hub lies on the sphere when it is off by less than this share of R: far above rounding."""


@dataclass(frozen=True, eq=False)
class SpokeTable(ArrayValue):
    """All spokes of all hubs: those of hub h are the rows ``first[h]`` to ``first[h + 1]``.

    The spokes of a hub run anticlockwise seen from outside. The first is the one that follows
    the gap without face where there is one, else the one to the neighbour of lowest number.

    Parameters
    ----------
    first : (H + 1,) int array
    neighbour : (2S,) int array
        Hub at the other end.
    strut : (2S,) int array
    azimuth : (2S,) array, rad
        Anticlockwise from the hub's first spoke in the tangent plane, from 0 to below 2 pi.
    dip : (2S,) array, rad
        Angle of the strut below the tangent plane; negative above it.
    """

    first: Indices
    neighbour: Indices
    strut: Indices
    azimuth: Floats
    dip: Floats


def node_lengths(shell: Shell) -> Floats:
    """Return the (S,) distances from hub centre to hub centre, m."""
    ends = shell.hubs[shell.struts]
    return np.asarray(np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1))


def chord_factors(shell: Shell) -> Floats:
    """Return the (S,) node lengths as shares of the sphere's radius.

    Raises
    ------
    ValueError
        The shell has no radius.
    """
    if shell.recipe.radius is None:
        msg = "a shell without a radius has no chord factors"
        raise ValueError(msg)
    return node_lengths(shell) / shell.recipe.radius


def strut_faces(shell: Shell) -> Indices:
    """Return the (S, 2) faces of each strut i < j: the one left and right of i to j; -1 for none.

    Left and right as seen from outside.
    """
    n = len(shell.hubs)
    edges = topology.directed_edges(shell.faces)
    code = shell.struts @ [n, 1]
    place = np.searchsorted(code, np.sort(edges, axis=1) @ [n, 1])
    sides = np.full((len(shell.struts), 2), -1)
    sides[place, (edges[:, 0] > edges[:, 1]).astype(int)] = np.tile(np.arange(len(shell.faces)), 3)
    return sides


def dihedrals(shell: Shell) -> Floats:
    """Return the (S,) inner angles between the two faces of each strut, rad.

    Below pi where the shell bulges outwards; nan on struts without two faces.
    """
    sides = strut_faces(shell)
    both = (sides >= 0).all(axis=1)
    normals = face_normals(shell)
    left, right = normals[sides[both, 0]], normals[sides[both, 1]]
    ends = shell.hubs[shell.struts[both]]
    along = ends[:, 1] - ends[:, 0]
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    fold = np.arctan2(
        np.einsum("ij,ij->i", np.cross(left, right), along), np.einsum("ij,ij->i", left, right)
    )
    angles = np.full(len(shell.struts), np.nan)
    angles[both] = np.pi - fold
    return angles


def hub_normals(shell: Shell) -> HubPoints:
    """Return the (H, 3) outward unit normals of the tangent planes; see the head of this file."""
    centre = shell.recipe.settings.get("sphere_centre")
    if shell.recipe.radius is not None and centre is not None:
        out = shell.hubs - np.asarray(centre, dtype=np.float64)
        reach = np.linalg.norm(out, axis=1)
        if np.abs(reach - shell.recipe.radius).max() < ON_SPHERE * shell.recipe.radius:
            return np.asarray(out / reach[:, None])
    weighted = face_angles(shell)[:, :, None] * face_normals(shell)[:, None, :]
    total = np.zeros_like(shell.hubs)
    np.add.at(total, shell.faces, weighted)
    total[~np.isin(np.arange(len(shell.hubs)), shell.faces)] = (0, 0, 1)
    return np.asarray(total / np.linalg.norm(total, axis=1, keepdims=True))


def radius_angles(shell: Shell) -> Floats:
    """Return the (S, 2) angles of each strut to the inward normal at its hubs i and j, rad."""
    ends = shell.hubs[shell.struts]
    along = ends[:, 1] - ends[:, 0]
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    inward = -hub_normals(shell)[shell.struts]
    cosine = np.stack(
        [np.einsum("ij,ij->i", along, inward[:, 0]), -np.einsum("ij,ij->i", along, inward[:, 1])],
        axis=1,
    )
    return np.asarray(np.arccos(np.clip(cosine, -1, 1)))


def spoke_table(shell: Shell) -> SpokeTable:
    """Return azimuth and dip of every spoke of every hub, in order round each hub."""
    hub = shell.struts.T.ravel()
    neighbour = shell.struts[:, ::-1].T.ravel()
    strut = np.tile(np.arange(len(shell.struts)), 2)
    out = shell.hubs[neighbour] - shell.hubs[hub]
    out /= np.linalg.norm(out, axis=1, keepdims=True)
    start = _first_spokes(shell, hub, neighbour)
    normal = hub_normals(shell)[hub]
    reference = out[start[hub]]
    height = np.einsum("ij,ij->i", out, normal)
    ahead = reference - np.einsum("ij,ij->i", reference, normal)[:, None] * normal
    left = np.cross(normal, ahead)
    turn = np.arctan2(np.einsum("ij,ij->i", out, left), np.einsum("ij,ij->i", out, ahead))
    azimuth = np.where(np.arange(len(hub)) == start[hub], 0.0, np.mod(turn, 2 * np.pi))
    order = np.lexsort((azimuth, hub))
    first = np.searchsorted(hub[order], np.arange(len(shell.hubs) + 1))
    dip = -np.arcsin(np.clip(height, -1, 1))
    return SpokeTable(first, neighbour[order], strut[order], azimuth[order], dip[order])


def spokes(shell: Shell, hub: int) -> tuple[Indices, Floats]:
    """Return the (V,) neighbours of `hub` and (V, 2) azimuth and dip of the spokes, rad.

    Order and zero of the azimuth as in `SpokeTable`.
    """
    table = spoke_table(shell)
    rows = slice(table.first[hub], table.first[hub + 1])
    return table.neighbour[rows], np.stack([table.azimuth[rows], table.dip[rows]], axis=1)


def _first_spokes(shell: Shell, hub: Indices, neighbour: Indices) -> Indices:
    """Return the (H,) row of each hub's first spoke in the tables `hub`, `neighbour` (2S,)."""
    n = len(shell.hubs)
    lowest = np.lexsort((neighbour, hub))
    first = lowest[np.searchsorted(hub[lowest], np.arange(n))]
    edges = topology.directed_edges(shell.faces)
    code = edges @ [n, 1]
    free = edges[~np.isin(code, edges[:, ::-1] @ [n, 1])]
    # a face runs i -> j along a free edge with the gap on its right: i's fan starts with j
    row_code = hub * n + neighbour
    order = np.argsort(row_code)
    first[free[:, 0]] = order[np.searchsorted(row_code[order], free @ [n, 1])]
    return np.asarray(first)
