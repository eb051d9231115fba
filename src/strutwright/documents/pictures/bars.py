"""The picture of all bars with their pieces, alike ones once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

from strutwright.cutting import CutBar, CuttingPlan
from strutwright.drawing import (
    FINE,
    INK,
    PALE,
    POINT,
    QUIET,
    Line,
    Mark,
    Pen,
    Polygon,
    Sheet,
    Text,
    text_width,
)

__all__ = ["bars_alike", "bars_pictures"]

WIDTH = 170.0
"""Width of the picture, mm."""
ROW = 9.0
"""Height of a bar with its words, mm."""
ROWS = 24
"""Bars in one picture: what stands on a page."""


def bars_alike(plan: CuttingPlan) -> list[tuple[CutBar, int]]:
    """Return the bars that are cut alike once, with their number, in the order of the plan."""
    counts: Counter[tuple[object, ...]] = Counter()
    first: dict[tuple[object, ...], CutBar] = {}
    for bar in plan.bars:
        key = (bar.name, bar.length, bar.start, bar.cuts)
        counts[key] += 1
        first.setdefault(key, bar)
    return [(first[key], n) for key, n in counts.items()]


def bars_pictures(plan: CuttingPlan, words: Callable[..., str]) -> dict[str, Sheet]:
    """Return the picture of all bars, as many sheets as its rows fill."""
    rows = list(enumerate(bars_alike(plan), start=1))
    pages = [rows[k : k + ROWS] for k in range(0, len(rows), ROWS)]
    longest = max((bar.length for bar in plan.bars), default=1.0)
    return {f"bars-{k}": _picture(page, longest, words) for k, page in enumerate(pages, start=1)}


def _picture(
    rows: list[tuple[int, tuple[CutBar, int]]], longest: float, words: Callable[..., str]
) -> Sheet:
    height = ROW * len(rows) + 4
    scale = (WIDTH - 26) / longest
    marks: list[Mark] = []
    for place, (number, (bar, n)) in enumerate(rows):
        low = height - ROW * (place + 1) + 1.5
        marks.append(Text((0, low + 1.2), f"{number}  {n} ×", 8 * POINT, bold=True))
        marks += _bar(bar, (16.0, low), scale)
    text = words("shop.bars_alt", bars=len(rows))
    return Sheet(WIDTH, height, tuple(marks), words("shop.all_bars"), text)


def _bar(bar: CutBar, corner: tuple[float, float], scale: float) -> list[Mark]:
    left, low = corner
    high = low + 5.0
    # the bar's own left end is its datum; a part between zones begins further on
    marks: list[Mark] = []
    offset = bar.start if bar.name else 0.0
    marks.append(_box(left, left + bar.length * scale, (low, high), "#ffffff"))
    for one, stop in zip(bar.cuts, bar.stops, strict=True):
        right = left + (stop - offset) * scale
        start = right - one.length * scale
        marks.append(_box(start, right, (low, high), PALE))
        if text_width(one.label, 8 * POINT, bold=True) < one.length * scale:
            at = ((start + right) / 2, (low + high) / 2)
            marks.append(Text(at, one.label, 8 * POINT, "middle", "middle", bold=True))
    marks.append(Line((left, low - 1), (left, high + 1), Pen(0.7, INK), "datum"))
    if bar.worth:
        at = (left + bar.length * scale + 1, (low + high) / 2)
        marks.append(Text(at, "+", 8 * POINT, "start", "middle", colour=QUIET))
    return marks


def _box(left: float, right: float, span: tuple[float, float], fill: str) -> Polygon:
    low, high = span
    corners = ((left, low), (right, low), (right, high), (left, high))
    return Polygon(corners, fill, Pen(FINE, INK), "bars")
