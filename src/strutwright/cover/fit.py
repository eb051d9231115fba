"""Convex panels on sheets: each put into the corner that those before it have left.

Where a panel may lie is worked out exactly: the sheet less, for each panel that lies there, all
places that would touch it (their no-fit polygon, which of convex shapes is the sum of one and the
other turned by half a turn). Of all corners of what is left the first along the sheet is taken. The
same panels give the same plan.

Source: no-fit polygons and bottom-left placing, Bennell and Oliveira, EJOR 184 (2008), recalled.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

import numpy as np

from strutwright.cover.nest import GAP, laid
from strutwright.cover.unroll import polygon_area
from strutwright.cover.values import Nest, Placed, StockUse
from strutwright.values import Floats

if TYPE_CHECKING:
    from manifold3d import CrossSection

__all__ = ["better_nest", "fit_on_sheets", "least_sheets"]

HAIR: Final = 1e-6
"""m by which panels that fit exactly may lie in one another's gap."""
MANY: Final = 300
"""Ways to lie, of all panels together, above which one order of the panels alone is tried."""

_Rank = Callable[[float, float, "_Shape"], tuple[float, ...]]
RANKS: Final[tuple[_Rank, ...]] = (
    lambda x, y, shape: (x + shape.size[0], y + shape.size[1]),
    lambda x, y, shape: (x + shape.middle[0], y + shape.middle[1]),
)
"""What is least at the place that is taken: how far the panel reaches, or its middle."""


@dataclass(frozen=True, eq=False)
class _Ring:
    """The edges of a convex outline from its lowest corner on, and their directions."""

    start: Floats
    steps: Floats
    ways: Floats


@dataclass(frozen=True, eq=False)
class _Shape:
    """A panel as it may lie, in its box from (0, 0): number and turn, what touches it, sizes."""

    key: tuple[int, float]
    fixed: _Ring
    moving: _Ring
    size: tuple[float, float]
    middle: tuple[float, float]
    area: float


@dataclass(frozen=True, eq=False)
class _Spot:
    shape: _Shape
    x: float
    y: float


@dataclass(eq=False)
class _Sheet:
    spots: list[_Spot] = field(default_factory=list)
    free: dict[tuple[int, float], tuple[int, CrossSection]] = field(default_factory=dict)
    left: float = 0.0


def least_sheets(area: float, sheet: tuple[float, float]) -> int:
    """Return the number of sheets (width, length) that `area` (m2) needs without any waste."""
    return int(np.ceil(area / (sheet[0] * sheet[1]) - 1e-9))


def better_nest(*plans: Nest) -> Nest:
    """Return the plan that buys least, of those the one that uses least; the first where alike."""
    return min(plans, key=lambda nest: (round(nest.bought, 9), round(nest.length, 4)))


def fit_on_sheets(
    outlines: Sequence[Floats],
    turns: Sequence[Sequence[float]],
    sheet: tuple[float, float],
    gap: float = GAP,
) -> Nest:
    """Return the panels on sheets of one size, as few as are found.

    Parameters
    ----------
    outlines : sequence of (n, 2) arrays, m
        Convex, anticlockwise.
    turns : sequence of sequences of float, rad
        Of each, the angles that it may be turned by.
    sheet : (float, float), m
        Width and length.
    gap : float, m
        Left between panels.

    Raises
    ------
    ValueError
        A panel fits on the sheet in none of its turns.
    """
    bed = _Bed(sheet, {})
    shapes = _shapes(outlines, turns, sheet, gap)
    area = sum(own[0].area for own in shapes)
    best: Nest | None = None
    orders = _orders(shapes)
    few = sum(len(own) for own in shapes) <= MANY
    for order in orders if few else orders[:1]:
        for rank in RANKS:
            found = bed.filled(order, shapes, rank)
            best = found if best is None else better_nest(best, found)
            if len(best.stock) <= least_sheets(area, sheet):
                return best
    if best is None:
        msg = "there is no panel"
        raise ValueError(msg)
    return best


def _orders(shapes: Sequence[Sequence[_Shape]]) -> list[list[int]]:
    """Return the orders that are tried: the largest first, the highest, the longest."""
    keys = (
        [-round(own[0].area, 6) for own in shapes],
        [-round(min(s.size[1] for s in own), 6) for own in shapes],
        [-round(max(max(s.size) for s in own), 6) for own in shapes],
    )
    found: list[list[int]] = []
    for key in keys:
        order = sorted(range(len(shapes)), key=lambda k: (key[k], shapes[k][0].key, k))
        if order not in found:
            found.append(order)
    return found


def _shapes(
    outlines: Sequence[Floats],
    turns: Sequence[Sequence[float]],
    sheet: tuple[float, float],
    gap: float,
) -> list[list[_Shape]]:
    """Return for each panel the ways that it can lie on the sheet; alike panels share theirs."""
    known: dict[tuple[bytes, tuple[float, ...]], list[_Shape]] = {}
    found = []
    for outline, angles in zip(outlines, turns, strict=True):
        name = (np.rint(outline / HAIR).astype(np.int64).tobytes(), tuple(angles))
        if name not in known:
            number = len(known)
            own = [_shape(outline, (number, angle), gap) for angle in angles]
            own = [s for s in own if s.size[0] <= sheet[1] + HAIR and s.size[1] <= sheet[0] + HAIR]
            if not own:
                msg = "a panel is larger than the sheet"
                raise ValueError(msg)
            known[name] = own
        found.append(known[name])
    return found


def _shape(outline: Floats, key: tuple[int, float], gap: float) -> _Shape:
    at = laid(outline, key[1])
    at = at - at.min(axis=0)
    length, width = at.max(axis=0).tolist()
    x, y = at.mean(axis=0).tolist()
    wide = _widened(at, gap / 2 - HAIR)
    area = abs(polygon_area(at))
    return _Shape(key, _ring(wide), _ring(-wide), (length, width), (x, y), area)


def _widened(outline: Floats, by: float) -> Floats:
    """Return a convex outline with all edges moved out by `by`, m."""
    step = np.roll(outline, -1, axis=0) - outline
    step = step / np.linalg.norm(step, axis=1)[:, None]
    out = np.stack([step[:, 1], -step[:, 0]], axis=1)
    before = np.roll(out, 1, axis=0)
    # both edges at a corner move it: along the sum of their normals
    share = 1 + np.einsum("kd,kd->k", out, before)
    return np.asarray(outline + by * (out + before) / share[:, None])


def _ring(outline: Floats) -> _Ring:
    first = int(np.lexsort((outline[:, 0], outline[:, 1]))[0])
    points = np.concatenate([outline[first:], outline[: first + 1]])
    steps = np.diff(points, axis=0)
    return _Ring(points[0], steps, np.mod(np.arctan2(steps[:, 1], steps[:, 0]), 2 * np.pi))


def _touching(fixed: _Ring, moving: _Ring) -> Floats:
    """Return the outline of all places of a shape, by its origin, where it touches another.

    Minkowski's sum of the one that is `fixed` and the `moving` one turned by half a turn: the edges
    of both in order of direction.
    """
    steps = np.concatenate([fixed.steps, moving.steps])
    order = np.concatenate([fixed.ways, moving.ways]).argsort(kind="stable")
    return np.asarray(fixed.start + moving.start + steps[order].cumsum(axis=0))


@dataclass(frozen=True)
class _Bed:
    """Sheets of one size, width and length, and which places of two shapes touch."""

    sheet: tuple[float, float]
    touching: dict[tuple[tuple[int, float], tuple[int, float]], Floats]

    def filled(self, order: Sequence[int], shapes: Sequence[Sequence[_Shape]], rank: _Rank) -> Nest:
        """Return the panels put one by one onto the first sheet with room for them."""
        sheets: list[_Sheet] = []
        placed: dict[int, Placed] = {}
        full: set[tuple[int, int]] = set()  # a kind of panel that a sheet has no room for
        for k in order:
            own = shapes[k]
            kind = own[0].key[0]
            for n in range(len(sheets) + 1):
                if n == len(sheets):
                    sheets.append(_Sheet(left=self.sheet[0] * self.sheet[1]))
                if (n, kind) in full or sheets[n].left < own[0].area:
                    continue
                spot = self._best(sheets[n], own, rank)
                if spot is not None:
                    sheets[n].spots.append(spot)
                    sheets[n].left -= spot.shape.area
                    placed[k] = Placed(k, n, spot.x, spot.y, spot.shape.key[1])
                    break
                full.add((n, kind))
        width, length = self.sheet
        stock = tuple(
            StockUse(width, length, max(s.x + s.shape.size[0] for s in one.spots)) for one in sheets
        )
        area = sum(own[0].area for own in shapes)
        return Nest(
            "fitted",
            tuple(placed[k] for k in sorted(placed)),
            stock,
            area / (width * length * len(stock)),
        )

    def _best(self, sheet: _Sheet, own: Sequence[_Shape], rank: _Rank) -> _Spot | None:
        found: list[tuple[tuple[float, ...], int, _Spot]] = []
        for n, shape in enumerate(own):
            width, length = self.sheet
            high = (max(length - shape.size[0], 0.0), max(width - shape.size[1], 0.0))
            for ring in self._free(sheet, shape).to_polygons():
                for x, y in np.clip(np.asarray(ring, dtype=np.float64), 0.0, high).tolist():
                    order = tuple(round(v, 6) for v in rank(x, y, shape))
                    found.append((order, n, _Spot(shape, x, y)))
        return min(found, key=lambda one: (*one[0], one[1]))[2] if found else None

    def _free(self, sheet: _Sheet, shape: _Shape) -> CrossSection:
        """Return the places on `sheet` for `shape`, by its origin; kept, and cut down further."""
        from manifold3d import CrossSection, FillRule  # heavy, and needed here alone

        known = sheet.free.get(shape.key)
        if known is None:
            x, y = self.sheet[1] - shape.size[0] + HAIR, self.sheet[0] - shape.size[1] + HAIR
            box = np.array([[-HAIR, -HAIR], [x, -HAIR], [x, y], [-HAIR, y]])
            known = (0, CrossSection([box]))
        count, free = known
        if more := sheet.spots[count:]:
            taken = [self._around(spot, shape) for spot in more]
            free = free - CrossSection(taken, FillRule.NonZero)
        sheet.free[shape.key] = (len(sheet.spots), free)
        return free

    def _around(self, spot: _Spot, shape: _Shape) -> Floats:
        pair = (spot.shape.key, shape.key)
        if pair not in self.touching:
            self.touching[pair] = _touching(spot.shape.fixed, shape.moving)
        return np.asarray(self.touching[pair] + np.array([spot.x, spot.y]))
