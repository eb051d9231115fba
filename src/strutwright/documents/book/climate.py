"""The chapter on heat, air and room to work in."""

from __future__ import annotations

from strutwright.climate import ClimatePlan, Given, bench_sheet
from strutwright.design import Design
from strutwright.design.skin import entrances_of
from strutwright.documents.blocks import (
    Block,
    Bullets,
    Figure,
    Heading,
    NewPage,
    Paragraph,
    Table,
)
from strutwright.documents.reader import Reader
from strutwright.drawing import Sheet
from strutwright.units import show_share

__all__ = ["climate_chapter", "climate_pictures"]

KWH = 3.6e6
"""J in a kWh."""


def climate_pictures(design: Design, reader: Reader) -> dict[str, Sheet]:
    """Return the pictures of the chapter by name."""
    if not _is_told(design) or not design.climate.benches.benches:
        return {}
    doors = entrances_of(design.shell)
    return {"benches": bench_sheet(design.climate.benches, design.shell, doors, reader.length)}


def _is_told(design: Design) -> bool:
    return design.brief.project.use == "greenhouse" and design.cover is not None


def climate_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return the chapter of a house with plants; nothing for other uses or a bare frame."""
    if not _is_told(design):
        return ()
    plan = design.climate
    items = (
        *_heat(plan, reader),
        *_air(plan, reader),
        *reader.notes(plan.notes),
    )
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
        *_benches(plan, reader),
        _given(plan.given, reader),
        NewPage(),
    )


def _benches(plan: ClimatePlan, reader: Reader) -> tuple[Block, ...]:
    found = plan.benches
    if not found.benches:
        return (Paragraph(reader("climate.no_bench")),)
    used = {one.name: one.value for one in plan.given}
    words = reader(
        "climate.bench",
        depth=reader.length(used["bench_depth"]),
        wall=reader.length(found.wall),
        middle=reader.length(found.middle),
        area=reader.area(found.bench_area),
        path=reader.length(used["path"]),
        path_area=reader.area(found.path_area),
        standing=show_share(found.standing),
    )
    levels = ", ".join(reader.length(height) for height, _ in found.levels)
    alt = reader("climate.bench_alt", levels=levels)
    return (Paragraph(words), Figure("benches", alt, alt, 120.0))


def _given(values: tuple[Given, ...], reader: Reader) -> Table:
    """Return the values that the brief did not give, with where they come from."""
    rows = tuple(
        (
            reader(f"climate.given_{one.name}"),
            f"{one.value:.3g} {one.unit}".strip(),
            str(one.source),
            reader(f"climate.known_{'second_hand' if one.second_hand else one.source.how}"),
        )
        for one in values
    )
    head = tuple(reader(f"climate.{key}_head") for key in ("given", "amount", "source", "known"))
    return Table(head, rows, "lrll", reader("climate.given_caption"), (0, 0, 1, 0))


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
