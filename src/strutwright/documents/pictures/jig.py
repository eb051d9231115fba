"""Jigs for strut ends: stop, pins and marks of a type, both ends at one scale, broken between."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from strutwright.drawing import (
    FINE,
    INK,
    MEDIUM,
    PALE,
    POINT,
    QUIET,
    WIDE,
    Circle,
    Line,
    Mark,
    Pen,
    Polygon,
    Sheet,
    Text,
    dimension,
)
from strutwright.making import EndWork

__all__ = ["end_jig"]

WIDTH: Final = 174.0
"""Of the picture, mm."""
END: Final = 62.0
"""Room for one end, mm; between them the strut is broken off."""
HIGH: Final = 46.0
BODY: Final = 9.0
"""Height of the strut on the picture, mm; not to scale, and the picture says so."""
SCALES: Final = (1.0, 2.0, 5.0, 10.0)


def end_jig(row: EndWork, show: Callable[[float], str], title: str, alt: str) -> Sheet | None:
    """Return the jig of a strut type; None where its ends are not drilled.

    The stop is at the left; what stands at the right end is measured from the same stop, so that
    a strut is drilled without turning it round.
    """
    if row.hole is None or row.from_end is None or row.between is None:
        return None
    reach = 1000 * max(row.flattened or 0.0, 2 * row.from_end)
    scale = next((s for s in SCALES if reach / s <= END - 12), SCALES[-1])
    left, right, y = 14.0, WIDTH - 8.0, 20.0
    hole, flat = 1000 * row.from_end / scale, 1000 * (row.flattened or 0.0) / scale
    marks: list[Mark] = [*_strut(left, right, y), *_stop(left, y)]
    for end, way in ((left, 1), (right, -1)):
        at = (end + way * hole, y)
        marks.append(Circle(at, max(500 * row.hole / scale, 0.8), None, Pen(MEDIUM, INK), "holes"))
        if flat:
            x = end + way * flat
            pen = Pen(MEDIUM, INK, (2.5, 1.2))
            marks.append(Line((x, y - BODY / 2), (x, y + BODY / 2), pen, "bend"))
    top = y + BODY / 2
    marks += dimension((left, top), (left + hole, top), 4.0, show(row.from_end))
    marks += dimension((left, top), (right - hole, top), 11.0, show(row.from_end + row.between))
    low = y - BODY / 2
    if row.flattened:
        marks += dimension((left, low), (left + flat, low), -5.0, show(row.flattened))
    marks += dimension((left, low), (right, low), -12.0, show(row.cut_length))
    marks.append(Text((left, HIGH - 4), title, 10 * POINT, bold=True))
    words = f"ends 1:{scale:g}, thickness not to scale"
    marks.append(Text((WIDTH - 2, HIGH - 4), words, 8 * POINT, "end", colour=QUIET))
    return Sheet(WIDTH, HIGH, tuple(marks), title, alt)


def _strut(left: float, right: float, y: float) -> list[Mark]:
    """Return the strut as two ends with a break between them."""
    low, high = y - BODY / 2, y + BODY / 2
    pen = Pen(WIDE, INK)
    marks: list[Mark] = []
    for start, end in ((left, left + END), (right - END, right)):
        corners = ((start, low), (end, low), (end, high), (start, high))
        marks.append(Polygon(corners, PALE, None, "parts"))
        marks += [Line((start, edge), (end, edge), pen, "parts") for edge in (low, high)]
    marks += [Line((x, low), (x, high), pen, "parts") for x in (left, right)]
    for x, lean in ((left + END, 1.5), (right - END, 1.5)):
        marks.append(Line((x - lean, low - 2), (x + lean, high + 2), Pen(FINE, QUIET), "parts"))
    return marks


def _stop(left: float, y: float) -> list[Mark]:
    corners = ((left - 5, y - 8), (left, y - 8), (left, y + 8), (left - 5, y + 8))
    return [Polygon(corners, QUIET, Pen(MEDIUM, INK), "jig")]
