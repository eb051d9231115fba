"""The permit packet's chapters on the site, its coefficients, the load cases and the reactions."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from strutwright.catalogue import Source
from strutwright.design import Design
from strutwright.documents.blocks import Block, Bullets, Heading, NewPage, Paragraph, Table
from strutwright.documents.reader import Reader
from strutwright.loads import (
    SiteFactor,
    ZoneRow,
    form_of,
    resultant,
    site_factors,
    snow_zones,
    wind_zones,
)
from strutwright.structure.asked import load_site
from strutwright.units import show_temperature

__all__ = [
    "coefficient_chapter",
    "load_chapter",
    "reaction_chapter",
    "site_chapter",
    "site_sources",
]

LEAST: Final = 0.5
"""N; what is less is printed as nothing."""


def site_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return what the brief says of the site and of the loads."""
    site, loads = design.brief.site, design.brief.loads
    wind = site.basic_wind
    low, high = site.temperature

    def degrees(celsius: float) -> str:
        return show_temperature(celsius, reader.system)

    values = {
        "standard": site.standard,
        "snow": "-" if site.ground_snow is None else reader.pressure(site.ground_snow),
        "wind": "-" if wind is None else f"{reader.speed(wind.value)} ({wind.basis})",
        "exposure": site.exposure,
        "consequence": site.consequence,
        "topography": f"{site.topography:g}",
        "altitude": (
            reader.length(site.altitude) if reader.system == "imperial" else f"{site.altitude:g} m"
        ),
        "temperature": reader("packet.between", low=degrees(low), high=degrees(high)),
        "base": site.base,
        "soil": site.soil or "-",
        "hung": reader.force(loads.hung),
        "crop": reader.pressure(loads.crop),
        "stock": design.kit.stock.name,
        "connector": design.kit.connector.name,
    }
    rows = tuple((reader(f"packet.{key}"), str(value)) for key, value in values.items())
    head = (reader("packet.item"), reader("packet.value"))
    return (NewPage(), Heading(1, reader("packet.basis")), Table(head, rows, "ll", "", (2, 3)))


def coefficient_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return the factors of snow and wind, and the coefficients in each zone."""
    site = load_site(design.brief)
    if site is None:
        return ()
    form = form_of(design.shell, site.riser)
    factors = [
        (factor.symbol, _amount(factor, reader), str(factor.source))
        for factor in site_factors(form, site)
    ]
    wind = [_zone(row, reader, "{:+.2f}".format) for row in wind_zones(form, site)]
    snow = [_zone(row, reader, "{:.2f}".format) for row in snow_zones(form, site)]
    zones = tuple(reader(f"packet.{key}") for key in ("field", "windward", "middle", "leeward"))
    head = (*zones, reader("packet.source"))
    shares = (1.7, 1.3, 1.3, 1.3, 2.4)
    blocks: list[Block] = [
        Heading(1, reader("packet.coefficients")),
        Table(
            tuple(reader(f"packet.{key}") for key in ("symbol", "value", "source")),
            tuple(factors), "lrl", "", (1.0, 1.2, 4.0),
        ),
    ]  # fmt: skip
    if wind:
        blocks += [
            Heading(2, reader("packet.wind_zones")),
            Paragraph(reader("packet.wind_zones_intro")),
            Table(head, tuple(wind), "lllll", "", shares),
        ]
    if snow:
        blocks += [
            Heading(2, reader("packet.snow_zones")),
            Paragraph(reader("packet.snow_zones_intro")),
            Table(head, tuple(snow), "lllll", "", shares),
        ]
    return tuple(blocks)


def site_sources(design: Design) -> list[Source]:
    """Return where the factors and coefficients of the site come from."""
    site = load_site(design.brief)
    if site is None:
        return []
    form = form_of(design.shell, site.riser)
    zones = (*wind_zones(form, site), *snow_zones(form, site))
    return [factor.source for factor in site_factors(form, site)] + [row.source for row in zones]


def _amount(factor: SiteFactor, reader: Reader) -> str:
    if factor.unit == "Pa":
        return reader.pressure(factor.value)
    if factor.unit == "m":
        return reader.length(factor.value)
    return f"{factor.value:.3g}" if factor.value >= 0 else f"{factor.value:.2f}"


def _zone(row: ZoneRow, reader: Reader, show: Callable[[float], str]) -> tuple[str, ...]:
    cells = []
    for low, high in row.zones:
        least, most = show(low), show(high)
        cells.append(least if least == most else reader("packet.between", low=least, high=most))
    way = "" if row.direction is None else f", {np.degrees(row.direction) % 360:.0f}°"
    return (f"{row.name}{way}", *cells, str(row.source))


def load_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return every load case with its resultant, and what was taken for all of them."""
    judged = design.judgement
    cases = () if judged.loads is None else judged.loads.cases
    rows = []
    for case in cases:
        force = resultant(design.shell, case)[0]
        shown = tuple(_signed(reader, float(part)) for part in force)
        rows.append((case.name, *shown, case.duration))
    keys = ("case", "x", "y", "z", "duration")
    head = tuple(reader(f"packet.{key}") for key in keys)
    combos = () if judged.strength is None else judged.strength.combinations
    sources = dict.fromkeys(
        [f"{c.limit_state}: {c.source}" for c in combos]
        + [f"{case.action}: {case.source}" for case in cases]
    )
    notes = () if judged.loads is None else judged.loads.notes
    return (
        NewPage(),
        Heading(1, reader("packet.loads")),
        Paragraph(reader("packet.loads_intro", cases=len(cases), combos=len(combos))),
        Bullets((*sources, *reader.notes(notes)) or ("-",)),
        Table(head, tuple(rows), "lrrrl", "", (3.4, 1.2, 1.2, 1.2, 1.2)),
    )


def _signed(reader: Reader, force: float) -> str:
    if abs(force) < LEAST:
        return reader.force(0.0)
    return ("-" if force < 0 else "") + reader.force(abs(force))


def reaction_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return what every base hub has to carry."""
    strength = design.judgement.strength
    if strength is None:
        return ()
    at = strength.reactions
    sideways = np.linalg.norm(at[..., :2], axis=2)
    rows = []
    for k, hub in enumerate(strength.ground):
        down, up = int(at[:, k, 2].argmax()), int(at[:, k, 2].argmin())
        side = int(sideways[:, k].argmax())
        rows.append(
            (
                str(int(hub)),
                _signed(reader, float(at[down, k, 2])),
                reader.force(max(0.0, float(-at[up, k, 2]))),
                reader.force(float(sideways[side, k])),
                strength.combinations[up].name,
            )
        )
    keys = ("hub", "press", "uplift", "side", "uplift_under")
    return (
        NewPage(),
        Heading(1, reader("packet.reactions")),
        Paragraph(reader("packet.reactions_intro")),
        Table(tuple(reader(f"packet.{key}") for key in keys), tuple(rows), "rrrrl", "",
              (0.6, 1.1, 1.1, 1.1, 4.0)),
    )  # fmt: skip
