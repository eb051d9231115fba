"""Sheets of labels: one label for every piece and every hub, at full size."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from strutwright.brief import Brief
from strutwright.catalogue import LabelSheet
from strutwright.design import kit_number
from strutwright.documents.full_size import Page, typeset_pages
from strutwright.documents.pictures import kit_signs
from strutwright.documents.reader import Reader
from strutwright.documents.words import Words
from strutwright.drawing import (
    INK,
    PAPERS,
    POINT,
    QUIET,
    Mark,
    Polygon,
    Sheet,
    Text,
    bar,
    text_width,
)
from strutwright.parts import Kit

__all__ = ["build_labels", "label_pages"]

EDGE: Final = (2.0, 4.0)
"""Clear edge within a label, mm, of a low one and of others: printers wander, and do not reach the
edge of the paper."""
LOW: Final = 30.0
"""A label lower than this is a low one, mm."""
LARGEST_CODE: Final = 24.0
"""Side of a QR code with its quiet zone, mm."""
QUIET_ZONE: Final = 4
"""Modules round a QR code. Source: ISO/IEC 18004, 4 modules, recalled."""


@dataclass(frozen=True)
class _Label:
    """What stands on a label; `band` and `colour` are empty on a hub's."""

    label: str
    lines: tuple[str, ...]
    identity: str
    band: str = ""
    colour: str = INK


def build_labels(kit: Kit, brief: Brief, sheet: LabelSheet, *, skip: int = 0) -> bytes:
    """Return the labels of `kit` on pages of `sheet` as PDF; the first `skip` places stay empty."""
    words = Words.of(brief.project.language)
    title = f"{words('shop.labels')}: {brief.project.name}"
    return typeset_pages(label_pages(kit, brief, sheet, skip=skip), title, words.language)


def label_pages(kit: Kit, brief: Brief, sheet: LabelSheet, *, skip: int = 0) -> tuple[Page, ...]:
    """Return the pages of labels: struts by type, the longest first, then hubs."""
    reader = Reader(Words.of(brief.project.language), "both", brief.struts.step)
    every = _labels(kit, brief, reader)
    on_page = sheet.columns * sheet.rows
    skip %= on_page
    width, height = PAPERS[sheet.paper]
    size = (1000 * sheet.width, 1000 * sheet.height)
    drawn = {one: Sheet(*size, _marks(one, size), one.label, one.identity) for one in set(every)}
    pages: list[Page] = []
    for first in range(-skip, len(every), on_page):
        placed = []
        for place, number in enumerate(range(first, min(first + on_page, len(every)))):
            if number >= 0:
                x, y = (1000 * one for one in sheet.corner(place))
                placed.append((drawn[every[number]], (x, height - y - size[1])))
        labels = ", ".join(dict.fromkeys(label.title for label, _ in placed))
        text = reader(
            "shop.label_page", number=kit_number(brief), page=len(pages) + 1, labels=labels
        )
        pages.append(Page(width, height, text, tuple(placed)))
    return tuple(pages)


def _labels(kit: Kit, brief: Brief, reader: Reader) -> list[_Label]:
    number = kit_number(brief)
    foot = (reader("shop.label_kit", number=number), brief.project.name)
    found: list[_Label] = []
    for kind, sign in zip(kit.strut_types, kit_signs(kit), strict=True):
        for piece in kind.pieces:
            lines = (reader("shop.label_length", cut=reader.sawn(piece.length)), *foot)
            identity = f"{number}/{piece.label}"
            one = _Label(piece.label, lines, identity, sign.band, sign.colour)
            found += [one] * piece.quantity
    for hub in kit.hub_types:
        lines = (reader("shop.label_hub", valence=hub.valence), *foot)
        found += [_Label(hub.label, lines, f"{number}/{hub.label}")] * hub.quantity
    return found


def _marks(one: _Label, size: tuple[float, float]) -> tuple[Mark, ...]:
    """Return a label: its code at the left, its letter and bands above, its lines below."""
    width, height = size
    edge = EDGE[height >= LOW]
    side = min(LARGEST_CODE, height - 2 * edge)
    marks: list[Mark] = list(_code(one.identity, (edge, (height - side) / 2), side))
    left, room = edge + side + 1, width - side - 2 * edge - 1
    line = min(4.6, (height - 2 * edge) / 5.2)
    letter = 1.9 * line
    top = height - edge - 0.72 * letter
    marks.append(Text((left, top), one.label, letter, colour=one.colour, bold=True))
    if one.band:
        start = left + text_width(one.label, letter, bold=True) + 3
        span = left + room - start
        at = (start, top + 0.33 * letter)
        marks += bar(at, span, 0.6 * letter, one.colour, pattern=one.band)
    for k, words in enumerate(one.lines):
        wide = text_width(words, 9 * POINT)
        type_size = 9 * POINT * min(1.0, room / wide)
        at = (left, top - line * (k + 1) - 0.3)
        marks.append(Text(at, words, type_size, colour=QUIET if k else INK))
    return tuple(marks)


def _code(words: str, corner: tuple[float, float], side: float) -> list[Mark]:
    """Return a QR code as black runs, `side` mm wide with its quiet zone."""
    import segno

    rows = segno.make(words, error="m", micro=False).matrix
    unit = side / (len(rows) + 2 * QUIET_ZONE)
    left, top = corner[0] + QUIET_ZONE * unit, corner[1] + side - QUIET_ZONE * unit
    marks: list[Mark] = []
    for k, row in enumerate(rows):
        high, low = top - k * unit, top - (k + 1) * unit
        start = None
        for column, dark in enumerate([*row, 0]):
            if dark and start is None:
                start = column
            elif not dark and start is not None:
                a, b = left + start * unit, left + column * unit
                marks.append(Polygon(((a, low), (b, low), (b, high), (a, high)), INK, layer="code"))
                start = None
    return marks
