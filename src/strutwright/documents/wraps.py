"""Paper templates at full size: wrapped round strut ends, laid on hubs."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from strutwright.design import Design, fixings_of
from strutwright.documents.full_size import check_bar, typeset_sheets
from strutwright.documents.reader import Reader
from strutwright.drawing import (
    FINE,
    INK,
    MEDIUM,
    PAPERS,
    POINT,
    QUIET,
    WIDE,
    Circle,
    Line,
    Mark,
    Pen,
    Polyline,
    Sheet,
    Text,
    moved,
    text_width,
)
from strutwright.making import Fixings, end_curve, end_work, hub_plates
from strutwright.parts import Kit

__all__ = ["build_templates", "end_template"]

MARGIN: Final = 12.0
"""Edge of the paper that no printer reaches, mm."""
TAB: Final = 8.0
"""Paper that goes under the other end, mm."""
BEYOND: Final = 25.0
"""Paper beyond the last mark along the tube, mm."""
FOOT: Final = 34.0
"""Height of the check bar with its words, mm."""


@dataclass(frozen=True)
class _End:
    """The work on a kind of end: m and rad; None where there is none."""

    tilt: float
    hole: float | None = None
    from_end: float | None = None
    flattened: float | None = None
    bend: str = ""


def build_templates(design: Design) -> bytes:
    """Return the templates of `design` as PDF, each page at full size with its check bar."""
    reader = Reader.of(design)
    sheets = [*_ends(design.kit, reader), *_hubs(design.kit, fixings_of(design), reader)]
    title = f"{reader('shop.wrap_title')}: {design.brief.project.name}"
    return typeset_sheets(sheets, title, reader.words.language)


def _ends(kit: Kit, reader: Reader) -> list[Sheet]:
    """Return a sheet for each kind of end; none where struts are no round ones."""
    section = kit.stock.section
    if section.shape == "rectangle":
        return []
    kinds: dict[_End, list[str]] = {}
    for kind, row in zip(kit.strut_types, end_work(kit), strict=True):
        bend = "" if row.bend is None else " - ".join(
            dict.fromkeys(reader.angle(angle) for angle in row.bend)
        )  # fmt: skip
        for tilt in {round(cut.tilt, 3) for cut in kind.end_cuts} or {0.0}:
            end = _End(tilt, row.hole, row.from_end, row.flattened, bend)
            kinds.setdefault(end, []).append(kind.label)
    return [
        _sheet(section.depth, end, ", ".join(of), reader)
        for end, of in kinds.items()
        if end.tilt or end.hole or end.flattened  # a plain square end needs no paper
    ]


def end_template(diameter: float, tilt: float, onto: float | None, reader: Reader) -> bytes:
    """Return the template of a round end as PDF.

    Parameters
    ----------
    diameter : float, m
    tilt : float, rad
        Of the axis against the normal of the plane or of the body's axis.
    onto : float or None, m
        Diameter of the round body that it is fitted to; None for a plane.
    reader : Reader

    Raises
    ------
    InputError
        ``template-value``.
    """
    labels = reader.length(diameter) + ("" if onto is None else f" / {reader.length(onto)}")
    sheet = _sheet(diameter, _End(tilt), labels, reader, onto)
    return typeset_sheets([sheet], reader("shop.wrap_title"), reader.words.language)


def _sheet(
    diameter: float, end: _End, labels: str, reader: Reader, onto: float | None = None
) -> Sheet:
    """Return the template of one kind of end on the reader's paper, turned or halved to fit."""
    paper = PAPERS["Letter" if reader.system == "imperial" else "A4"]
    round_it = 1000 * math.pi * diameter
    width, height = paper if round_it + TAB + 2 * MARGIN <= paper[0] else paper[::-1]
    is_half = round_it + TAB + 2 * MARGIN > width
    marks = _wrapped(diameter, end, onto, reader, is_half=is_half)
    middle = max(MARGIN, (width - round_it * (0.5 if is_half else 1.0)) / 2 - TAB / 2)
    how = reader(
        "shop.wrap_half" if is_half else "shop.wrap_tube", diameter=reader.length(diameter)
    )
    words = [reader("shop.wrap_of", labels=labels), how]
    if end.tilt:
        words.append(reader("shop.wrap_tilt", tilt=reader.angle(end.tilt)))
    head = [
        Text(
            (MARGIN, height - MARGIN - 5 - 6 * k), one, (12 if k == 0 else 10) * POINT, bold=k == 0
        )
        for k, one in enumerate(words)
    ]
    foot = check_bar((MARGIN, MARGIN + 2), reader("shop.wrap_check"))
    alt = reader("shop.wrap_alt", labels=labels)
    every = (*head, *moved(marks, middle, MARGIN + FOOT), *foot)
    return Sheet(width, height, every, reader("shop.wrap_title"), alt)


def _wrapped(
    diameter: float, end: _End, onto: float | None, reader: Reader, *, is_half: bool
) -> list[Mark]:
    """Return the unrolled end, its seam at the left, the sawn end below, mm."""
    curve = 1000 * end_curve(diameter, end.tilt, onto)
    if is_half:  # from the longest side to the shortest: the other half is its mirror image
        quarter = len(curve) // 4
        curve = curve[quarter : quarter + 2 * quarter + 1]
        curve = curve - [curve[0, 0], 0.0]
    points = tuple((float(x), float(y)) for x, y in curve)
    right = points[-1][0]
    last = max(y for _, y in points)
    reach = max(last, *(1000 * (one or 0.0) for one in (end.from_end, end.flattened)))
    top = reach + BEYOND
    thin, cut = Pen(FINE, INK), Pen(WIDE, INK)
    marks: list[Mark] = [
        Polyline(points, cut, "CUT"),
        Polyline((points[0], (0.0, top), (right + TAB, top), (right + TAB, 0.0), points[-1]), thin),
        Line((right, points[-1][1]), (right, top), Pen(MEDIUM, INK, (3, 1))),
        Text((2, last + 2), reader("shop.wrap_end"), 8 * POINT, colour=QUIET),
    ]
    if end.hole and end.from_end:
        size = reader("shop.wrap_hole", diameter=reader.length(end.hole))
        places = (0.5,) if is_half else (0.25, 0.75)
        for k, share in enumerate(places):
            marks += _hole((share * right, 1000 * end.from_end), 500 * end.hole)
            if k == 0:
                at = (share * right + 500 * end.hole + 5, 1000 * end.from_end)
                marks.append(Text(at, size, 8 * POINT, "start", "middle"))
    if end.flattened:
        y = 1000 * end.flattened
        marks.append(Line((0, y), (right, y), Pen(MEDIUM, INK, (4, 1.5)), "BEND"))
        words = reader("shop.wrap_flat", bend=end.bend)
        type_size = 8 * POINT * min(1.0, (right - 4) / text_width(words, 8 * POINT))
        marks.append(Text((2, y + 1.5), words, type_size))
    return marks


def _hole(at: tuple[float, float], radius: float) -> list[Mark]:
    x, y = at
    pen = Pen(FINE, INK)
    return [
        Circle(at, radius, None, Pen(MEDIUM, INK), "HOLES"),
        Line((x - radius - 3, y), (x + radius + 3, y), pen),
        Line((x, y - radius - 3), (x, y + radius + 3), pen),
    ]


def _hubs(kit: Kit, fixings: Fixings, reader: Reader) -> list[Sheet]:
    """Return the drawing of each hub type that has room on the reader's paper."""
    width, height = PAPERS["Letter" if reader.system == "imperial" else "A4"]
    sheets = []
    for plate in (one for kind in kit.hub_types for one in hub_plates(kit, kind, fixings)):
        flat = plate.sheet
        if flat.width > width or flat.height > height - FOOT - MARGIN:
            continue  # its DXF is at 1:1
        at = ((width - flat.width) / 2, MARGIN + FOOT)
        marks = (
            *moved(flat.marks, *at),
            *check_bar((MARGIN, MARGIN + 2), reader("shop.wrap_check")),
        )
        alt = reader("shop.hub_alt", label=plate.label)
        sheets.append(Sheet(width, height, marks, plate.label, alt))
    return sheets
