"""From faces laid flat to pieces with outline, allowances, seams and laps."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from strutwright.cover.strips import Room
from strutwright.cover.surface import Cloth
from strutwright.cover.unroll import Unrolled, least_width, polygon_area, turned
from strutwright.cover.values import EdgeKind, Piece, Seam
from strutwright.values import Floats, Indices

__all__ = ["patterns", "pieces_of", "seams_of", "upwards"]

SHARP = 1e-6
"""Sine of a turn below which an edge runs straight on."""


def pieces_of(cloth: Cloth, laid: Sequence[Unrolled], room: Room, prefix: str) -> tuple[Piece, ...]:
    """Return the pieces in the order given, labelled ``prefix`` 1, 2, ..."""
    return tuple(_piece(cloth, one, room, f"{prefix}{n}") for n, one in enumerate(laid, 1))


def upwards(cloth: Cloth, laid: Sequence[Unrolled]) -> list[Unrolled]:
    """Return pieces laid flat in order of height, then round the shell."""
    middles = cloth.points[cloth.faces].mean(axis=1)
    where = np.array([middles[list(faces)].mean(axis=0) for faces in laid])
    azimuth = np.mod(np.arctan2(where[:, 1], where[:, 0]) + 1e-9, 2 * np.pi)
    order = np.lexsort((np.rint(azimuth * 1e6), np.rint(where[:, 2] * 1e3)))
    return [laid[k] for k in order.tolist()]


def _piece(cloth: Cloth, laid: Unrolled, room: Room, label: str) -> Piece:
    rim = _rim(cloth, laid)
    outline = np.array([laid[f][k] for f, k in rim])
    kinds: tuple[EdgeKind, ...] = tuple(_kind(cloth, f, k) for f, k in rim)
    cut = _cut(outline, np.array([room.allowance[kind] for kind in kinds]))
    _, angle = least_width(cut)
    turn = np.pi / 2 - angle
    low = turned(cut, turn).min(axis=0)
    cut, outline = turned(cut, turn) - low, turned(outline, turn) - low
    faces = np.array(list(laid))
    corners = np.array([turned(laid[f][:3], turn) - low for f in laid])
    length, width = cut.max(axis=0).tolist()
    struts = np.array([cloth.struts[f, k] for f, k in rim])
    vent = len(faces) == 1 and bool(np.isin(faces[0], cloth.vents))
    area = polygon_area(cut)
    return Piece(label, faces, corners, outline, struts, kinds, cut, length, width, area, vent)


def _kind(cloth: Cloth, face: int, edge: int) -> EdgeKind:
    if cloth.across[face, edge] >= 0:
        return "seam"
    return "hem" if cloth.rim[face, edge] == "hem" else "flap"


def _rim(cloth: Cloth, laid: Unrolled) -> list[tuple[int, int]]:
    """Return the edges (face, corner) round the piece, anticlockwise."""
    first = next((f, k) for f in laid for k in range(3) if int(cloth.across[f, k]) not in laid)
    rim, at = [first], _after(cloth, laid, first)
    while at != first:
        rim.append(at)
        at = _after(cloth, laid, at)
    return rim


def _after(cloth: Cloth, laid: Unrolled, at: tuple[int, int]) -> tuple[int, int]:
    face, corner = at[0], (at[1] + 1) % 3
    hub = cloth.faces[face, corner]
    while (other := int(cloth.across[face, corner])) in laid:
        face, corner = other, int(np.flatnonzero(cloth.faces[other] == hub)[0])
    return face, corner


def _cut(outline: Floats, allowance: Floats) -> Floats:
    """Return the outline with each edge moved out by its allowance; outer corners are blunt."""
    step = np.roll(outline, -1, axis=0) - outline
    step = step / np.linalg.norm(step, axis=1)[:, None]
    out = np.stack([step[:, 1], -step[:, 0]], axis=1)
    points: list[Floats] = []
    for k, corner in enumerate(outline):
        before, after = k - 1, k
        p, q = corner + allowance[before] * out[before], corner + allowance[after] * out[after]
        sine = float(step[before, 0] * step[after, 1] - step[before, 1] * step[after, 0])
        if sine > SHARP:
            points += [p, q]
        elif sine < -SHARP:
            gap = q - p
            along = (gap[0] * step[after, 1] - gap[1] * step[after, 0]) / sine
            # inwards they meet; nearly straight edges with unlike allowances make a step instead
            near = abs(along) <= 2 * max(allowance[before], allowance[after])
            points += [p + along * step[before]] if near else [p, q]
        else:
            points += [p] if np.allclose(p, q) else [p, q]
    return np.array(points)


def seams_of(cloth: Cloth, pieces: Sequence[Indices]) -> tuple[Seam, ...]:
    """Return every strut along which two pieces, given by their faces, meet; the higher outside.

    Between pieces of one height the one that comes first anticlockwise lies outside: both run
    down the slope there, and either sheds water.
    """
    owner = np.full(len(cloth.faces), -1)
    for k, faces in enumerate(pieces):
        owner[faces] = k
    height = cloth.points[cloth.faces, 2].mean(axis=1)
    seams = []
    for face, edge in np.argwhere(cloth.across >= 0).tolist():
        other = int(cloth.across[face, edge])
        a, b = int(owner[face]), int(owner[other])
        if face > other or a == b:
            continue
        over = height[face] > height[other] + 1e-6 or abs(height[face] - height[other]) <= 1e-6
        pair = (a, b) if over else (b, a)
        strut, length = int(cloth.struts[face, edge]), float(cloth.lengths[face, edge])
        seams.append(Seam(strut, *pair, length))
    return tuple(sorted(seams, key=lambda seam: seam.strut))


def patterns(pieces: Sequence[Piece]) -> tuple[tuple[int, ...], ...]:
    """Return the indices of pieces that are cut alike, one tuple a pattern, in order.

    Alike: the same edges in the same order, to the millimetre, with the same allowances.
    """
    groups: dict[tuple[tuple[int, int, str], ...], list[int]] = {}
    for k, piece in enumerate(pieces):
        step = np.roll(piece.outline, -1, axis=0) - piece.outline
        back = np.roll(step, 1, axis=0)
        length = np.rint(np.linalg.norm(step, axis=1) * 1000).astype(int).tolist()
        cross = back[:, 0] * step[:, 1] - back[:, 1] * step[:, 0]
        turn = np.rint(np.degrees(np.arctan2(cross, (back * step).sum(axis=1)))).astype(int)
        key = list(zip(length, turn.tolist(), piece.edge_kinds, strict=True))
        first = min(tuple(key[n:] + key[:n]) for n in range(len(key)))
        groups.setdefault(first, []).append(k)
    return tuple(tuple(group) for group in groups.values())
