"""Drawings, base ring and courses of the build book."""

from __future__ import annotations

import numpy as np

from strutwright.design import Design
from strutwright.documents.blocks import Block, Figure, Heading, NewPage, Paragraph, Table
from strutwright.documents.book.pictures import VIEWS
from strutwright.documents.reader import Reader

__all__ = ["base_ring", "shell_views"]

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
        blocks += [Figure(name, alt, title), NewPage()]
    return tuple(blocks)


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
         f"± {reader.length(row.band)}")
        for row in sheet.rows
    )  # fmt: skip
    spans = tuple(
        (reader(f"ring.kind_{span.kind}"), f"{span.i} - {span.j}", reader.length(span.length),
         f"± {reader.length(span.band)}")
        for span in sheet.spans
    )  # fmt: skip
    frame = tuple((f"{p} - {q}", reader.length(distance)) for p, q, distance in sheet.frame)
    return (
        Heading(1, reader("ring.title")),
        Paragraph(reader("ring.intro")),
        *uneven,
        *_fit(design, reader),
        Figure("ring", reader("ring.alt", hubs=len(sheet.rows))),
        Table(
            (reader("ring.pegs_head"), reader("ring.length_head")), frame, "lr",
            reader("ring.pegs"),
        ),
        Table(
            (reader("ring.hub_head"), reader("ring.peg_head"), reader("ring.distance_head"),
             reader("ring.peg_head"), reader("ring.distance_head"), reader("ring.band_head")),
            rows, "rcrcrr", reader("ring.hubs"),
        ),
        Table(
            (reader("ring.kind_head"), reader("ring.check_head"), reader("ring.length_head"),
             reader("ring.band_head")),
            spans, "lcrr", reader("ring.checks"),
        ),
        NewPage(),
    )  # fmt: skip


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
    return (Paragraph(closing), *table)
