"""Sheets that must be printed at their true size, as PDF: a page a sheet, with nothing round it."""

from __future__ import annotations

from collections.abc import Sequence

from strutwright.documents.typeset import compiled
from strutwright.drawing import POINT, Line, Mark, Pen, Point, Sheet, Text, svg

__all__ = ["check_bar", "typeset_sheets"]

BAR = 100.0
"""Length of the check bar, mm."""
INCHES = 4
"""The same for those with an inch rule."""


def check_bar(at: Point, words: str) -> tuple[Mark, ...]:
    """Return a bar of 100 mm and one of 4 in from `at`, with `words` that say what to do."""
    x, y = at
    marks: list[Mark] = [Text((x, y + 13), words, 9 * POINT, bold=True)]
    for low, unit, n, name in ((y + 6.5, 10.0, 10, "100 mm"), (y, 25.4, INCHES, "4 in")):
        marks.append(Line((x, low), (x + n * unit, low), Pen(0.25), "furniture"))
        marks += [
            Line((x + k * unit, low - 1.5), (x + k * unit, low + 1.5), Pen(0.25), "furniture")
            for k in range(n + 1)
        ]
        marks.append(Text((x + n * unit + 2, low), name, 9 * POINT, "start", "middle"))
    return tuple(marks)


def typeset_sheets(sheets: Sequence[Sheet], title: str, language: str) -> bytes:
    """Return `sheets` as PDF (PDF/UA-1), each on paper of its own size; the same give the same.

    Raises
    ------
    ResultError
        ``typeset-failed``.
    """
    data = {
        "title": title, "language": language,
        "pages": [{"width": s.width, "height": s.height, "alt": s.text} for s in sheets],
    }  # fmt: skip
    pictures = {str(k): svg(one) for k, one in enumerate(sheets)}
    return compiled("full_size.typ", data, pictures, title)
