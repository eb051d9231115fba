"""From points in space to lines on paper: cameras, hidden lines, white gaps at crossings."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from strutwright.values import ArrayValue, Faces, Floats, Indices, StrutEnds

__all__ = [
    "FRONT",
    "ISOMETRIC",
    "PLAN",
    "SIDE",
    "Camera",
    "Pieces",
    "elevation",
    "perspective",
    "project",
    "see",
]

CHUNK: Final = 256
"""Segments compared with all others at a time: bounds the memory of large shells."""
TOUCH: Final = 1e-7
"""Depths nearer than this share of the picture's size count as one."""
STRETCH: Final = 3.0
"""A gap grows with the slant of a crossing to at most so many times its width; our choice."""


@dataclass(frozen=True)
class Camera:
    """Where the viewer stands.

    Parameters
    ----------
    name : str
        What the view is called.
    azimuth : float
        Direction of the viewer from the object, rad anticlockwise from +x.
    height : float
        Angle of the viewer above the ground, rad.
    distance : float or None
        Distance from the object's centre in the object's unit; None for a parallel view.
    """

    name: str
    azimuth: float
    height: float
    distance: float | None = None


PLAN: Final = Camera("plan", -math.pi / 2, math.pi / 2)
FRONT: Final = Camera("front", -math.pi / 2, 0.0)
"""Seen along +y: x runs to the right."""
SIDE: Final = Camera("side", 0.0, 0.0)
"""Seen against x, from its positive end: y runs to the right."""
ISOMETRIC: Final = Camera("isometric", -math.pi / 4, math.atan(math.sqrt(0.5)))
"""The three axes are shortened alike."""


def elevation(name: str, azimuth: float) -> Camera:
    """Return the level view of a viewer who stands at `azimuth`, rad."""
    return Camera(name, azimuth, 0.0)


def perspective(size: float, azimuth: float = -math.pi / 3, height: float = 0.42) -> Camera:
    """Return a mild perspective: the viewer stands four times the object's `size` away."""
    return Camera("perspective", azimuth, height, 4.0 * size)


def project(camera: Camera, points: Floats, centre: Floats | None = None) -> Floats:
    """Return the (n, 3) picture of `points` (n, 3): right, up, and depth towards the viewer.

    `centre` (3,) is looked at; left out, the origin. Lengths keep their unit.
    """
    a, h = camera.azimuth, camera.height
    toward = np.array([math.cos(h) * math.cos(a), math.cos(h) * math.sin(a), math.sin(h)])
    right = np.array([-math.sin(a), math.cos(a), 0.0])
    rows = np.array([right, np.cross(toward, right), toward])
    seen: Floats = (points - (0.0 if centre is None else centre)) @ rows.T
    if camera.distance is not None:
        seen = seen * (camera.distance / (camera.distance - seen[:, 2:]))
    return seen


@dataclass(frozen=True, eq=False)
class Pieces(ArrayValue):
    """What is left of segments after cutting, the farthest first.

    Parameters
    ----------
    segment : (P,) int array
        Which segment each piece is of.
    start, end : (P, 2) array
        Ends on the picture.
    hidden : (P,) bool array
        True where a face lies before the piece.
    """

    segment: Indices
    start: Floats
    end: Floats
    hidden: NDArray[np.bool_]


def see(
    seen: Floats, segments: StrutEnds, faces: Faces | None = None, *, gap: float = 0.0
) -> Pieces:
    """Return the pieces of `segments` on the picture, the farther ones cut where nearer ones cross.

    Parameters
    ----------
    seen : (n, 3) array
        Projected points: right, up, depth towards the viewer, in the unit of the picture.
    segments : (S, 2) int array
        Ends of each segment.
    faces : (F, 3) int array or None
        Opaque faces; pieces behind them are marked hidden and cut no others.
    gap : float
        White on either side of a nearer segment, in the unit of the picture.
    """
    table = [(k, 0.0, 1.0, False) for k in range(len(segments))]
    if faces is not None and len(faces):
        table = _split_at_outline(seen, segments, faces)
    whole = np.unique([row[0] for row in table if not row[3]])
    cuts = _crossings(seen, segments, np.asarray(whole, dtype=np.int64), gap) if gap else {}
    rows = []
    for segment, low, high, hidden in table:
        for a, b in [(low, high)] if hidden else _without(low, high, cuts.get(segment, [])):
            rows.append((segment, a, b, hidden))
    return _pieces(seen, segments, rows)


def _pieces(
    seen: Floats, segments: StrutEnds, rows: list[tuple[int, float, float, bool]]
) -> Pieces:
    which = np.array([row[0] for row in rows], dtype=np.int64)
    low = np.array([row[1] for row in rows], dtype=np.float64)[:, None]
    high = np.array([row[2] for row in rows], dtype=np.float64)[:, None]
    hidden = np.array([row[3] for row in rows], dtype=bool)
    a, b = seen[segments[which, 0]], seen[segments[which, 1]]
    start, end = a + (b - a) * low, a + (b - a) * high
    depth = np.round((start[:, 2] + end[:, 2]) / 2, 9)
    order = np.lexsort((low[:, 0], which, depth, ~hidden))
    return Pieces(which[order], start[order, :2], end[order, :2], hidden[order])


def _without(low: float, high: float, cuts: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return what is left of the stretch from low to high when all `cuts` are taken out."""
    left = []
    for a, b in sorted(cuts):
        if a > low:
            left.append((low, min(a, high)))
        low = max(low, b)
        if low >= high:
            break
    if low < high:
        left.append((low, high))
    return [(a, b) for a, b in left if b - a > 1e-9]


def _meetings(
    seen: Floats, one: StrutEnds, two: StrutEnds
) -> tuple[Indices, Indices, Floats, Floats, Floats]:
    """Return where segments `one` cross segments `two` on the picture.

    Rows of one and two, their parameters of the crossing, and the sine of the angle between.
    """
    p, r = seen[one[:, 0], :2], seen[one[:, 1], :2] - seen[one[:, 0], :2]
    q, s = seen[two[:, 0], :2], seen[two[:, 1], :2] - seen[two[:, 0], :2]
    product = r[:, None, 0] * s[None, :, 1] - r[:, None, 1] * s[None, :, 0]
    lengths = np.hypot(*r.T)[:, None] * np.hypot(*s.T)[None, :]
    with np.errstate(divide="ignore", invalid="ignore"):
        sine = np.abs(product) / lengths
        apart = q[None] - p[:, None]
        t = (apart[..., 0] * s[None, :, 1] - apart[..., 1] * s[None, :, 0]) / product
        u = (apart[..., 0] * r[:, None, 1] - apart[..., 1] * r[:, None, 0]) / product
    inside = (sine > 1e-6) & (t > 1e-9) & (t < 1 - 1e-9) & (u > 1e-9) & (u < 1 - 1e-9)
    for i in range(2):
        for j in range(2):
            inside &= one[:, None, i] != two[None, :, j]
    rows, cols = np.nonzero(inside)
    return rows, cols, t[rows, cols], u[rows, cols], sine[rows, cols]


def _depth(seen: Floats, segments: StrutEnds, at: Floats) -> Floats:
    a, b = seen[segments[:, 0], 2], seen[segments[:, 1], 2]
    return np.asarray(a + (b - a) * at, dtype=np.float64)


def _crossings(
    seen: Floats, segments: StrutEnds, which: Indices, gap: float
) -> dict[int, list[tuple[float, float]]]:
    """Return for each segment the stretches that nearer segments of `which` cut out."""
    size = float(np.ptp(seen[:, :2], axis=0).max()) or 1.0
    lengths = np.linalg.norm(seen[segments[:, 1], :2] - seen[segments[:, 0], :2], axis=1)
    cuts: dict[int, list[tuple[float, float]]] = {}
    low, high = _spread(seen, segments[which])
    order = np.argsort(low, kind="stable")
    for first in range(0, len(which), CHUNK):
        rows_in = order[first : first + CHUNK]
        block, others = which[rows_in], which[_overlapping(low, high, rows_in)]
        rows, cols, t, u, sine = _meetings(seen, segments[block], segments[others])
        mine, other = block[rows], others[cols]
        behind = _depth(seen, segments[mine], t) < _depth(seen, segments[other], u) - TOUCH * size
        reach = gap * np.minimum(1 / sine, STRETCH) / lengths[mine]
        for k in np.flatnonzero(behind):
            cuts.setdefault(int(mine[k]), []).append((t[k] - reach[k], t[k] + reach[k]))
    return cuts


def _outline(seen: Floats, faces: Faces) -> StrutEnds:
    """Return the edges of faces where the surface ends or turns away from the viewer."""
    a, b, c = (seen[faces[:, k], :2] for k in range(3))
    area = (b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]
    small = 1e-9 * float(np.ptp(seen[:, :2], axis=0).max()) ** 2
    turn = np.where(np.abs(area) <= small, 0, np.sign(area))
    edges = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    unique, place = np.unique(np.sort(edges, axis=1), axis=0, return_inverse=True)
    place = place.ravel()
    count = np.bincount(place)
    total = np.bincount(place, weights=np.tile(turn, 3))
    keep = (count == 1) | (np.abs(total) < 2)
    return np.asarray(unique[keep], dtype=np.int64)


def _split_at_outline(
    seen: Floats, segments: StrutEnds, faces: Faces
) -> list[tuple[int, float, float, bool]]:
    """Return segments cut where they pass the outline of the faces, each piece hidden or not."""
    outline = _outline(seen, faces)
    at: dict[int, list[float]] = {}
    for first in range(0, len(segments), CHUNK):
        rows, _, t, _, _ = _meetings(seen, segments[first : first + CHUNK], outline)
        for row, value in zip(rows.tolist(), t.tolist(), strict=True):
            at.setdefault(first + row, []).append(value)
    pieces = []
    for k in range(len(segments)):
        stops = [0.0, *sorted(at.get(k, [])), 1.0]
        pieces += [(k, a, b) for a, b in pairwise(stops) if b - a > 1e-9]
    which = np.array([piece[0] for piece in pieces], dtype=np.int64)
    # Off the exact middle: on symmetric shells the middle of a far strut lies on a nearer edge.
    middle = np.array([a + (b - a) * 0.4871 for _, a, b in pieces])[:, None]
    a, b = seen[segments[which, 0]], seen[segments[which, 1]]
    hidden = _behind(a + (b - a) * middle, seen[faces])
    merged: list[tuple[int, float, float, bool]] = []
    for (segment, low, high), flag in zip(pieces, hidden.tolist(), strict=True):
        if merged and merged[-1][0] == segment and merged[-1][3] == flag:
            merged[-1] = (segment, merged[-1][1], high, flag)
        else:
            merged.append((segment, low, high, flag))
    return merged


def _behind(points: Floats, corners: Floats) -> NDArray[np.bool_]:
    """Return which of `points` (n, 3) lie behind one of the triangles `corners` (F, 3, 3)."""
    size = float(np.ptp(corners[..., :2].reshape(-1, 2), axis=0).max()) or 1.0
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    ab, ac = b - a, c - a
    area = ab[:, 0] * ac[:, 1] - ab[:, 1] * ac[:, 0]
    flat = np.abs(area) <= 1e-9 * size**2
    hidden = np.zeros(len(points), dtype=bool)
    least, most = corners[..., 0].min(axis=1), corners[..., 0].max(axis=1)
    order = np.argsort(points[:, 0], kind="stable")
    for first in range(0, len(points), CHUNK):
        part = order[first : first + CHUNK]
        near = (least <= points[part[-1], 0]) & (most >= points[part[0], 0]) & ~flat
        hidden[part] = _under(points[part], corners[near], 1e-5 * size)
    return hidden


def _under(points: Floats, corners: Floats, slack: float) -> NDArray[np.bool_]:
    """Return which of `points` lie under one of the triangles by more than `slack`."""
    a, ab, ac = (
        corners[:, 0],
        corners[:, 1] - corners[:, 0],
        corners[:, 2] - corners[:, 0],
    )
    area = ab[:, 0] * ac[:, 1] - ab[:, 1] * ac[:, 0]
    x = points[:, None, 0] - a[None, :, 0]
    y = points[:, None, 1] - a[None, :, 1]
    v = (x * ac[:, 1] - y * ac[:, 0]) / area
    w = (ab[:, 0] * y - ab[:, 1] * x) / area
    within = (v >= -TOUCH) & (w >= -TOUCH) & (v + w <= 1 + TOUCH)
    depth = a[:, 2] + v * ab[:, 2] + w * ac[:, 2]
    return np.asarray((within & (depth > points[:, None, 2] + slack)).any(axis=1))


def _spread(seen: Floats, segments: StrutEnds) -> tuple[Floats, Floats]:
    """Return the leftmost and the rightmost place of each segment."""
    ends = seen[segments, 0]
    return ends.min(axis=1), ends.max(axis=1)


def _overlapping(low: Floats, high: Floats, rows: Indices) -> Indices:
    """Return the segments that stand over or under any of `rows` on the picture."""
    return np.flatnonzero((low <= high[rows].max()) & (high >= low[rows].min()))
