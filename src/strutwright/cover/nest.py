"""Pieces on rolls, in rows: lanes along the roll, each piece pushed against the one before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from strutwright.cover.unroll import polygon_area
from strutwright.cover.values import Nest, Placed, StockUse
from strutwright.values import Floats

__all__ = ["GAP", "half_turn", "nest_in_rows", "slide"]

GAP: Final = 0.005
"""m left between pieces, for the knife or the saw; our choice."""
SHARED: Final = 0.6
"""Width left beside a lane, as a share of its height, below which the lane takes it too: its pieces
may then lie at either side and interlock."""
SIDE: Final = 1e-7
"""m beside a corner at which the outline is also tried."""


def half_turn(outline: Floats) -> Floats:
    """Return `outline` (n, 2) turned by half a turn, in the same box from (0, 0)."""
    return np.asarray(outline.max(axis=0) + outline.min(axis=0) - outline)


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
class _Offer:
    """Where a piece would lie in a lane: the lane's end with it, x and y in the lane, turned."""

    end: float
    x: float
    y: float
    flip: bool
    shape: Floats


@dataclass(eq=False)
class _Lane:
    stock: int
    y: float
    height: float
    gap: float
    outlines: list[Floats] = field(default_factory=list)
    end: float = 0.0

    def offer(self, outline: Floats) -> _Offer:
        """Return the best place for a piece: at either side of the lane, turned or not."""
        found = []
        room = max(self.height - float(outline[:, 1].max()), 0.0)
        for up in {0.0, room}:
            for flip, turned in ((False, outline), (True, half_turn(outline))):
                shape = turned + np.array([0.0, up])
                x = self._clear(shape)
                found.append(_Offer(x + float(shape[:, 0].max()), x, up, flip, shape))
        # of two that end alike the one that leaves more room behind it
        return min(found, key=lambda one: (round(one.end, 4), _middle(one.shape), one.y, one.flip))

    def _clear(self, shape: Floats) -> float:
        """Return how far along `shape` clears all pieces; farthest first, the rest cannot touch."""
        x = 0.0
        for before in self.outlines:
            if float(before[:, 0].max()) + self.gap <= x:
                break
            x = max(x, slide(before, shape, self.gap))
        return x

    def take(self, offer: _Offer) -> None:
        self.outlines.append(offer.shape + np.array([offer.x, 0.0]))
        self.outlines.sort(key=lambda outline: -float(outline[:, 0].max()))
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
    lanes: list[_Lane] = []
    placed: dict[int, Placed] = {}
    sizes = [(-_size(outline, 1), -_size(outline, 0)) for outline in outlines]
    bed = _Bed(width, max(lengths), gap)
    for k in sorted(range(len(outlines)), key=lambda k: (sizes[k], k)):
        lane, offer = bed.best(lanes, outlines[k])
        lane.take(offer)
        placed[k] = Placed(k, lane.stock, offer.x, lane.y + offer.y, offer.flip)
    rolls = max((lane.stock for lane in lanes), default=-1) + 1
    used = [max(lane.end for lane in lanes if lane.stock == r) for r in range(rolls)]
    stock = tuple(StockUse(width, min(v for v in lengths if v >= u - 1e-9), u) for u in used)
    area = sum(abs(polygon_area(outline)) for outline in outlines)
    taken = sum(use.width * use.used for use in stock)
    rows = tuple(placed[k] for k in sorted(placed))
    return Nest("rows", rows, stock, area / taken if taken else 0.0)


@dataclass(frozen=True)
class _Bed:
    """Width and length of the stock, and the gap between pieces."""

    width: float
    length: float
    gap: float

    def best(self, lanes: list[_Lane], outline: Floats) -> tuple[_Lane, _Offer]:
        """Return the lane for a piece: on the first roll with room, where it ends soonest."""
        height = _size(outline, 1)
        found: list[tuple[tuple[int, float, int], _Lane, _Offer]] = []
        for n, lane in enumerate(lanes):
            if height <= lane.height + 1e-9:
                offer = lane.offer(outline)
                if offer.end <= self.length + 1e-9:
                    found.append(((lane.stock, round(offer.end, 9), n), lane, offer))
        rolls = max((lane.stock for lane in lanes), default=-1) + 1
        for r in range(rolls):
            y = max(lane.y + lane.height + self.gap for lane in lanes if lane.stock == r)
            if y + height <= self.width + 1e-9:
                lane = self._lane(r, y, height)
                offer = lane.offer(outline)
                found.append(((r, round(offer.end, 9), len(lanes)), lane, offer))
        if not found:
            lane = self._lane(rolls, 0.0, height)
            found = [((rolls, 0.0, 0), lane, lane.offer(outline))]
        _, lane, offer = min(found, key=lambda one: one[0])
        if lane not in lanes:
            lanes.append(lane)
        return lane, offer

    def _lane(self, stock: int, y: float, height: float) -> _Lane:
        """Return a lane; it takes the width that is left where that is too little for another."""
        left = self.width - y - height
        wide = height + left if left < SHARED * height else height
        return _Lane(stock, y, wide, self.gap)


def _size(outline: Floats, axis: int) -> float:
    return round(float(np.ptp(outline[:, axis])), 9)


def _middle(outline: Floats) -> float:
    return round(float(outline[:, 0].mean()), 6)
