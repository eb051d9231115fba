"""A shell reduced by its symmetry: one movement for each orbit of hubs, one length of struts.

A movement of the shell that keeps its symmetry is given by the movement of one hub of each orbit,
and that one stays in the mirrors it lies in. The unknowns q are those movements in an orthonormal
basis, so that a hub of orbit o moves by |q_o|.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.shape import topology
from strutwright.shape.orbits import Symmetry, hub_orbits, strut_orbits, symmetry
from strutwright.shape.shell import FACE_ROLES, Shell
from strutwright.values import ArrayValue, Faces, Floats, HubPoints, Indices, StrutEnds

__all__ = [
    "Reduced",
    "deficit_slopes",
    "deficits",
    "fold_slopes",
    "folds",
    "length_slopes",
    "lengths",
    "moves",
    "places",
    "reduce_shell",
]

FIXED_SHARE: Final = 0.5
"""Singular values of an averaging matrix are 0 or 1; this tells them apart."""


@dataclass(frozen=True, eq=False)
class Reduced(ArrayValue):
    """A shell as a function of the movements of one hub of each orbit.

    Parameters
    ----------
    start : (H, 3) array, m
        Hubs at q = 0, exactly symmetric.
    spans : (H, 3, 3) array
        A hub moves by its span times the three unknowns in `slots`; unused columns are zero.
    slots : (H, 3) int array
        Unknowns of each hub; `n_unknowns` where there is none.
    n_unknowns : int
    orbit_of : (H,) int array
        Orbit of each hub.
    struts : (m, 2) int array
        One strut of each orbit of struts that bound faces.
    class_of : (S,) int array
        Orbit of each strut of the shell in `struts`; -1 for struts that bound no face.
    counts : (m,) int array
        Struts in each orbit.
    hinges : (f, 4) int array
        Hubs of the two faces at one strut of each inner orbit: its ends, then the far corners.
    hinge_struts : (f,) int array
        Strut of the shell that each hinge belongs to.
    corners : (c, 3) int array
        Face corners at one inner hub of each orbit: the hub, then the next two of the face.
    corner_hub : (c,) int array
        Number of that inner hub, from 0.
    owner : (n,) int array
        Orbit of hubs that each unknown moves.
    size, shortest : float, m
        Largest extent and shortest strut at the start.
    """

    start: HubPoints
    spans: Floats
    slots: Indices
    n_unknowns: int
    orbit_of: Indices
    struts: StrutEnds
    class_of: Indices
    counts: Indices
    hinges: Indices
    hinge_struts: Indices
    corners: Indices
    corner_hub: Indices
    owner: Indices
    size: float
    shortest: float


def reduce_shell(shell: Shell) -> Reduced:
    """Return `shell` reduced by its symmetry; base hubs keep their height, others are free."""
    found = symmetry(shell)
    start = _symmetric(shell.hubs, found)
    orbit = hub_orbits(found)
    spans, slots, n_unknowns = _spans(shell, found, orbit)
    bounds = np.isin(shell.role, FACE_ROLES)
    used = np.zeros(len(shell.struts), dtype=bool)
    used[_edges_in(shell.faces, shell.struts)] = True
    bounds &= used
    kinds = strut_orbits(found)
    _, first, place, counts = np.unique(
        kinds[bounds], return_index=True, return_inverse=True, return_counts=True
    )
    members = np.flatnonzero(bounds)
    class_of = np.full(len(shell.struts), -1)
    class_of[members] = place.ravel()
    chosen = members[first]
    hinges = _hinges(shell.faces, shell.struts[chosen])
    inner = hinges[:, 3] >= 0
    owner = np.zeros(n_unknowns + 1, dtype=np.int64)
    owner[slots] = orbit[:, None]
    ends = start[shell.struts[chosen]]
    return Reduced(
        start,
        spans,
        slots,
        n_unknowns,
        orbit,
        shell.struts[chosen],
        class_of,
        counts,
        hinges[inner],
        chosen[inner],
        *_corners(shell, orbit),
        owner[:-1],
        shell.size,
        float(np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1).min()),
    )


def _symmetric(hubs: HubPoints, found: Symmetry) -> HubPoints:
    total = np.zeros_like(hubs)
    for turn, image in zip(found.turns, found.images, strict=True):
        total += (hubs[image] - found.centre) @ turn
    return np.asarray(total / len(found.turns) + found.centre)


def _spans(shell: Shell, found: Symmetry, orbit: Indices) -> tuple[Floats, Indices, int]:
    """Return spans (H, 3, 3), slots (H, 3) and the number of unknowns."""
    n = len(shell.hubs)
    spans, slots, count = np.zeros((n, 3, 3)), np.full((n, 3), -1), 0
    is_base = np.zeros(n, dtype=bool)
    is_base[shell.base] = True
    in_face = np.zeros(n, dtype=bool)
    in_face[np.unique(shell.faces)] = True
    _, first = np.unique(orbit, return_index=True)
    for hub in first[in_face[first]]:
        stays = found.images[:, hub] == hub
        mean = found.turns[stays].mean(axis=0)
        if is_base[hub]:
            mean = np.diag([1.0, 1, 0]) @ mean
        values, vectors = np.linalg.eigh((mean + mean.T) / 2)
        basis = vectors[:, values > FIXED_SHARE]
        taken = basis.shape[1]
        for turn, image in zip(found.turns, found.images[:, hub], strict=True):
            spans[image, :, :taken] = turn @ basis
            slots[image, :taken] = count + np.arange(taken)
        count += taken
    slots[slots < 0] = count
    return spans, slots, count


def _corners(shell: Shell, orbit: Indices) -> tuple[Indices, Indices]:
    """Return face corners (c, 3) at one inner hub of each orbit, and the number (c,) of the hub."""
    corner = np.concatenate([np.roll(shell.faces, -k, axis=1) for k in range(3)])
    _, first = np.unique(orbit, return_index=True)
    rim = np.concatenate(topology.boundary_rings(shell.faces))
    inner = first[~np.isin(first, rim) & np.isin(first, shell.faces)]
    corner = corner[np.isin(corner[:, 0], inner)]
    return corner, np.searchsorted(inner, corner[:, 0])


def _edges_in(faces: Faces, struts: StrutEnds) -> Indices:
    width = int(struts.max()) + 1
    pairs = np.sort(np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]]), axis=1)
    return np.searchsorted(struts @ [width, 1], np.unique(pairs @ [width, 1]))


def _hinges(faces: Faces, struts: StrutEnds) -> Indices:
    """Return (m, 4): ends i, j and the far corners of the faces that run i->j and j->i, or -1."""
    width = int(faces.max()) + 1
    edges = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    far = np.concatenate([faces[:, 2], faces[:, 0], faces[:, 1]])
    codes = edges @ [width, 1]
    order = np.argsort(codes)
    found = np.full((len(struts), 4), -1)
    found[:, :2] = struts
    for column, ends in ((2, struts), (3, struts[:, ::-1])):
        wanted = ends @ [width, 1]
        place = order[np.minimum(np.searchsorted(codes[order], wanted), len(codes) - 1)]
        found[:, column] = np.where(codes[place] == wanted, far[place], -1)
    swap = found[:, 2] < 0
    found[swap] = found[swap][:, [1, 0, 3, 2]]
    return found


def places(model: Reduced, q: Floats) -> HubPoints:
    """Return the (H, 3) hubs at the movements `q` (n,), m."""
    padded = np.append(q, 0.0)
    return np.asarray(model.start + np.einsum("hij,hj->hi", model.spans, padded[model.slots]))


def moves(model: Reduced, q: Floats) -> Floats:
    """Return the (H,) distance of each hub from its start, m."""
    return np.asarray(np.linalg.norm(np.append(q, 0.0)[model.slots], axis=1))


def lengths(model: Reduced, hubs: HubPoints) -> Floats:
    """Return the (m,) node length of one strut of each orbit, m."""
    ends = hubs[model.struts]
    return np.asarray(np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1))


def _chain(model: Reduced, corners: Indices, slopes: Floats) -> tuple[Indices, Indices, Floats]:
    """Return rows, columns and values of the derivative by q, from slopes (r, c, 3) by corners."""
    values = np.einsum("rci,rcij->rcj", slopes, model.spans[corners])
    columns = model.slots[corners]
    rows = np.broadcast_to(np.arange(len(corners))[:, None, None], columns.shape)
    return rows.ravel(), columns.ravel(), values.ravel()


def length_slopes(model: Reduced, hubs: HubPoints) -> tuple[Indices, Indices, Floats]:
    """Return rows, columns, values of the derivative of `lengths` by q; columns up to n."""
    ends = hubs[model.struts]
    along = ends[:, 1] - ends[:, 0]
    along /= np.linalg.norm(along, axis=1)[:, None]
    return _chain(model, model.struts, np.stack([-along, along], axis=1))


def _cross(a: Floats, b: Floats) -> Floats:
    """Return the (f, 3) vector products: many times faster than the general one on few rows."""
    x, y, z = a.T
    u, v, w = b.T
    return np.stack([y * w - z * v, z * u - x * w, x * v - y * u], axis=1)


def folds(hubs: HubPoints, hinges: Indices) -> Floats:
    """Return the (f,) angle between the normals of the two faces of each hinge, rad.

    Positive where the surface is convex: it is pi less the inner dihedral angle.
    """
    i, j, a, b = (hubs[hinges[:, k]] for k in range(4))
    along = j - i
    first, second = _cross(along, a - i), _cross(b - i, along)
    sine = np.einsum("fi,fi->f", _cross(first, second), along) / np.linalg.norm(along, axis=1)
    return np.asarray(np.arctan2(sine, np.einsum("fi,fi->f", first, second)))


def deficits(model: Reduced, hubs: HubPoints) -> Floats:
    """Return (h,) 2 pi less the sum of the face angles round one inner hub of each orbit, rad."""
    u, v = (hubs[model.corners[:, k]] - hubs[model.corners[:, 0]] for k in (1, 2))
    sine = np.linalg.norm(_cross(u, v), axis=1)
    angle = np.arctan2(sine, np.einsum("ci,ci->c", u, v))
    return np.asarray(2 * np.pi - np.bincount(model.corner_hub, angle))


def deficit_slopes(model: Reduced, hubs: HubPoints) -> tuple[Indices, Indices, Floats]:
    """Return rows, columns, values of the derivative of `deficits` by q."""
    u, v = (hubs[model.corners[:, k]] - hubs[model.corners[:, 0]] for k in (1, 2))
    normal = _cross(u, v)
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    # the angle grows as its sides turn apart in their plane
    at_u = _cross(u, normal) / np.einsum("ci,ci->c", u, u)[:, None]
    at_v = _cross(normal, v) / np.einsum("ci,ci->c", v, v)[:, None]
    slopes = -np.stack([-at_u - at_v, at_u, at_v], axis=1)
    rows, cols, values = _chain(model, model.corners, slopes)
    return model.corner_hub[rows], cols, values


def fold_slopes(model: Reduced, hubs: HubPoints) -> tuple[Indices, Indices, Floats]:
    """Return rows, columns, values of the derivative of `folds` by q.

    Source: gradient of a dihedral angle by its four points, as in discrete shell models; checked
    against finite differences in the tests.
    """
    i, j, a, b = (hubs[model.hinges[:, k]] for k in range(4))
    along = j - i
    size = np.linalg.norm(along, axis=1)[:, None]
    first, second = _cross(along, a - i), _cross(b - i, along)
    first /= np.einsum("fi,fi->f", first, first)[:, None]
    second /= np.einsum("fi,fi->f", second, second)[:, None]
    at_a, at_b = size * first, size * second
    share_a = np.einsum("fi,fi->f", a - i, along)[:, None] / size**2
    share_b = np.einsum("fi,fi->f", b - i, along)[:, None] / size**2
    at_i = -(1 - share_a) * at_a - (1 - share_b) * at_b
    at_j = -share_a * at_a - share_b * at_b
    slopes = -np.stack([at_i, at_j, at_a, at_b], axis=1)
    return _chain(model, model.hinges, slopes)
