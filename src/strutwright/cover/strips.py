"""Faces put together into pieces that lie flat, do not overlap and fit the roll."""

from __future__ import annotations

import heapq
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from strutwright.cover.surface import Cloth
from strutwright.cover.unroll import Unrolled, flat_face, hinged, hull, least_width, turned
from strutwright.values import Floats

__all__ = ["Room", "cut_into_strips", "face_points", "laid_again"]

FLAT: Final = 1e-4
"""m: faces round a hub close up flat when their corners meet this well."""


@dataclass(frozen=True)
class Room:
    """What a piece has to fit.

    Parameters
    ----------
    width, length : float, m
        Of the roll: its width, and the longest piece that is cut from it.
    allowance : mapping of str to float, m
        Added at edges of each kind: ``seam``, ``hem``, ``flap``.
    """

    width: float
    length: float
    allowance: Mapping[str, float]

    def fits(self, points: Floats) -> bool:
        """Return whether a piece with these outermost points (n, 2) fits."""
        return self.direction(points) is not None

    def direction(self, points: Floats) -> float | None:
        """Return the direction of their least width, rad; None where they do not fit."""
        width, angle = least_width(points)
        fits = width <= self.width + 1e-9 and _reach(points, angle + np.pi / 2) <= self.length
        return angle if fits else None

    def holds(self, points: Floats, angle: float) -> bool:
        """Return whether they fit with their width in direction `angle`, rad, and any turn else."""
        width, length = _reach(points, angle), _reach(points, angle + np.pi / 2)
        return width <= self.width and width**2 + length**2 <= self.length**2


def _reach(points: Floats, angle: float) -> float:
    """Return how far `points` (n, 2) reach in direction `angle`, rad, m."""
    along = points[:, 0] * math.cos(angle) + points[:, 1] * math.sin(angle)
    return float(along.max() - along.min())


def face_points(cloth: Cloth, room: Room) -> tuple[Floats, ...]:
    """Return for each face its corners and those of the allowances at its edges, laid flat: (9, 2).

    The first three rows are the corners.
    """
    points = []
    for face in range(len(cloth.faces)):
        corners = flat_face(cloth, face)
        after = corners[[1, 2, 0]]
        step = after - corners
        outward = np.stack([step[:, 1], -step[:, 0]], axis=1) / cloth.lengths[face][:, None]
        kinds = [kind or "seam" for kind in cloth.rim[face].tolist()]
        reach = outward * np.array([room.allowance[kind] for kind in kinds])[:, None]
        points.append(np.concatenate([corners, corners + reach, after + reach]))
    return tuple(points)


def laid_again(cloth: Cloth, pieces: Sequence[Sequence[int]], room: Room) -> list[Unrolled] | None:
    """Return pieces of given faces laid flat on this surface; None where one does not fit."""
    flat = face_points(cloth, room)
    found = []
    for faces in pieces:
        first, *rest = faces
        laid: Unrolled = {first: flat[first]}
        while rest:
            at = [(f, k) for f in rest for k in range(3) if int(cloth.across[f, k]) in laid]
            if not at:
                return None
            face, edge = at[0]
            laid[face] = hinged(cloth, laid, flat[face], face, edge)
            if not _meets(cloth, laid, face):
                return None
            rest.remove(face)
        if not room.fits(np.concatenate(list(laid.values()))):
            return None
        found.append(laid)
    return found


def cut_into_strips(cloth: Cloth, barrier: NDArray[np.bool_], room: Room) -> tuple[Unrolled, ...]:
    """Return the faces that are no vents, in pieces that are trees of faces laid flat.

    A piece grows over the longest struts first, never over one of `barrier` (S,), and takes a face
    only when it lies against all its neighbours in the piece: a cut between two faces of one piece
    would leave no room for allowances. What is left over joins a neighbour where it can.
    """
    open_ = np.asarray(cloth.across >= 0)
    open_ &= ~np.isin(cloth.across, cloth.vents)
    open_[cloth.vents] = False
    allowed = open_ & ~barrier[cloth.struts]
    free = np.ones(len(cloth.faces), dtype=bool)
    free[cloth.vents] = False
    flat = face_points(cloth, room)
    pieces: list[Unrolled] = []
    while free.any():
        start = _start(cloth, allowed, free, pieces[-1] if pieces else {})
        piece = _Grower(cloth, flat, room, allowed).grow(start, free)
        free[list(piece)] = False
        pieces.append(piece)
    return tuple(_joined(cloth, pieces, open_, room))


def _start(
    cloth: Cloth, allowed: NDArray[np.bool_], free: NDArray[np.bool_], last: Unrolled
) -> int:
    """Return the free face with the fewest free neighbours, beside the `last` piece if it can."""
    ways = (allowed & free[cloth.across]).sum(axis=1)
    beside = np.asarray(np.isin(cloth.across, list(last)).any(axis=1))
    height = cloth.points[cloth.faces, 2].sum(axis=1)
    candidates = np.flatnonzero(free)
    order = np.lexsort(
        (candidates, np.rint(height[candidates] * 1e6), ~beside[candidates], ways[candidates])
    )
    return int(candidates[order[0]])


@dataclass(frozen=True)
class _Grower:
    cloth: Cloth
    flat: tuple[Floats, ...]
    room: Room
    allowed: NDArray[np.bool_]

    def grow(self, start: int, free: NDArray[np.bool_]) -> Unrolled:
        """Return the piece that grows from `start` over free faces."""
        cloth, room = self.cloth, self.room
        laid: Unrolled = {start: self.flat[start]}
        points, angle = self.flat[start], 0.0
        waiting: list[tuple[float, int, int]] = []
        _offer(cloth, start, self.allowed, waiting)
        while waiting:
            _, face, edge = heapq.heappop(waiting)
            if face in laid or not free[face]:
                continue
            laid[face] = hinged(cloth, laid, self.flat[face], face, edge)
            good = _meets(cloth, laid, face) and _clear(cloth, laid, face, room)
            more = np.concatenate([points, laid[face]])
            # a piece that grows along the roll keeps its direction: no hull is needed then
            if good and not room.holds(more, angle):
                more = hull(more)
                found = room.direction(more)
                good, angle = found is not None, angle if found is None else found
            if good:
                points = more
                _offer(cloth, face, self.allowed, waiting)
            else:
                del laid[face]
        return laid


def _offer(
    cloth: Cloth, face: int, allowed: NDArray[np.bool_], waiting: list[tuple[float, int, int]]
) -> None:
    for k in range(3):
        if allowed[face, k]:
            other = int(cloth.across[face, k])
            edge = int(np.flatnonzero(cloth.across[other] == face)[0])
            heapq.heappush(waiting, (-round(float(cloth.lengths[face, k]), 6), other, edge))


def _meets(cloth: Cloth, laid: Unrolled, face: int) -> bool:
    """Return whether `face` lies against every neighbour in the piece along its whole strut.

    Along the strut it was hinged on it does. Round a hub that is flat it closes with the others
    as well, and no cut is left between them.
    """
    for k in range(3):
        other = int(cloth.across[face, k])
        if other not in laid:
            continue
        hubs = cloth.faces[other].tolist()
        for corner in (k, (k + 1) % 3):
            there = laid[other][hubs.index(cloth.faces[face, corner])]
            if np.abs(there - laid[face][corner]).max() > FLAT:
                return False
    return True


def _clear(cloth: Cloth, laid: Unrolled, face: int, room: Room) -> bool:
    """Return whether `face` keeps two allowances away from all faces it shares no hub with."""
    mine = set(cloth.faces[face].tolist())
    others = [
        points[:3]
        for f, points in laid.items()
        if f != face and mine.isdisjoint(cloth.faces[f].tolist())
    ]
    if not others:
        return True
    return bool(_apart(laid[face][:3], np.array(others)).min() >= 2 * room.allowance["seam"])


def _apart(one: Floats, others: Floats) -> Floats:
    """Return how far apart (n,) triangle `one` (3, 2) is from `others` (n, 3, 2), at least.

    The largest gap along the normals of both: below 0 where they overlap.
    """
    mine = np.broadcast_to(one, others.shape)
    steps = np.concatenate([np.roll(t, -1, axis=1) - t for t in (mine, others)], axis=1)
    normals = np.stack([steps[..., 1], -steps[..., 0]], axis=2)
    normals /= np.linalg.norm(normals, axis=2)[..., None]
    a = np.einsum("nad,nkd->nak", normals, mine)
    b = np.einsum("nad,nkd->nak", normals, others)
    gap = np.maximum(b.min(axis=2) - a.max(axis=2), a.min(axis=2) - b.max(axis=2))
    return np.asarray(gap.max(axis=1))


def _joined(
    cloth: Cloth, pieces: list[Unrolled], open_: NDArray[np.bool_], room: Room
) -> list[Unrolled]:
    """Return the pieces with small ones joined to a neighbour that they share one strut with."""
    owner = np.full(len(cloth.faces), -1)
    for k, piece in enumerate(pieces):
        owner[list(piece)] = k
    sets = dict(enumerate(pieces))
    refused: set[tuple[int, int, int, int]] = set()
    rows, edges = np.nonzero(open_)
    order = np.lexsort((rows, -np.rint(cloth.lengths[rows, edges] * 1e6)))
    for face, edge in zip(rows[order].tolist(), edges[order].tolist(), strict=True):
        a, b = int(owner[face]), int(owner[cloth.across[face, edge]])
        tried = (min(a, b), max(a, b), len(sets[a]), len(sets[b]))
        if a == b or tried in refused:
            continue
        keep, give = (a, b) if len(sets[a]) >= len(sets[b]) else (b, a)
        if union := _union(cloth, sets[keep], sets[give], room):
            sets[keep] = union
            owner[list(sets.pop(give))] = keep
        else:
            refused.add(tried)
    return list(sets.values())


def _union(cloth: Cloth, keep: Unrolled, give: Unrolled, room: Room) -> Unrolled | None:
    links = [
        (f, k) for f in give for k in range(3) if int(cloth.across[f, k]) in keep
    ]  # fmt: skip
    if not links:
        return None
    face, edge = links[0]
    laid = dict(keep)
    was = give[face]
    placed = hinged(cloth, keep, was, face, edge)
    turn = np.arctan2(*(placed[1] - placed[0])[::-1]) - np.arctan2(*(was[1] - was[0])[::-1])
    for f, points in give.items():
        laid[f] = turned(points - was[0], float(turn)) + placed[0]
    if not room.fits(np.concatenate(list(laid.values()))):
        return None
    good = all(_meets(cloth, laid, f) and _clear(cloth, laid, f, room) for f in give)
    return laid if good else None
