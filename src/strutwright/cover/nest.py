"""Pieces on rolls, in rows: lanes along the roll, each piece pushed against the one before."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from strutwright.cover.unroll import polygon_area, turned
from strutwright.cover.values import Nest, Placed, StockUse
from strutwright.values import Floats

__all__ = ["GAP", "half_turn", "laid", "nest_in_rows", "slide"]

GAP: Final = 0.005
"""m left between pieces, for the knife or the saw; our choice."""
SHARED: Final = 0.6
"""Width left beside a lane, as a share of its height, below which the lane takes it too: its pieces
may then lie at either side and interlock."""
SIDE: Final = 1e-7
"""m beside a corner at which the outline is also tried."""
ALIKE: Final = 1e-6
"""m by which the corners of two outlines may differ that are taken as one."""


def half_turn(outline: Floats) -> Floats:
    """Return `outline` (n, 2) turned by half a turn, in the same box from (0, 0)."""
    return np.asarray(outline.max(axis=0) + outline.min(axis=0) - outline)


def laid(outline: Floats, angle: float) -> Floats:
    """Return `outline` (n, 2) turned by `angle`, rad, in a box from where its own began."""
    if not angle:
        return outline
    if angle == math.pi:
        return half_turn(outline)
    there = turned(outline, angle)
    return np.asarray(there - there.min(axis=0) + outline.min(axis=0))


def slide(left: Floats, right: Floats, gap: float = GAP) -> float:
    """Return by how much `right` (m, 2) has to move in +x to clear `left` (n, 2) by `gap`, m.

    Both outlines are closed; the gap is measured along x.
    """
    heights = np.concatenate([left[:, 1], right[:, 1]])
    heights = np.unique(np.concatenate([heights - SIDE, heights + SIDE]))
    far = _reach(left, heights, largest=True)
    near = _reach(right, heights, largest=False)
    both = np.isfinite(far) & np.isfinite(near)
    return float((far - near)[both].max() + gap) if both.any() else -np.inf


def _reach(outline: Floats, heights: Floats, *, largest: bool) -> Floats:
    """Return the largest or smallest x of an outline at each height; infinite beside it."""
    a, b = outline, np.roll(outline, -1, axis=0)
    rise = b[:, 1] - a[:, 1]
    slanted = np.abs(rise) > 0
    a, b, rise = a[slanted], b[slanted], rise[slanted]
    share = (heights[:, None] - a[:, 1]) / rise
    x = np.where((share >= 0) & (share <= 1), a[:, 0] + share * (b[:, 0] - a[:, 0]), np.nan)
    lost = -np.inf if largest else np.inf
    x = np.where(np.isnan(x), lost, x)
    return np.asarray(x.max(axis=1) if largest else x.min(axis=1))


@dataclass(frozen=True)
class _Shape:
    """A piece as it may lie in a lane, against its lower side: what it is, and its outline."""

    name: tuple[int, bool, float]
    outline: Floats
    length: float
    middle: float


@dataclass(frozen=True)
class _Offer:
    """Where a piece would lie in a lane: its shape there, how far along, and its end."""

    shape: _Shape
    x: float
    end: float


_Known = dict[tuple[tuple[int, bool, float], tuple[int, bool, float]], float]
"""How far one shape has to move past another: pieces are mostly alike."""


@dataclass(eq=False)
class _Lane:
    stock: int
    y: float
    height: float
    gap: float
    known: _Known
    taken: list[_Offer] = field(default_factory=list)
    end: float = 0.0

    def offer(self, outline: Floats, kind: int) -> _Offer:
        """Return the best place for a piece: at either side of the lane, turned or not."""
        found = []
        room = max(self.height - float(outline[:, 1].max()), 0.0)
        for up in sorted({0.0, room}):
            for flip, there in ((False, outline), (True, half_turn(outline))):
                far, middle = float(there[:, 0].max()), _middle(there)
                raised = there + np.array([0.0, up])
                shape = _Shape((kind, flip, round(up, 9)), raised, far, middle)
                x = self._clear(shape)
                found.append(_Offer(shape, x, x + far))
        # of two that end alike the one that leaves more room behind it
        return min(
            found, key=lambda one: (round(one.end, 4), one.shape.middle, *one.shape.name[:0:-1])
        )

    def _clear(self, shape: _Shape) -> float:
        """Return how far along `shape` clears all pieces; farthest first, the rest cannot touch."""
        x = 0.0
        for before in self.taken:
            if before.end + self.gap <= x:
                break
            pair = (before.shape.name, shape.name)
            if pair not in self.known:
                self.known[pair] = slide(before.shape.outline, shape.outline, self.gap)
            x = max(x, before.x + self.known[pair])
        return x

    def take(self, offer: _Offer) -> None:
        self.taken.append(offer)
        self.taken.sort(key=lambda one: -one.end)
        self.end = max(self.end, offer.end)


def nest_in_rows(
    outlines: Sequence[Floats], width: float, lengths: Sequence[float], gap: float = GAP
) -> Nest:
    """Return the pieces laid on rolls or sheets of one `width` in lanes along their length.

    Parameters
    ----------
    outlines : sequence of (n, 2) arrays, m
        Each in a box from (0, 0), as it lies along the roll; half a turn is tried as well.
    width : float, m
    lengths : sequence of float, m
        Lengths that rolls or sheets are sold in; each is bought as short as will do.
    gap : float, m
        Left between pieces.

    Raises
    ------
    ValueError
        A piece is larger than a roll or sheet: whoever made the piece should have said so.
    """
    if any(_size(o, 1) > width + 1e-9 or _size(o, 0) > max(lengths) + 1e-9 for o in outlines):
        msg = "a piece is larger than what it is to be cut from"
        raise ValueError(msg)
    bed = _Bed(width, max(lengths), gap, {})
    kinds = _kinds(outlines)
    first, *orders = _orders(outlines)
    found = _in_order(outlines, kinds, first, bed, lengths)
    area = sum(abs(polygon_area(outline)) for outline in outlines)
    if found.bought <= _least_bought(area / width, lengths) + 1e-9:
        return found  # no order of the pieces buys less
    more = [_in_order(outlines, kinds, order, bed, lengths) for order in orders]
    return min([found, *more], key=lambda nest: (round(nest.bought, 9), round(nest.length, 4)))


def _least_bought(length: float, lengths: Sequence[float]) -> float:
    """Return the metres that have to be bought for `length` m without any waste."""
    whole, rest = divmod(length, max(lengths))
    return float(whole * max(lengths)) + min(v for v in lengths if v >= rest - 1e-9)


def _orders(outlines: Sequence[Floats]) -> list[list[int]]:
    """Return the orders that are tried: the widest first, the largest first, the longest first."""
    across = [-_size(outline, 1) for outline in outlines]
    along = [-_size(outline, 0) for outline in outlines]
    areas = [-round(abs(polygon_area(outline)), 9) for outline in outlines]
    keys = (list(zip(across, along, strict=True)), areas, list(zip(along, across, strict=True)))
    found: list[list[int]] = []
    for key in keys:
        order = sorted(range(len(outlines)), key=key.__getitem__)
        if order not in found:
            found.append(order)
    return found


def _in_order(
    outlines: Sequence[Floats],
    kinds: Sequence[int],
    order: Sequence[int],
    bed: _Bed,
    lengths: Sequence[float],
) -> Nest:
    lanes: list[_Lane] = []
    placed: dict[int, Placed] = {}
    for k in order:
        lane, offer = bed.best(lanes, outlines[kinds[k]], kinds[k])
        lane.take(offer)
        _, flip, up = offer.shape.name
        placed[k] = Placed(k, lane.stock, offer.x, lane.y + up, math.pi if flip else 0.0)
    rolls = max((lane.stock for lane in lanes), default=-1) + 1
    used = [max(lane.end for lane in lanes if lane.stock == r) for r in range(rolls)]
    stock = tuple(StockUse(bed.width, min(v for v in lengths if v >= u - 1e-9), u) for u in used)
    area = sum(abs(polygon_area(outline)) for outline in outlines)
    taken = sum(use.width * use.used for use in stock)
    rows = tuple(placed[k] for k in sorted(placed))
    return Nest("rows", rows, stock, area / taken if taken else 0.0)


@dataclass(frozen=True)
class _Bed:
    """Width and length of the stock, the gap between pieces, and what is known of these."""

    width: float
    length: float
    gap: float
    known: _Known

    def best(self, lanes: list[_Lane], outline: Floats, kind: int) -> tuple[_Lane, _Offer]:
        """Return the lane for a piece: on the first roll with room, where it ends soonest."""
        height = _size(outline, 1)
        found: list[tuple[tuple[int, float, int], _Lane, _Offer]] = []
        for n, lane in enumerate(lanes):
            if height <= lane.height + 1e-9:
                offer = lane.offer(outline, kind)
                if offer.end <= self.length + 1e-9:
                    found.append(((lane.stock, round(offer.end, 9), n), lane, offer))
        rolls = max((lane.stock for lane in lanes), default=-1) + 1
        for r in range(rolls):
            y = max(lane.y + lane.height + self.gap for lane in lanes if lane.stock == r)
            if y + height <= self.width + 1e-9:
                lane = self._lane(r, y, height)
                offer = lane.offer(outline, kind)
                found.append(((r, round(offer.end, 9), len(lanes)), lane, offer))
        if not found:
            lane = self._lane(rolls, 0.0, height)
            found = [((rolls, 0.0, 0), lane, lane.offer(outline, kind))]
        _, lane, offer = min(found, key=lambda one: one[0])
        if lane not in lanes:
            lanes.append(lane)
        return lane, offer

    def _lane(self, stock: int, y: float, height: float) -> _Lane:
        """Return a lane; it takes the width that is left where that is too little for another."""
        left = self.width - y - height
        wide = height + left if left < SHARED * height else height
        return _Lane(stock, y, wide, self.gap, self.known)


def _kinds(outlines: Sequence[Floats]) -> list[int]:
    """Return for each outline the first that is the same to a hair."""
    first: dict[tuple[tuple[float, float], ...], int] = {}
    found = []
    for k, outline in enumerate(outlines):
        corners = [(x, y) for x, y in np.rint(outline / ALIKE).tolist()]
        start = corners.index(min(corners))
        found.append(first.setdefault((*corners[start:], *corners[:start]), k))
    return found


def _size(outline: Floats, axis: int) -> float:
    return round(float(np.ptp(outline[:, axis])), 9)


def _middle(outline: Floats) -> float:
    return round(float(outline[:, 0].mean()), 6)
