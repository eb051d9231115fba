"""The surface that a cover lies on: faces with their neighbours, moved out or in from the hubs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from strutwright.shape import Shell
from strutwright.shape.surface import face_normals
from strutwright.values import ArrayValue, Floats, HubPoints, Indices, Words

__all__ = ["Cloth", "cloth_of", "offset_points", "vents_of"]


@dataclass(frozen=True, eq=False)
class Cloth(ArrayValue):
    """The faces of a shell as a net to be cut up.

    Parameters
    ----------
    faces : (F, 3) int array
    points : (H, 3) array, m
    across : (F, 3) int array
        Face on the other side of the edge from corner k to k + 1; -1 where there is none.
    struts : (F, 3) int array
        Strut under that edge.
    lengths : (F, 3) array, m
        Of the edges on this surface.
    rim : (F, 3) array of str
        ``hem`` or ``flap`` where there is no face across, else empty.
    vents : (V,) int array
        Faces that are vents.
    """

    faces: Indices
    points: Floats
    across: Indices
    struts: Indices
    lengths: Floats
    rim: Words
    vents: Indices


def vents_of(shell: Shell) -> Indices:
    """Return the faces of `shell` that open as vents."""
    names = sorted(n for n in shell.groups if n.startswith("faces.") and n.endswith(".vent"))
    parts = [shell.groups[name] for name in names]
    return np.unique(np.concatenate([*parts, np.empty(0, dtype=np.int64)]).astype(np.int64))


def offset_points(shell: Shell, offset: float) -> HubPoints:
    """Return where the faces meet over each hub (H, 3), m, when all are moved out by `offset`.

    At a hub whose faces do not meet in one point the nearest point to all their planes is taken;
    the shift is the shortest that does it. A hub without faces stays.
    """
    if not offset:
        return shell.hubs
    n = len(shell.hubs)
    normals = face_normals(shell)
    corner = shell.faces.ravel()
    each = np.repeat(normals, 3, axis=0)
    gram = np.zeros((n, 3, 3))
    right = np.zeros((n, 3))
    np.add.at(gram, corner, each[:, :, None] * each[:, None, :])
    np.add.at(right, corner, each * offset)
    return np.asarray(shell.hubs + np.einsum("hij,hj->hi", np.linalg.pinv(gram, 1e-9), right))


def cloth_of(shell: Shell, points: HubPoints | None = None) -> Cloth:
    """Return the faces of `shell` as a net over `points` (H, 3); over its hubs when left out."""
    places = shell.hubs if points is None else points
    faces = shell.faces
    n = len(shell.hubs)
    ahead = np.roll(faces, -1, axis=1)
    code = (faces * n + ahead).ravel()
    back = (ahead * n + faces).ravel()
    order = np.argsort(code)
    at = np.minimum(np.searchsorted(code[order], back), len(code) - 1)
    found = order[at]
    across = np.where(code[found] == back, found // 3, -1).reshape(faces.shape)
    low, high = np.minimum(faces, ahead), np.maximum(faces, ahead)
    table = shell.struts @ [n, 1]
    struts = np.searchsorted(table, low * n + high)
    lengths = np.linalg.norm(places[ahead] - places[faces], axis=2)
    base = np.isin(faces, shell.base) & np.isin(ahead, shell.base)
    rim = np.where(across >= 0, "", np.where(base, "hem", "flap"))
    return Cloth(faces, places, across, struts, lengths, rim, vents_of(shell))
