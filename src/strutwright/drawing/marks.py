"""Immutable marks on paper: positions in mm from the lower left corner, y up, angles in rad."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from strutwright.drawing.metrics import text_width
from strutwright.drawing.palette import INK

__all__ = [
    "FINE",
    "MEDIUM",
    "POINT",
    "SMALLEST_TEXT",
    "WIDE",
    "Arc",
    "Box",
    "Circle",
    "Line",
    "Mark",
    "Pen",
    "Point",
    "Polygon",
    "Polyline",
    "Text",
    "extent",
    "halo_corners",
    "moved",
    "text_corners",
]

WIDE: Final = 0.5
"""Width of outlines and new parts, mm on paper."""
MEDIUM: Final = 0.25
"""Width of standing parts, mm on paper."""
FINE: Final = 0.13
"""Width of dimensions, leaders and hatching, mm on paper."""
POINT: Final = 25.4 / 72
"""One point of type, mm."""
SMALLEST_TEXT: Final = 7 * POINT
"""No text on a drawing is smaller, mm: our choice, the least that is read at arm's length."""
CAP_HEIGHT: Final = 0.66
"""Height of capitals and figures as a share of the text size; Source Sans 3, OS/2 table."""
DESCENT: Final = 0.21
"""Depth of p and q below the base line as a share of the text size; Source Sans 3."""
DESCENDERS: Final = frozenset("gjpqyQ,;()[]{}|")

Point = tuple[float, float]
"""x, y on paper, mm."""
Box = tuple[float, float, float, float]
"""Left, bottom, right, top, mm."""


@dataclass(frozen=True)
class Pen:
    """How a line is drawn: width in mm, colour, and the lengths of dashes and gaps in mm."""

    width: float = MEDIUM
    colour: str = INK
    dash: tuple[float, ...] = ()


@dataclass(frozen=True)
class Line:
    """A straight line."""

    start: Point
    end: Point
    pen: Pen = Pen()
    layer: str = "0"


@dataclass(frozen=True)
class Polyline:
    """A chain of straight lines, open."""

    points: tuple[Point, ...]
    pen: Pen = Pen()
    layer: str = "0"


@dataclass(frozen=True)
class Polygon:
    """A closed outline, filled with a solid colour or not."""

    points: tuple[Point, ...]
    fill: str | None = None
    pen: Pen | None = None
    layer: str = "0"


@dataclass(frozen=True)
class Circle:
    """A circle, filled with a solid colour or not."""

    centre: Point
    radius: float
    fill: str | None = None
    pen: Pen | None = None
    layer: str = "0"


@dataclass(frozen=True)
class Arc:
    """A part of a circle, anticlockwise from angle `start` to angle `end`, rad."""

    centre: Point
    radius: float
    start: float
    end: float
    pen: Pen = Pen()
    layer: str = "0"


@dataclass(frozen=True)
class Text:
    """One line of text.

    Parameters
    ----------
    at : Point
        Where it is held, mm.
    text : str
        The words.
    size : float
        Size of type, mm.
    align : str
        ``start``, ``middle`` or ``end``: which part of the line lies at `at`.
    level : str
        ``base`` or ``middle``: the base line or half the height of capitals lies at `at`.
    angle : float
        Turned anticlockwise about `at`, rad.
    halo : float
        Width of the white edge that keeps lines off the letters, mm; 0 for none.
    """

    at: Point
    text: str
    size: float = 8 * POINT
    align: str = "start"
    level: str = "base"
    angle: float = 0.0
    halo: float = 0.0
    colour: str = INK
    bold: bool = False
    layer: str = "text"


Mark = Line | Polyline | Polygon | Circle | Arc | Text


def text_corners(text: Text) -> tuple[Point, Point, Point, Point]:
    """Return the corners of the box round the letters of `text`, halo left out, mm."""
    return _corners(text, DESCENT * text.size, 0.0)


def halo_corners(text: Text) -> tuple[Point, Point, Point, Point]:
    """Return the corners of the white area behind `text`, mm; below only where letters reach."""
    low = DESCENT * text.size if set(text.text) & DESCENDERS else 0.0
    return _corners(text, low, text.halo)


def _corners(text: Text, drop: float, edge: float) -> tuple[Point, Point, Point, Point]:
    width = text_width(text.text, text.size, bold=text.bold)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[text.align] - edge
    right = left + width + 2 * edge
    lift = -CAP_HEIGHT / 2 * text.size if text.level == "middle" else 0.0
    low, high = lift - drop - edge, lift + CAP_HEIGHT * text.size + edge
    cos, sin = math.cos(text.angle), math.sin(text.angle)

    def turned(x: float, y: float) -> Point:
        return (text.at[0] + x * cos - y * sin, text.at[1] + x * sin + y * cos)

    return (turned(left, low), turned(right, low), turned(right, high), turned(left, high))


def _points(mark: Mark) -> tuple[Point, ...]:
    match mark:
        case Line():
            return (mark.start, mark.end)
        case Polyline() | Polygon():
            return mark.points
        case Circle(centre=(x, y), radius=r):
            return ((x - r, y - r), (x + r, y + r))
        case Arc(centre=(x, y), radius=r):
            turn = (mark.end - mark.start) % (2 * math.pi) or 2 * math.pi
            quarters = (k * math.pi / 2 for k in range(4))
            angles = [mark.start, mark.end]
            angles += [q for q in quarters if (q - mark.start) % (2 * math.pi) <= turn]
            return tuple((x + r * math.cos(a), y + r * math.sin(a)) for a in angles)
        case Text():
            return text_corners(mark)


def extent(marks: Iterable[Mark]) -> Box:
    """Return the box round all `marks` (at least one), line widths left out, mm."""
    xs, ys = zip(*(point for mark in marks for point in _points(mark)), strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


def moved(marks: Iterable[Mark], right: float, up: float) -> tuple[Mark, ...]:
    """Return `marks` moved to the right and up, mm."""

    def there(point: Point) -> Point:
        return (point[0] + right, point[1] + up)

    def one(mark: Mark) -> Mark:
        match mark:
            case Line():
                return replace(mark, start=there(mark.start), end=there(mark.end))
            case Polyline() | Polygon():
                return replace(mark, points=tuple(there(p) for p in mark.points))
            case Circle() | Arc():
                return replace(mark, centre=there(mark.centre))
            case Text():
                return replace(mark, at=there(mark.at))

    return tuple(one(mark) for mark in marks)
