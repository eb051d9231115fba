"""The cover of a shell from what the brief and the catalogue say of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from strutwright.brief import Brief
from strutwright.catalogue import Cover, Stock, cover
from strutwright.cover.dense import pack_densely
from strutwright.cover.extras import drape, layer_gap
from strutwright.cover.film import FilmWish, film_layer
from strutwright.cover.fixing import SPACING, fixing
from strutwright.cover.panels import PanelWish, panel_plan
from strutwright.cover.surface import vents_of
from strutwright.cover.values import CoverPlan, FilmLayer, Fixing, PanelPlan
from strutwright.errors import InputError
from strutwright.loads.film import FilmPressure
from strutwright.loads.standards import practice
from strutwright.shape import Shell
from strutwright.values import Note

__all__ = ["BARRIERS", "plan_cover"]

BARRIERS: Final = ("white-paint", "tape")
"""What keeps film off bare PVC: white acrylic latex paint, or tape that is not PVC itself.

Source: Ernest, University of Delaware, Weekly Crop Update, read.
"""
LEAST_AIR: Final = 0.0127
"""m of air that two layers need to insulate. Source: extension leaflet (over 1/2 in), read."""
ROLL_LENGTHS: Final = (30.0, 50.0, 100.0)
"""m, where the catalogue names none."""


@dataclass(frozen=True)
class _Asked:
    skin: Cover
    stock: Stock
    brief: Brief


def plan_cover(
    shell: Shell, stock: Stock, brief: Brief, pressure: FilmPressure | None = None
) -> CoverPlan | None:
    """Return the cover of `shell` on struts of `stock`; None for a bare frame.

    Parameters
    ----------
    shell : Shell
    stock : Stock
    brief : Brief
    pressure : FilmPressure or None
        Of wind and snow on each face; None leaves the fixings out.

    Raises
    ------
    InputError
        ``film-on-pvc``, ``roll-too-narrow``, ``roll-beyond-machine``, ``sheet-too-small``,
        ``cover-stock``.
    """
    if brief.cover.material is None:
        return None
    asked = _Asked(cover(brief.cover.material), stock, brief)
    _refuse_bare_pvc(asked)
    if asked.skin.kind == "film":
        plan = _film_plan(shell, asked, pressure)
    else:
        plan = _sheet_plan(shell, asked)
    return replace(plan, notes=tuple(_notes(shell, asked, plan)))


def _refuse_bare_pvc(asked: _Asked) -> None:
    barrier = asked.brief.cover.barrier
    harmed = asked.stock.material.kind in asked.skin.harmed_by
    if harmed and barrier not in BARRIERS:
        given = "no barrier is given" if barrier == "none" else f"barrier = {barrier!r}"
        raise InputError(
            "film-on-pvc",
            f"{asked.skin.name} on bare {asked.stock.material.name}: {given}; chlorine from the "
            "pipe spoils the film's stabiliser, and holes come within a year",
            asked.brief.where("cover.barrier"),
            f"give barrier = one of {', '.join(BARRIERS)}: white acrylic latex paint, or tape "
            "that is not PVC; no oil paint",
        )


def _film_plan(shell: Shell, asked: _Asked, pressure: FilmPressure | None) -> CoverPlan:
    skin, wish = asked.skin, asked.brief.cover
    if wish.sheet is not None:
        raise _wrong_stock(asked, "sheet", "roll")
    half = asked.stock.section.depth / 2
    lengths = skin.roll_lengths or ROLL_LENGTHS
    first = FilmWish("outer", "P", half, _roll_width(asked), lengths, wish.strips)
    films = [film_layer(shell, first)]
    inner = -half - wish.standoff
    if wish.layers > 1:
        second = replace(first, name="inner", prefix="Q", offset=inner)
        films.append(film_layer(shell, second, films[0]))
    if wish.nest == "dense":
        films = [_packed(film, first) for film in films]
    used = sum(piece.area for film in films for piece in film.pieces)
    bought = sum(roll.width * roll.length for film in films for roll in film.nest.stock)
    return CoverPlan(
        material=skin.id,
        layers=wish.layers,
        films=tuple(films),
        panels=None,
        gap=layer_gap(shell, half, inner) if wish.layers > 1 else None,
        drape=drape(shell, first.hem),
        fixing=_fixing(shell, asked, pressure),
        used=used,
        bought=bought,
        mass=used * skin.mass,
        notes=(),
    )


def _packed(film: FilmLayer, wish: FilmWish) -> FilmLayer:
    outlines = [piece.cut for piece in film.pieces]
    return replace(film, nest=pack_densely(outlines, wish.width, wish.lengths))


def _fixing(shell: Shell, asked: _Asked, pressure: FilmPressure | None) -> Fixing | None:
    if pressure is None:
        return None
    stiffness = practice.FILM_MODULUS * asked.skin.thickness
    return fixing(shell, pressure, stiffness, asked.brief.cover.fixing)


def _roll_width(asked: _Asked) -> float:
    wish = asked.brief.cover
    most = wish.machine or np.inf
    if wish.roll is not None:
        if wish.roll > most:
            raise _beyond_machine(asked, f"the roll is {wish.roll:g} m wide", most)
        return wish.roll
    if not asked.skin.roll_widths:
        raise _wrong_stock(asked, "no width", "roll")
    widths = [width for width in asked.skin.roll_widths if width <= most]
    if not widths:
        least = min(asked.skin.roll_widths)
        raise _beyond_machine(asked, f"the narrowest roll is {least:g} m wide", most)
    return _usual_width(widths)


def _beyond_machine(asked: _Asked, what: str, most: float) -> InputError:
    return InputError(
        "roll-beyond-machine",
        f"{what}, and the machine takes {most:g} m: it can neither be laid out nor joined there",
        asked.brief.where("cover.roll"),
        f'give roll = "{most:g} m" or a narrower one, or leave machine out',
    )


def _usual_width(widths: Sequence[float]) -> float:
    """Return the width that is handled by two: the widest up to 4 m, else the narrowest."""
    return max((w for w in widths if w <= 4.0), default=min(widths))


def _sheet_plan(shell: Shell, asked: _Asked) -> CoverPlan:
    skin, wish, site = asked.skin, asked.brief.cover, asked.brief.site
    sheet = wish.sheet or skin.sheet
    if wish.roll is not None or sheet is None:
        raise _wrong_stock(asked, "roll" if wish.roll is not None else "no size", "sheet")
    panels = panel_plan(
        shell,
        PanelWish(
            offset=asked.stock.section.depth / 2,
            sheet=sheet,
            directed=skin.fluted,
            expansion=skin.expansion or 0.0,
            spread=max(site.temperature) - min(site.temperature),
            spacing=SPACING / 2,
        ),
    )
    used = sum(kind.area * kind.quantity for kind in panels.types) * wish.layers
    bought = sum(use.width * use.length for use in panels.nest.stock) * wish.layers
    return CoverPlan(
        material=skin.id,
        layers=wish.layers,
        films=(),
        panels=panels,
        gap=None,
        drape=None,
        fixing=None,
        used=used,
        bought=bought,
        mass=used * skin.mass,
        notes=(),
    )


def _wrong_stock(asked: _Asked, given: str, wanted: str) -> InputError:
    return InputError(
        "cover-stock",
        f"{asked.skin.name} comes as a {wanted}, and the brief gives {given}",
        asked.brief.where(f"cover.{wanted}"),
        'give roll = "3.6 m"' if wanted == "roll" else 'give sheet = ["2.1 m", "6.0 m"]',
    )


def _notes(shell: Shell, asked: _Asked, plan: CoverPlan) -> Iterator[Note]:
    wish = asked.brief.cover
    if plan.films:
        yield from _film_notes(asked, plan)
    if plan.panels:
        yield from _panel_notes(plan.panels)
    if wish.layers > 1 and plan.panels:
        text = "the inner layer of sheets is cut like the outer one; its own size is not worked out"
        yield Note("cover-inner-sheets", text)
    if vents := len(vents_of(shell)):
        text = f"{vents} vents are pieces of their own; what holds and lifts them is not designed"
        yield Note("cover-vents-apart", text)


def _film_notes(asked: _Asked, plan: CoverPlan) -> Iterator[Note]:
    wish = asked.brief.cover
    if wish.roll is None:
        width = _roll_width(asked)
        text = f"No roll width is given: {width:g} m is taken, the widest that two handle with ease"
        yield Note("cover-roll-assumed", text)
    text = (
        "Smooth or cap every sawn end, bolt and band that the film touches before it goes on: "
        "sharp ends tear it in the first wind"
    )
    yield Note("cover-sharp-ends", text)
    if plan.gap is not None:
        air = float(plan.gap.at_strut)
        text = (
            f"Between the layers {1000 * air:.0f} mm of air; moist air condenses on the outer "
            "film: leave the base of the gap open to drain, or fill it with air from outside"
        )
        yield Note("cover-condensation", text)
        if air < LEAST_AIR:
            text = f"{1000 * air:.1f} mm of air between the layers insulates little: 13 mm or more"
            yield Note("cover-air-thin", text)
    if wish.layers > len(plan.films):
        text = f"{wish.layers} layers are weighed; patterns are made for {len(plan.films)}"
        yield Note("cover-third-layer", text)
    if any(film.nest.method == "dense" for film in plan.films):
        text = "the film was packed against a clock: another run may lie a little differently"
        yield Note("cover-nest-by-clock", text)
    elif wish.nest == "dense":
        text = "dense packing was asked for and found nothing shorter than the rows: they are kept"
        yield Note("cover-nest-rows-kept", text)


def _panel_notes(panels: PanelPlan) -> Iterator[Note]:
    flutes = "; flutes run from the most level edge upwards, open ends taped" * panels.directed
    text = (
        f"Panels lie on the struts with {1000 * panels.gap:.1f} mm between them for the warmest "
        f"day{flutes}; corners over hubs are trimmed to the hub on site"
    )
    yield Note("cover-panel-gap", text)
