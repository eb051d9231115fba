"""`make_kit`: the parts of a shell as its brief asks for them."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from strutwright.brief import Brief, ConnectorTable, StockTable, end_tests_of
from strutwright.catalogue import (
    Bar,
    Connector,
    FastenerItem,
    Section,
    Source,
    Stock,
    carrier,
    connector,
    material,
    rectangle,
    rod,
    stock,
    tube,
)
from strutwright.parts.choices import PartChoices
from strutwright.parts.kit import assemble_kit
from strutwright.parts.tested import test_notes, tested
from strutwright.parts.values import Kit
from strutwright.progress import SILENT, Progress, step
from strutwright.sentences import note
from strutwright.shape.shell import Shell
from strutwright.values import Note

__all__ = ["brief_connector", "brief_stock", "make_kit", "part_choices"]

PROCESS: Final = {
    "plastic": "extruded",
    "steel": "cold-formed",
    "aluminium": "extruded",
    "timber": "sawn",
    "bamboo": "grown",
}
"""How stock of a material is taken to be made where nobody says: the weaker case."""
COMMON_BAR: Final = 6.0
"""Bar length of stock of the user's own where no bars are given, m. Common practice."""
LEAST_CUT: Final = 0.050
"""Shortest strut on a connector of the user's own, m. Our choice: nothing can be held on less."""


def make_kit(shell: Shell, brief: Brief, progress: Progress = SILENT) -> Kit:
    """Return the parts of `shell` in the stock and with the connector of `brief`.

    Raises
    ------
    InputError
        ``catalogue-unknown``, ``connector-size``, ``connector-material``, ``section-wall``,
        ``section-size`` or ``strut-too-short``.
    """
    step(progress, "parts", 0.0)
    choices, notes = part_choices(brief)
    kit = assemble_kit(shell, choices)
    step(progress, "parts", 1.0)
    return replace(kit, notes=(*notes, *test_notes(end_tests_of(brief)), *kit.notes))


def part_choices(brief: Brief) -> tuple[PartChoices, tuple[Note, ...]]:
    """Return what the parts of `brief` are made from, and notes of what was assumed for it."""
    own, notes = brief_stock(brief)
    longest, limited_by = _longest_piece(brief, own)
    choices = PartChoices(
        stock=own,
        connector=brief_connector(brief, own),
        length_tolerance=brief.struts.step / 2,
        longest_piece=longest,
        limited_by=limited_by,
        measured_span=_measured_span(brief),
    )
    return choices, notes


def _measured_span(brief: Brief) -> float:
    """Return the span of lengths that are one type of an old kit, m; 0 of a kit that was drawn."""
    shape = brief.shape
    return shape.join if shape is not None and shape.family == "imported" else 0.0


def brief_stock(brief: Brief) -> tuple[Stock, tuple[Note, ...]]:
    """Return the stock of `brief` with its bars and prices, and a note where bars are assumed."""
    asked = brief.struts.stock
    notes: tuple[Note, ...] = ()
    if isinstance(asked, StockTable):
        made = _own_stock(asked, brief)
        if not brief.struts.bars:
            notes = (note("assumed-bars", stock=asked.name, length=COMMON_BAR),)
    else:
        made = stock(asked, brief.where("struts.stock"))
    if brief.struts.bars:
        bars = (Bar(bar.length, bar.price, bar.quantity) for bar in brief.struts.bars)
        longest_first = tuple(sorted(bars, key=lambda bar: -bar.length))
        sources = {**made.sources, "bars": Source("the brief", how="judgement")}
        made = replace(made, bars=longest_first, sources=sources)
    return made, notes


def _own_stock(asked: StockTable, brief: Brief) -> Stock:
    of = material(asked.material, brief.where("struts.stock.material"))
    section = _own_section(asked, brief.where("struts.stock"))
    given = Source("the brief", how="judgement")
    return Stock(
        id="own",
        name=asked.name,
        material=of,
        section=section,
        mass=of.density * section.area,
        bars=(Bar(COMMON_BAR),),
        process=PROCESS[of.kind],
        sources={
            "section": given,
            "bars": Source("common bar length", how="judgement"),
            "mass": Source("density times area", how="computed"),
            "process": Source("the weaker case", how="judgement"),
        },
    )


def _own_section(asked: StockTable, where: str) -> Section:
    if asked.depth is not None and asked.breadth is not None:
        return rectangle(asked.depth, asked.breadth, where)
    outside = asked.outside or 0.0
    return rod(outside, where) if asked.wall is None else tube(outside, asked.wall, where)


def brief_connector(brief: Brief, of: Stock) -> Connector:
    """Return the connector of `brief` in the size that takes the stock `of`, as tested."""
    asked = brief.hubs.connector
    if isinstance(asked, ConnectorTable):
        made = _own_connector(asked)
    else:
        made = connector(asked, of.section.outside, brief.where("hubs.connector"))
    return tested(made, end_tests_of(brief), brief.where("hubs.tests"))


def _own_connector(asked: ConnectorTable) -> Connector:
    values = {
        "allowance": asked.allowance,
        "eccentricity": asked.eccentricity,
        "strength": asked.strength,
        "hub_mass": asked.mass,
        "hub_price": asked.price,
    }
    given = Source("the brief", how="judgement")
    return Connector(
        id="own",
        name=asked.name,
        kind="own",
        is_handed=True,
        least_cut=LEAST_CUT,
        rotational_stiffness=None if asked.stiffness is None else (asked.stiffness,) * 2,
        axial_stiffness=None if asked.axial_stiffness is None else (asked.axial_stiffness,) * 2,
        fasteners=(FastenerItem("fastener of the own connector", per_end=asked.fasteners),)
        if asked.fasteners
        else (),
        sources={name: given for name, value in values.items() if value is not None},
        allowance=asked.allowance,
        eccentricity=asked.eccentricity,
        strength=asked.strength,
        hub_mass=asked.mass,
        hub_price=asked.price,
    )


def _longest_piece(brief: Brief, of: Stock) -> tuple[float, str]:
    """Return the longest piece that can be sawn and sent, m, and the carrier if that limits it.

    Of a hubs-only order the customer saws the struts where they are built: no parcel limits them.
    """
    longest, by = max(bar.length for bar in of.bars) - brief.struts.end_trim, ""
    if brief.delivery.kit == "full":
        by_parcel = carrier(brief.delivery.carrier, brief.where("delivery.carrier")).longest_piece
        if by_parcel is not None and by_parcel < longest:
            return by_parcel, brief.delivery.carrier
    return longest, by
