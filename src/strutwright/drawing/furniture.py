"""Made of marks: dimensions, scale bar, north arrow, ground line, bands, bars, angles."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from strutwright.drawing.marks import (
    FINE,
    MEDIUM,
    POINT,
    WIDE,
    Arc,
    Circle,
    Line,
    Mark,
    Pen,
    Point,
    Polygon,
    Text,
)
from strutwright.drawing.metrics import text_width
from strutwright.drawing.palette import INK, QUIET, WHITE, tint

__all__ = [
    "angle_mark",
    "arrow_head",
    "bands",
    "bar",
    "dimension",
    "ground_line",
    "hub_dot",
    "north_arrow",
    "scale_bar",
]

ARROW: Final = 2.2
"""Length of an arrow head, mm; our choice, about the height of the figures."""
ARROW_HALF_ANGLE: Final = math.radians(10)
"""Half the opening of a closed arrow head; ISO 129-1 draws 15 to 30 degrees in all (recalled)."""
GAP: Final = 1.0
"""Between the part and its extension line, mm; our choice within the habit of ISO 129-1."""
OVERSHOOT: Final = 1.5
"""Extension line beyond the dimension line, mm; about eight line widths (ISO 129-1, recalled)."""
WIDE_BAND: Final = 2.6
"""A wide band is so many times a narrow one: told apart at a glance; our choice."""
DIMENSION_PEN: Final = Pen(FINE, QUIET)


def arrow_head(
    tip: Point, direction: float, *, size: float = ARROW, colour: str = QUIET
) -> Polygon:
    """Return a filled head `size` mm long whose tip points along `direction`, rad."""
    back = [direction + math.pi + side * ARROW_HALF_ANGLE for side in (1, -1)]
    corners = [(tip[0] + size * math.cos(a), tip[1] + size * math.sin(a)) for a in back]
    return Polygon((tip, *corners), fill=colour, layer="dimensions")


def _readable(angle: float) -> float:
    """Return `angle` turned by half a turn where text would be read from above or the left."""
    turned = math.remainder(angle, 2 * math.pi)
    if turned > math.pi / 2 + 1e-9 or turned <= -math.pi / 2 + 1e-9:
        return math.remainder(turned + math.pi, 2 * math.pi)
    return turned


def dimension(
    start: Point, end: Point, offset: float, text: str, *, size: float = 8 * POINT
) -> tuple[Mark, ...]:
    """Return a linear dimension between two points after the habits of ISO 129-1.

    Extension lines, closed arrow heads (outside where there is no room), the figure above the
    line and readable from the bottom or the right edge of the sheet.

    Parameters
    ----------
    start, end : Point
        What is measured, mm on paper.
    offset : float
        Distance of the dimension line, mm; positive to the left of the way from start to end.
    text : str
        The figure; it is shown as given.
    """
    angle = math.atan2(end[1] - start[1], end[0] - start[0])
    length = math.dist(start, end)
    normal = (-math.sin(angle), math.cos(angle))
    side = math.copysign(1.0, offset)

    def away(point: Point, by: float) -> Point:
        return (point[0] + normal[0] * by, point[1] + normal[1] * by)

    marks: list[Mark] = []
    for point in (start, end):
        if abs(offset) > GAP:
            stretch = (away(point, side * GAP), away(point, offset + side * OVERSHOOT))
            marks.append(Line(*stretch, DIMENSION_PEN, "dimensions"))
    low, high = away(start, offset), away(end, offset)
    room = length >= 2 * ARROW + 1
    tail = 0.0 if room else 2 * ARROW
    along = (math.cos(angle), math.sin(angle))
    marks.append(
        Line(
            (low[0] - along[0] * tail, low[1] - along[1] * tail),
            (high[0] + along[0] * tail, high[1] + along[1] * tail),
            DIMENSION_PEN,
            "dimensions",
        )
    )
    marks.append(arrow_head(low, angle + math.pi if room else angle))
    marks.append(arrow_head(high, angle if room else angle + math.pi))
    reading = _readable(angle)
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    at = (middle[0] - math.sin(reading) * 0.8, middle[1] + math.cos(reading) * 0.8)
    marks.append(Text(at, text, size, "middle", angle=reading, halo=0.5, layer="dimensions"))
    return tuple(marks)


def angle_mark(
    centre: Point, radius: float, start: float, end: float, text: str
) -> tuple[Mark, ...]:
    """Return an angle dimension: an arc from `start` to `end` (rad) and its figure outside."""
    turn = (end - start) % (2 * math.pi)
    middle = start + turn / 2
    size = 8 * POINT
    reach = radius + 1.2 + text_width(text, size) / 2 * abs(math.cos(middle)) + size * 0.35
    at = (centre[0] + reach * math.cos(middle), centre[1] + reach * math.sin(middle))
    return (
        Arc(centre, radius, start, end, DIMENSION_PEN, "dimensions"),
        Text(at, text, size, "middle", "middle", halo=0.5, layer="dimensions"),
    )


def scale_bar(at: Point, step: float, labels: Sequence[str]) -> tuple[Mark, ...]:
    """Return a bar of fields `step` mm long from `at`, dark and light, a label at each joint."""
    height = 1.2
    marks: list[Mark] = []
    for k in range(len(labels) - 1):
        left, right = at[0] + k * step, at[0] + (k + 1) * step
        corners = ((left, at[1]), (right, at[1]), (right, at[1] + height), (left, at[1] + height))
        fill = WHITE if k % 2 else INK
        marks.append(Polygon(corners, fill, Pen(FINE, INK), "furniture"))
    size = 8 * POINT
    for k, label in enumerate(labels):
        place = (at[0] + k * step, at[1] + height + 1.0)
        marks.append(Text(place, label, size, "middle", layer="furniture"))
    return tuple(marks)


def north_arrow(centre: Point, angle: float, size: float = 12.0) -> tuple[Mark, ...]:
    """Return an arrow `size` mm long that points to north, `angle` rad from the right edge."""
    half = size / 2
    cos, sin = math.cos(angle), math.sin(angle)

    def turned(along: float, across: float) -> Point:
        return (centre[0] + along * cos - across * sin, centre[1] + along * sin + across * cos)

    dark = (turned(half, 0), turned(-half, half * 0.55), turned(-half * 0.55, 0))
    light = (turned(half, 0), turned(-half, -half * 0.55), turned(-half * 0.55, 0))
    return (
        Polygon(dark, INK, Pen(FINE, INK), "furniture"),
        Polygon(light, WHITE, Pen(FINE, INK), "furniture"),
        Text(turned(half + 2.4, 0), "N", 9 * POINT, "middle", "middle", bold=True),
    )


def ground_line(left: Point, right: Point, *, hatch: float = 3.0) -> tuple[Mark, ...]:
    """Return the line of the ground with short strokes under it, `hatch` mm apart."""
    count = int((right[0] - left[0]) // hatch)
    spare = (right[0] - left[0] - count * hatch) / 2
    strokes = tuple(
        Line(
            (left[0] + spare + k * hatch, left[1]),
            (left[0] + spare + k * hatch - 1.5, left[1] - 1.5),
            Pen(FINE, QUIET),
            "ground",
        )
        for k in range(count + 1)
    )
    return (*strokes, Line(left, right, Pen(WIDE, QUIET), "ground"))


def _strokes(pattern: str, narrow: float, room: float) -> list[tuple[float, float]]:
    """Return the middle (from the middle of the pattern) and width of each stroke, mm.

    Gaps are as wide as a narrow stroke and a half; all shrink together to fit into `room`.
    """
    widths = [narrow * WIDE_BAND if sign == "w" else narrow for sign in pattern]
    gap = 1.5 * narrow
    total = sum(widths) + gap * (len(widths) - 1)
    shrink = min(1.0, room / total)
    places, at = [], -total / 2
    for width in widths:
        places.append(((at + width / 2) * shrink, width * shrink))
        at += width + gap
    return places


def bands(
    start: Point,
    end: Point,
    pattern: str,
    colour: str,
    *,
    share: float = 0.25,
    length: float = 1.8,
    narrow: float = MEDIUM,
) -> tuple[Mark, ...]:
    """Return strokes across a strut, about the point at `share` of its way.

    `pattern` has one letter a stroke: ``n`` narrow (`narrow` mm), ``w`` wide.
    """
    way = math.dist(start, end)
    if not pattern or way == 0:
        return ()
    along = ((end[0] - start[0]) / way, (end[1] - start[1]) / way)
    half = (-along[1] * length / 2, along[0] * length / 2)
    marks = []
    for middle, width in _strokes(pattern, narrow, 0.35 * way):
        low, high = share * way + middle - width / 2, share * way + middle + width / 2
        x1, y1 = start[0] + along[0] * low, start[1] + along[1] * low
        x2, y2 = start[0] + along[0] * high, start[1] + along[1] * high
        corners = (
            (x1 + half[0], y1 + half[1]),
            (x2 + half[0], y2 + half[1]),
            (x2 - half[0], y2 - half[1]),
            (x1 - half[0], y1 - half[1]),
        )
        marks.append(Polygon(corners, colour, layer="bands"))
    return tuple(marks)


def bar(
    left: Point, length: float, height: float, colour: str, *, pattern: str = ""
) -> tuple[Mark, ...]:
    """Return a bar from `left` (middle of its left end) with its bands near both ends."""
    x, y = left
    half = height / 2
    right = (x + length, y)
    outline = ((x, y - half), (x + length, y - half), (x + length, y + half), (x, y + half))
    look = {"share": 0.2, "length": height, "narrow": 1.1}
    return (
        Polygon(outline, tint(colour, 0.22), layer="parts"),
        *bands(left, right, pattern, colour, **look),
        *bands(right, left, pattern, colour, **look),
        Polygon(outline, None, Pen(WIDE, INK), "parts"),
    )


def hub_dot(centre: Point, radius: float = 0.7) -> Circle:
    """Return the dot that stands for a hub on a small picture."""
    return Circle(centre, radius, WHITE, Pen(MEDIUM, INK), "hubs")
