"""Drawings, base ring and courses of the build book."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.design import Design
from strutwright.documents.blocks import Block, Bullets, Figure, Heading, NewPage, Paragraph, Table
from strutwright.documents.book.pictures import VIEWS
from strutwright.documents.reader import Reader
from strutwright.shape.riser import feet_of
from strutwright.site import PegRow, SettingOut, skew_of

__all__ = ["base_ring", "shell_views"]

READING: Final = 1.959964
"""Two-sided 95 % quantile of the normal distribution."""
ELLIPSE_95: Final = 2.4477
"""Semi-axis of a 95 % ellipse over its standard deviation: sqrt(5.9915)."""
SLIDE: Final = 0.010
"""m by which a side is told to have slid: our choice."""
SWAPS_SHOWN = 4
"""The worst of the swaps, so that the page keeps its plan: our choice."""


def shell_views(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return plan and two elevations, a page each."""
    blocks: list[Block] = [Heading(1, reader("views.title")), Paragraph(reader("views.legend"))]
    for name in VIEWS:
        title = reader(f"views.{name}")
        alt = reader(
            "views.view_alt",
            view=title,
            hubs=len(design.shell.hubs),
            struts=len(design.shell.struts),
        )
        blocks.append(Figure(name, alt, title))
    return (*blocks, NewPage())


def base_ring(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return the setting-out sheet: picture, distances from the pegs, check diagonals."""
    sheet = design.setting_out
    heights = design.shell.hubs[[row.hub for row in sheet.rows], 2]
    uneven: tuple[Block, ...] = ()
    if design.shell.recipe.base != "level":
        low, high = reader.length(0.0), reader.length(float(heights.max() - heights.min()))
        uneven = (Paragraph(reader("ring.uneven", low=low, high=high), "limit"),)
    rows = tuple(
        (str(row.hub), row.a, reader.length(row.from_a), row.b, reader.length(row.from_b),
         f"± {reader.length(row.band)}", _ellipse(row, reader), "")
        for row in sheet.rows
    )  # fmt: skip
    spans = tuple(
        (reader(f"ring.kind_{span.kind}"), f"{span.i} - {span.j}", reader.length(span.length),
         f"± {reader.length(span.band)}", "")
        for span in sheet.spans
    )  # fmt: skip
    band = f"± {reader.length(READING * sheet.tape)}"
    frame = tuple((f"{p} - {q}", reader.length(d), band, "") for p, q, d in sheet.frame)

    def head(*keys: str) -> tuple[str, ...]:
        return tuple(reader(f"ring.{key}_head") for key in keys)

    return (
        Heading(1, reader("ring.title")),
        Heading(2, reader("ring.ground_title")),
        Bullets(
            (
                reader("ring.ground_firm", room=reader.length(1.0)),
                reader("ring.ground_lines"),
                reader("ring.ground_level", level=reader.length(0.01)),
            ),
            numbered=True,
        ),
        Paragraph(reader("ring.intro")),
        Paragraph(reader("ring.one" if design.brief.crew.people == 1 else "ring.two")),
        Paragraph(_why(sheet, reader)),
        *uneven,
        Figure("ring", reader("ring.alt", hubs=len(sheet.rows))),
        *_fit(design, reader),
        Table(
            head("pegs", "length", "band", "measured"), frame, "lrrl", reader("ring.pegs"),
            (1, 1.4, 1, 1.6),
        ),
        Table(
            head("hub", "peg", "distance", "peg", "distance", "band", "ellipse", "measured"),
            rows, "rcrcrrrl", reader("ring.hubs"), (0.6, 0.6, 1.6, 0.6, 1.6, 1.1, 1.8, 1.6),
        ),
        Table(
            head("kind", "check", "length", "band", "measured"), spans, "lcrrl",
            reader("ring.checks"), (1.4, 1.2, 1.4, 1, 1.6),
        ),
        NewPage(),
    )  # fmt: skip


def _ellipse(row: PegRow, reader: Reader) -> str:
    """Return the axes of the ellipse that the peg lies in with 95 %; of a station nothing."""
    if not row.crossing:
        return ""
    major, minor, _ = row.ellipse
    return " × ".join(reader.length(2 * ELLIPSE_95 * axis) for axis in (major, minor))


def _why(sheet: SettingOut, reader: Reader) -> str:
    """Return what the bands follow from, and how squareness is seen."""
    play, reading = reader.length(sheet.play), reader.length(READING * sheet.tape)
    said = reader("ring.why", play=play, reading=reading)
    skew = skew_of(sheet, SLIDE)
    if skew is None:
        return said
    p, q, r, s = (peg.name for peg in sheet.pegs[:4])
    square = reader(
        "ring.square", first=f"{p} - {r}", second=f"{q} - {s}", slide=reader.length(SLIDE),
        skew=reader.length(skew),
    )  # fmt: skip
    return f"{said} {square}"


def _fit(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return how well it closes, and what the worst of the swaps would do."""
    found = design.tolerances
    if found is None:
        return ()
    worst = sorted(found.swaps, key=lambda swap: -swap.shift)[:SWAPS_SHOWN]
    rows = tuple(
        (f"{swap.a} - {swap.b}", reader.length(swap.difference), reader.length(swap.shift))
        for swap in worst
    )
    head = tuple(reader(f"ring.{key}_head") for key in ("swap", "apart", "shift"))
    table = (Table(head, rows, "lrr", reader("ring.swaps")),) if rows else ()
    closing = reader(
        "ring.closing",
        gap=reader.length(found.closing_gap),
        spread=reader.length(float(np.nanmax(found.hub_spread))),
    )
    missing = np.flatnonzero(np.isnan(found.hub_spread))
    missing = missing[~np.isin(missing, feet_of(design.shell))]
    if len(missing):
        closing += " " + reader("ring.left_out", hubs=", ".join(map(str, missing)))
    return (Paragraph(closing), *table)
