"""Sheets that must be printed at their true size, as PDF: a page a sheet, with nothing round it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from strutwright.documents.typeset import compiled
from strutwright.drawing import POINT, Line, Mark, Pen, Point, Sheet, Text, moved, svg

__all__ = ["Page", "check_bar", "typeset_pages", "typeset_sheets"]

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


@dataclass(frozen=True)
class Page:
    """Paper with sheets laid on it at full size, each by its lower left corner; mm.

    A sheet that lies there many times is drawn once.
    """

    width: float
    height: float
    alt: str
    placed: tuple[tuple[Sheet, Point], ...]

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Return the marks of all sheets where they lie."""
        return tuple(mark for sheet, at in self.placed for mark in moved(sheet.marks, *at))


def typeset_sheets(sheets: Sequence[Sheet], title: str, language: str) -> bytes:
    """Return `sheets` as PDF (PDF/UA-1), each on paper of its own size; the same give the same.

    Raises
    ------
    ResultError
        ``typeset-failed``.
    """
    pages = [Page(one.width, one.height, one.text, ((one, (0.0, 0.0)),)) for one in sheets]
    return typeset_pages(pages, title, language)


def typeset_pages(pages: Sequence[Page], title: str, language: str) -> bytes:
    """Return `pages` as PDF (PDF/UA-1), at full size.

    Raises
    ------
    ResultError
        ``typeset-failed``.
    """
    names: dict[int, str] = {}
    pictures: dict[str, bytes] = {}
    rows = []
    for page in pages:
        placed = []
        for sheet, (x, y) in page.placed:
            if id(sheet) not in names:
                names[id(sheet)] = name = str(len(names))
                pictures[name] = svg(sheet)
            placed.append({
                "picture": names[id(sheet)], "x": x, "y": page.height - y - sheet.height,
                "width": sheet.width, "height": sheet.height, "alt": sheet.text or page.alt,
            })  # fmt: skip
        rows.append({"width": page.width, "height": page.height, "placed": placed})
    data = {"title": title, "language": language, "pages": rows}
    return compiled("full_size.typ", data, pictures, title)
