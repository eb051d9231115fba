"""Sheets as SVG: one unit is one millimetre, text stays text, solid colours alone."""

from __future__ import annotations

import math
from typing import Final
from xml.sax.saxutils import escape, quoteattr

from strutwright.drawing.marks import (
    CAP_HEIGHT,
    Arc,
    Circle,
    Line,
    Mark,
    Pen,
    Point,
    Polygon,
    Polyline,
    Text,
    halo_corners,
)
from strutwright.drawing.palette import WHITE
from strutwright.drawing.sheet import Sheet

__all__ = ["svg"]

FAMILY: Final = "'Source Sans 3', 'Source Sans Pro', 'Noto Sans', Arial, sans-serif"
"""Names with a figure or a space stand in quotes, or the whole list is passed over."""
DIGITS: Final = 2
"""Places after the point: hundredths of a millimetre on paper."""


def svg(sheet: Sheet) -> bytes:
    """Return `sheet` as an SVG file; the same sheet gives the same bytes."""
    width, height = _n(sheet.width), _n(sheet.height)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" font-family="{FAMILY}" '
        'stroke-linecap="round" stroke-linejoin="round" fill="none" role="img">'
    )
    lines = [head]
    if sheet.title:
        lines.append(f"<title>{escape(sheet.title)}</title>")
    if sheet.text:
        lines.append(f"<desc>{escape(sheet.text)}</desc>")
    lines += [_mark(mark, sheet.height) for mark in sheet.marks]
    return "\n".join([*lines, "</svg>", ""]).encode()


def _n(value: float) -> str:
    text = f"{value:.{DIGITS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _pen(pen: Pen | None) -> str:
    if pen is None:
        return ""
    dash = f' stroke-dasharray="{" ".join(_n(part) for part in pen.dash)}"' if pen.dash else ""
    return f' stroke="{pen.colour}" stroke-width="{_n(pen.width)}"{dash}'


def _fill(colour: str | None) -> str:
    return f' fill="{colour}"' if colour else ""


def _chain(points: tuple[Point, ...], height: float) -> str:
    return " ".join(f"{_n(x)},{_n(height - y)}" for x, y in points)


def _mark(mark: Mark, height: float) -> str:
    match mark:
        case Line(start=(x1, y1), end=(x2, y2)):
            place = f'x1="{_n(x1)}" y1="{_n(height - y1)}" x2="{_n(x2)}" y2="{_n(height - y2)}"'
            return f"<line {place}{_pen(mark.pen)}/>"
        case Polyline():
            return f'<polyline points="{_chain(mark.points, height)}"{_pen(mark.pen)}/>'
        case Polygon():
            look = _fill(mark.fill) + _pen(mark.pen)
            return f'<polygon points="{_chain(mark.points, height)}"{look}/>'
        case Circle(centre=(x, y)):
            look = _fill(mark.fill) + _pen(mark.pen)
            return f'<circle cx="{_n(x)}" cy="{_n(height - y)}" r="{_n(mark.radius)}"{look}/>'
        case Arc():
            return _arc(mark, height)
        case Text():
            return _text(mark, height)


def _arc(arc: Arc, height: float) -> str:
    turn = (arc.end - arc.start) % (2 * math.pi)
    ends = [
        f"{_n(arc.centre[0] + arc.radius * math.cos(a))},"
        f"{_n(height - arc.centre[1] - arc.radius * math.sin(a))}"
        for a in (arc.start, arc.end)
    ]
    r, large = _n(arc.radius), int(turn > math.pi)
    return f'<path d="M{ends[0]} A{r} {r} 0 {large} 0 {ends[1]}"{_pen(arc.pen)}/>'


def _text(text: Text, height: float) -> str:
    x, y = text.at
    drop = CAP_HEIGHT / 2 * text.size if text.level == "middle" else 0.0
    x += drop * math.sin(text.angle)
    y -= drop * math.cos(text.angle)
    place = f'x="{_n(x)}" y="{_n(height - y)}" font-size="{_n(text.size)}" fill="{text.colour}"'
    if text.align != "start":
        place += f" text-anchor={quoteattr(text.align)}"
    if text.bold:
        place += ' font-weight="700"'
    if text.angle:
        turn = _n(-math.degrees(text.angle))
        place += f' transform="rotate({turn} {_n(x)} {_n(height - y)})"'
    words = f"<text {place}>{escape(text.text)}</text>"
    return f"{_halo(text, height)}\n{words}" if text.halo else words


def _halo(text: Text, height: float) -> str:
    """Return a white area behind the letters: outlined letters would eat into their neighbours."""
    return f'<polygon points="{_chain(halo_corners(text), height)}" fill="{WHITE}"/>'
