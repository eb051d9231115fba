"""Connectivity of triangulated surfaces: edges, rings, components, the Euler number, order."""

from __future__ import annotations

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from strutwright.values import Faces, Floats, HubPoints, Indices, StrutEnds

__all__ = [
    "boundary_rings",
    "check_manifold",
    "components",
    "directed_edges",
    "euler_number",
    "hub_order",
    "rows_missing",
    "signed_volume",
    "struts_of",
]

AZIMUTH_STEP = 1e-9
"""Two azimuths closer than this (rad) are taken as one when hubs are put in order."""


def directed_edges(faces: Faces) -> StrutEnds:
    """Return the (3F, 2) edges of `faces`, in the direction each face runs round them."""
    return np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])


def struts_of(faces: Faces) -> StrutEnds:
    """Return the (S, 2) distinct edges of `faces`, i < j, in ascending order."""
    ends = np.sort(directed_edges(faces), axis=1)
    width = int(ends.max(initial=0)) + 1
    codes = np.unique(ends @ [width, 1])  # sorting numbers is many times faster than rows
    return np.stack(np.divmod(codes, width), axis=1)


def rows_missing(rows: StrutEnds, table: StrutEnds) -> Indices:
    """Return the indices of those `rows` that do not stand in `table`; both (n, 2)."""
    width = int(max(rows.max(initial=0), table.max(initial=0))) + 1
    codes, known = rows @ [width, 1], table @ [width, 1]
    return np.flatnonzero(~np.isin(codes, known))


def check_manifold(faces: Faces) -> None:
    """Raise ValueError unless every edge has one or two faces, run through once each way.

    Every hub must also have its faces in one fan: two shells that touch in a hub are no surface.
    """
    edges = directed_edges(faces)
    width = int(faces.max()) + 1
    code, back = edges @ [width, 1], edges[:, ::-1] @ [width, 1]
    if len(np.unique(code)) != len(code):
        msg = "not a shell: two faces run through one edge in the same direction"
        raise ValueError(msg)
    corner_hub = faces.T.ravel()  # corner k of a face is the start of edge k
    n_corners = len(corner_hub)
    order = np.argsort(code)
    place = np.searchsorted(code[order], back)
    place = np.minimum(place, n_corners - 1)
    partner = order[place]
    meets = code[partner] == back
    n_faces = len(faces)
    # Across edge i->j the neighbour runs j->i: its corner at i is the one after the start of j->i.
    after = (partner + n_faces) % n_corners
    rows, cols = np.flatnonzero(meets), after[meets]
    graph = coo_array((np.ones(len(rows)), (rows, cols)), shape=(n_corners, n_corners))
    n_fans, _ = connected_components(graph, directed=False)
    if n_fans != len(np.unique(corner_hub)):
        msg = "not a shell: the faces of a hub do not form one fan"
        raise ValueError(msg)


def boundary_rings(faces: Faces) -> list[Indices]:
    """Return the closed chains of hubs along free edges, each as the faces run along it.

    Rings come in ascending order of their smallest hub and start at it.

    Raises
    ------
    ValueError
        Free edges do not close into chains.
    """
    edges = directed_edges(faces)
    width = int(faces.max()) + 1
    free = edges[~np.isin(edges @ [width, 1], edges[:, ::-1] @ [width, 1])]
    following = dict(free.tolist())
    if len(following) != len(free):
        msg = "not a shell: free edges meet more than twice in a hub"
        raise ValueError(msg)
    rings = []
    while following:
        start = min(following)
        ring, hub = [start], following.pop(start)
        while hub != start:
            ring.append(hub)
            hub = following.pop(hub)
        rings.append(np.array(ring, dtype=np.int64))
    return rings


def components(faces: Faces) -> int:
    """Return the number of connected parts of the surface."""
    hubs, codes = np.unique(faces, return_inverse=True)
    pairs = directed_edges(codes.reshape(faces.shape))
    graph = coo_array((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(len(hubs),) * 2)
    n_parts, _ = connected_components(graph, directed=False)
    return int(n_parts)


def euler_number(faces: Faces) -> int:
    """Return hubs - edges + faces of the surface."""
    return len(np.unique(faces)) - len(struts_of(faces)) + len(faces)


def signed_volume(hubs: HubPoints, faces: Faces, apex: Floats) -> float:
    """Return the volume of the cones from `apex` (3,) to all faces, m3; positive when outward."""
    a, b, c = (hubs[faces[:, k]] - apex for k in range(3))
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6)


def hub_order(hubs: HubPoints, course: Indices) -> Indices:
    """Return the (H,) order in which hubs are numbered.

    By course from the base; the feet of legs (course below 0) last; within a course by azimuth
    from +x, then from the outside in, then by height.
    """
    size = float(np.ptp(hubs, axis=0).max()) or 1.0
    radius = np.hypot(hubs[:, 0], hubs[:, 1])
    azimuth = np.where(radius > AZIMUTH_STEP * size, np.arctan2(hubs[:, 1], hubs[:, 0]), 0.0)
    turn = np.rint(np.mod(azimuth + AZIMUTH_STEP / 2, 2 * np.pi) / AZIMUTH_STEP)
    inward = np.rint(-radius / (AZIMUTH_STEP * size))
    height = np.rint(hubs[:, 2] / (AZIMUTH_STEP * size))
    row = np.where(course < 0, course.max() + 1 - course, course)
    return np.lexsort((height, inward, turn, row))
