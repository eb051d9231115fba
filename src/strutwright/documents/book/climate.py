"""The chapter on heat, air and room to work in."""

from __future__ import annotations

from strutwright.climate import ClimatePlan
from strutwright.design import Design
from strutwright.documents.blocks import Block, Bullets, Heading, NewPage, Paragraph, Table
from strutwright.documents.reader import Reader
from strutwright.units import show_share

__all__ = ["climate_chapter"]

KWH = 3.6e6
"""J in a kWh."""


def climate_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return the chapter of a house with plants; nothing for other uses or a bare frame."""
    if design.brief.project.use != "greenhouse" or design.cover is None:
        return ()
    plan = design.climate
    items = (*_heat(plan, reader), *_air(plan, reader))
    rows = tuple(
        (reader.length(height), reader.area(floor)) for height, floor in plan.benches.floor
    )
    return (
        Heading(1, reader("climate.title")),
        Paragraph(reader("climate.intro")),
        Bullets(items),
        Table(
            (reader("climate.height_head"), reader("climate.floor_head")),
            rows,
            "rr",
            reader("climate.floor_caption"),
        ),
        Paragraph(reader("climate.bench", run=reader.length(plan.benches.bench))),
        NewPage(),
    )


def _heat(plan: ClimatePlan, reader: Reader) -> tuple[str, ...]:
    heat = plan.heat
    if heat is None:
        return (reader("climate.no_heat"),)
    items = [
        reader(
            "climate.heat",
            total=reader.quantity(heat.total, "power"),
            cover=reader.quantity(heat.through_cover, "power"),
            air=reader.quantity(heat.by_air, "power"),
            edge=reader.quantity(heat.at_edge, "power"),
            heater=reader.quantity(heat.heater, "power"),
        )
    ]
    if plan.season_fuel is not None:
        items.append(reader("climate.fuel", kwh=f"{plan.season_fuel / KWH:,.0f}"))
    saved = plan.second_layer
    if saved is not None:
        items.append(
            reader("climate.second", share=show_share(saved.share), kwh=f"{saved.saved / KWH:,.0f}")
        )
        if saved.seasons_to_pay is not None:
            items.append(reader("climate.pays", seasons=f"{saved.seasons_to_pay:.1f}"))
    return tuple(items)


def _air(plan: ClimatePlan, reader: Reader) -> tuple[str, ...]:
    items = []
    if plan.low.area or plan.high.area:
        items.append(
            reader(
                "climate.vents",
                low=reader.area(plan.low.area),
                low_share=show_share(plan.low.share),
                high=reader.area(plan.high.area),
                high_share=show_share(plan.high.share),
                stack=reader.quantity(plan.stack, "flow"),
                wind=reader.quantity(plan.wind, "flow"),
            )
        )
    least, most = plan.fan
    items.append(
        reader(
            "climate.fan", least=reader.quantity(least, "flow"), most=reader.quantity(most, "flow")
        )
    )
    if plan.rise is not None:
        items.append(
            reader(
                "climate.rise",
                vents=reader.quantity(plan.rise, "warming"),
                fan=reader.quantity(plan.rise_fan, "warming"),
            )
        )
    return tuple(items)
