"""Charts of one value against another: axes, ticks, points, marked ones, stacked panels."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from strutwright.drawing.marks import (
    FINE,
    MEDIUM,
    POINT,
    WIDE,
    Box,
    Circle,
    Line,
    Mark,
    Pen,
    Point,
    Polyline,
    Text,
)
from strutwright.drawing.palette import GREY, INK, LIGHT, QUIET, WHITE
from strutwright.drawing.sheet import Sheet

__all__ = ["Dot", "Panel", "chart", "neat_ticks"]

TYPE: Final = 8 * POINT
TICK: Final = 1.2
"""Length of a tick, mm."""
LEFT, RIGHT, FOOT, HEAD, BETWEEN = 18.0, 8.0, 13.0, 8.0, 12.0
"""mm, room left of the axes for figures, right, below, above, and between two panels."""
SAME: Final = 1e-9
"""A tick nearer than this to a whole number is one."""
STEPS: Final = (1.0, 2.0, 2.5, 5.0, 10.0)


@dataclass(frozen=True)
class Dot:
    """A value at a place; `mark` is empty, ``chosen`` (filled, large) or ``peak`` (ring).

    `words` stand at it.
    """

    x: float
    y: float
    mark: str = ""
    words: str = ""


@dataclass(frozen=True)
class Panel:
    """One value against the shared axis.

    Parameters
    ----------
    title : str
        What is shown, with its unit.
    dots : sequence of Dot
        From left to right; a line joins them.
    is_log : bool
        Powers of ten; values below `least` lie on the axis.
    least : float
        Where the axis begins; of a panel that is not logarithmic 0, or nan for the least value.
    is_whole : bool
        Values are numbers of things: the axis spans two at least and has no broken figures.
    """

    title: str
    dots: Sequence[Dot]
    is_log: bool = False
    least: float = 0.0
    is_whole: bool = False


def chart(
    panels: Sequence[Panel],
    axis: str,
    *,
    ticks: Sequence[tuple[float, str]] | None = None,
    size: tuple[float, float] = (165.0, 60.0),
    title: str = "",
    text: str = "",
) -> Sheet:
    """Return the `panels` over one another with a shared horizontal axis.

    Parameters
    ----------
    axis : str
        What the horizontal axis is, with its unit.
    ticks : sequence of (float, str), optional
        Figures of the horizontal axis; left out: neat ones.
    size : (float, float), mm
        Width of the sheet and height of one panel with its room.
    """
    xs = [dot.x for panel in panels for dot in panel.dots]
    low, high = _widened(min(xs), max(xs))
    width, each = size
    height = FOOT + each * len(panels)
    marks: list[Mark] = []
    for k, panel in enumerate(reversed(panels)):
        floor = FOOT + each * k
        box = (LEFT, floor + (BETWEEN - HEAD if k else 0.0), width - RIGHT, floor + each - HEAD)
        marks += _panel(panel, box, (low, high))
    where = ticks or [(x, _figure(x)) for x in neat_ticks(low, high, 8)]
    for x, words in where:
        at = LEFT + (x - low) / (high - low) * (width - RIGHT - LEFT)
        marks += [
            Line((at, FOOT), (at, FOOT - TICK), Pen(FINE, INK), "axes"),
            Text((at, FOOT - TICK - 3.2), words, TYPE, "middle"),
        ]
    marks.append(Text(((LEFT + width - RIGHT) / 2, 2.0), axis, TYPE, "middle", colour=QUIET))
    return Sheet(width, height, tuple(marks), title, text)


def neat_ticks(low: float, high: float, most: int) -> list[float]:
    """Return at most about `most` round values from `low` to `high`."""
    if not high > low:
        return [low]
    rough = (high - low) / most
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * s for s in STEPS if power * s >= rough * (1 - 1e-9))
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return [k * step for k in range(first, last + 1)]


def _widened(low: float, high: float) -> tuple[float, float]:
    edge = (high - low) * 0.04 or 0.5
    return low - edge, high + edge


def _figure(value: float) -> str:
    return f"{value:.6g}"


def _panel(panel: Panel, box: Box, across: tuple[float, float]) -> list[Mark]:
    left, foot, right, top = box
    place, ticks = _scale(panel, foot, top)
    marks: list[Mark] = [
        Text((left, top + 2.5), panel.title, TYPE, bold=True),
        Line((left, foot), (right, foot), Pen(MEDIUM, INK), "axes"),
        Line((left, foot), (left, top), Pen(MEDIUM, INK), "axes"),
    ]
    for y in ticks:
        marks += [
            Line((left, place(y)), (right, place(y)), Pen(FINE, LIGHT), "grid"),
            Text((left - 1.5, place(y)), _figure(y), TYPE, "end", "middle"),
        ]
    share = (right - left) / (across[1] - across[0])
    points = [(left + (dot.x - across[0]) * share, place(dot.y)) for dot in panel.dots]
    if len(points) > 1:
        marks.append(Polyline(tuple(points), Pen(MEDIUM, GREY), "curve"))
    for dot, point in zip(panel.dots, points, strict=True):
        marks += _dot(dot, point, box)
    return marks


def _dot(dot: Dot, at: Point, box: Box) -> list[Mark]:
    if not dot.mark:
        return [Circle(at, 0.6, INK, None, "dots")]
    fill = INK if dot.mark == "chosen" else WHITE
    marks: list[Mark] = [Circle(at, 1.5, fill, Pen(WIDE, INK), "dots")]
    if dot.words:
        is_high = at[1] > (box[1] + box[3]) / 2
        align = "end" if at[0] > box[2] - 25 else "start" if at[0] < box[0] + 25 else "middle"
        where = (at[0], at[1] + (-5.0 if is_high else 2.8))
        marks.append(Text(where, dot.words, TYPE, align, halo=0.8, bold=True))
    return marks


def _scale(panel: Panel, foot: float, top: float) -> tuple[Callable[[float], float], list[float]]:
    """Return how high a value lies on paper, and the values with a figure."""
    values = [dot.y for dot in panel.dots]
    if panel.is_log:
        first = math.floor(math.log10(panel.least))
        last = max(first + 1, math.ceil(math.log10(max(*values, panel.least)) - 1e-9))

        def place(value: float) -> float:
            share = (math.log10(max(value, panel.least)) - first) / (last - first)
            return foot + share * (top - foot)

        return place, [10.0**k for k in range(first, last + 1)]
    low = panel.least
    if math.isnan(low):
        low = min(values) - 0.15 * (max(values) - min(values) or 1.0)
    if panel.is_whole:
        low = math.floor(low)
    top_value = max(*values, low + 2.0) if panel.is_whole else max(values)
    ticks = neat_ticks(low, top_value, 4)
    if panel.is_whole:
        ticks = [tick for tick in ticks if abs(tick - round(tick)) < SAME]
    high = max(top_value, low + 1e-9)

    def even(value: float) -> float:
        return foot + (value - low) / (high - low) * (top - foot) * 0.94

    return even, ticks
