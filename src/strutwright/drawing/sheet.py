"""Paper, margins, title block, and the sheet that back ends turn into bytes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from strutwright.drawing.marks import (
    FINE,
    MEDIUM,
    POINT,
    WIDE,
    Box,
    Line,
    Mark,
    Pen,
    Polygon,
    Text,
)
from strutwright.drawing.metrics import text_width
from strutwright.drawing.palette import INK, QUIET
from strutwright.errors import InputError

__all__ = ["PAPERS", "Margins", "Paper", "Sheet", "TitleBlock", "frame_box", "page", "paper"]


@dataclass(frozen=True)
class Margins:
    """Clear edges of the paper, mm; the left one survives a hole punch (ISO 5457: 20 mm)."""

    left: float = 20.0
    right: float = 10.0
    top: float = 10.0
    bottom: float = 10.0


@dataclass(frozen=True)
class Paper:
    """A size of paper with its margins, mm."""

    name: str
    width: float
    height: float
    margins: Margins = Margins()


PAPERS: Final = {
    "A4": (210.0, 297.0),  # ISO 216
    "A3": (297.0, 420.0),  # ISO 216
    "Letter": (215.9, 279.4),  # ANSI/ASME Y14.1 size A
    "Tabloid": (279.4, 431.8),  # ANSI/ASME Y14.1 size B
}
"""Upright sizes of paper, mm."""
BLOCK_HEIGHT: Final = 22.0
"""Height of the title block, mm; our choice: three rows that are read without bending down."""
BLOCK_ROW: Final = 11.0
"""Height of one row of the title block, mm."""


def paper(name: str, *, turned: bool = False) -> Paper:
    """Return the paper called `name`, upright or `turned` on its long side.

    Raises
    ------
    InputError
        No paper has that name.
    """
    if name not in PAPERS:
        raise InputError(
            "paper-unknown",
            f"no paper is called {name!r}",
            "paper",
            "take one of " + ", ".join(PAPERS),
        )
    width, height = PAPERS[name]
    return Paper(name, height, width) if turned else Paper(name, width, height)


@dataclass(frozen=True)
class TitleBlock:
    """What stands at the foot of a sheet; empty fields are left out."""

    kit: str
    title: str
    version: str = ""
    date: str = ""
    sheet: str = ""
    units: str = ""
    scale: str = "not to scale"
    verdict: str = ""


@dataclass(frozen=True)
class Sheet:
    """A drawing on paper.

    Parameters
    ----------
    width, height : float
        Size of the paper, mm.
    marks : tuple of Mark
        Drawn in this order, the last on top.
    title : str
        Short name of the drawing.
    text : str
        What it shows, in words for those who cannot see it.
    """

    width: float
    height: float
    marks: tuple[Mark, ...]
    title: str = ""
    text: str = ""


def frame_box(paper: Paper, *, block: bool = True) -> Box:
    """Return the room for the drawing within the margins and above the title block, mm."""
    edge = paper.margins
    low = edge.bottom + (BLOCK_HEIGHT if block else 0.0)
    return (edge.left, low, paper.width - edge.right, paper.height - edge.top)


def page(paper: Paper, block: TitleBlock, marks: tuple[Mark, ...], text: str = "") -> Sheet:
    """Return a sheet of `paper` with a frame, the title `block` at its foot, and `marks`."""
    left, low, right, top = frame_box(paper)
    foot = paper.margins.bottom
    frame = Polygon(
        ((left, foot), (right, foot), (right, top), (left, top)), pen=Pen(WIDE, INK), layer="frame"
    )
    rules = tuple(
        Line((left, y), (right, y), Pen(width, INK), "frame")
        for y, width in ((low, MEDIUM), (low - BLOCK_ROW, FINE))
    )
    around = (frame, *rules, *_block_text(block, (left, foot, right, low)))
    title = f"{block.kit}: {block.title}"
    return Sheet(paper.width, paper.height, (*around, *marks), title, text)


def _block_text(block: TitleBlock, box: Box) -> tuple[Mark, ...]:
    left, foot, right, top = box
    upper = _row(((block.kit, "kit"), (block.title, "drawing"), (block.verdict, "verdict")))
    lower = _row(
        (
            (block.scale, "scale"),
            (block.units, "units"),
            (block.version, "version"),
            (block.date, "date"),
            (block.sheet, "sheet"),
        )
    )
    marks: list[Mark] = []
    for row, y in ((upper, top), (lower, foot + BLOCK_ROW)):
        wide = [text_width(words, 10 * POINT, bold=True) + 4 for words, _ in row]
        spare = max(0.0, (right - left - sum(wide)) / max(1, len(row)))
        x = left
        for (words, head), width in zip(row, wide, strict=True):
            marks.append(Text((x + 2, y - 3.5), head, 7 * POINT, colour=QUIET))
            marks.append(Text((x + 2, y - 8.5), words, 10 * POINT, bold=True))
            x += width + spare
    return tuple(marks)


def _row(cells: tuple[tuple[str, str], ...]) -> list[tuple[str, str]]:
    return [cell for cell in cells if cell[0]]
