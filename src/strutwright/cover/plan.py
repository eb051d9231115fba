"""The cover of a shell from what the brief and the catalogue say of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from strutwright.brief import Brief
from strutwright.catalogue import Cover, Section, Stock, cover
from strutwright.cover.bending import bending
from strutwright.cover.dense import pack_densely
from strutwright.cover.extras import drape, layer_fittings, layer_gap
from strutwright.cover.film import FilmWish, film_layer
from strutwright.cover.fixing import SPACING, fixing
from strutwright.cover.notes import cover_notes
from strutwright.cover.panels import LEAST_EDGE, PanelWish, panel_plan, screw_pull
from strutwright.cover.skirt import bays_of, film_skirt, sheet_skirt
from strutwright.cover.values import CoverPlan, FilmLayer, Fixing
from strutwright.errors import InputError
from strutwright.loads.film import FilmPressure
from strutwright.loads.standards import practice
from strutwright.shape import Shell

__all__ = ["BARRIERS", "plan_cover"]

BARRIERS: Final = ("white-paint", "tape")
"""What keeps film off bare PVC: white acrylic latex paint, or tape that is not PVC itself.

Source: Ernest, University of Delaware, Weekly Crop Update, read.
"""
ROLL_LENGTHS: Final = (30.0, 50.0, 100.0)
"""m, where the catalogue names none."""


@dataclass(frozen=True)
class _Asked:
    skin: Cover
    stock: Stock
    brief: Brief
    pressure: FilmPressure | None
    hub: float

    @property
    def half(self) -> float:
        """Half the depth of a strut, m: from the hub centres to the outer layer."""
        return self.stock.section.depth / 2

    @property
    def inside(self) -> float:
        """From the hub centres to the inner layer, m, outwards: below 0."""
        return -self.half - self.brief.cover.standoff

    @property
    def layers(self) -> int:
        """Layers that are cut: two at most."""
        return min(self.brief.cover.layers, 2)


def plan_cover(
    shell: Shell,
    stock: Stock,
    brief: Brief,
    pressure: FilmPressure | None = None,
    *,
    hub: float = 0.0,
) -> CoverPlan | None:
    """Return the cover of `shell` on struts of `stock`; None for a bare frame.

    Parameters
    ----------
    shell : Shell
    stock : Stock
    brief : Brief
    pressure : FilmPressure or None
        Of wind and snow on each face; None leaves the fixings out.
    hub : float, m
        From a hub's centre to where panels begin; 0 leaves their corners on.

    Raises
    ------
    InputError
        ``cover-barrier``, ``film-on-pvc``, ``roll-too-narrow``, ``roll-beyond-machine``,
        ``sheet-too-small``, ``cover-stock``.
    """
    if brief.cover.material is None:
        return None
    asked = _Asked(cover(brief.cover.material), stock, brief, pressure, hub)
    _refuse_unknown_barrier(asked)
    _refuse_bare_pvc(asked)
    plan = (_film_plan if asked.skin.kind == "film" else _sheet_plan)(shell, asked)
    if asked.layers > 1:
        gap = layer_gap(shell, asked.half, asked.inside)
        plan = replace(plan, gap=gap, fittings=layer_fittings(shell, asked.half, asked.inside))
    plan = _with_skirt(shell, asked, plan)
    return replace(plan, notes=cover_notes(shell, asked.brief, plan))


def _with_skirt(shell: Shell, asked: _Asked, plan: CoverPlan) -> CoverPlan:
    """Return `plan` with one layer under the base ring where it stands on legs."""
    runs = bays_of(shell, asked.half)
    parted = sum(len(run) for run in runs) < len(shell.base)
    if plan.films:
        nest = plan.films[0].nest
        skirt = film_skirt(runs, nest.stock[0].width, plan.films[0].sold, parted=parted)
    else:
        layer = plan.sheets[0]
        sheet = (layer.nest.stock[0].width, layer.nest.stock[0].length)
        skirt = sheet_skirt(runs, sheet, layer.gap, directed=layer.directed)
    if skirt is None:
        return plan
    used = plan.used + sum(part.area * part.quantity for part in skirt.parts)
    more = sum(use.width * use.length for use in skirt.nest.stock)
    mass = plan.mass + asked.skin.mass * (used - plan.used)
    return replace(plan, skirt=skirt, used=used, bought=plan.bought + more, mass=mass)


def _refuse_unknown_barrier(asked: _Asked) -> None:
    """Refuse a barrier that is none, though the struts do the film no harm: it may be relied on."""
    barrier = asked.brief.cover.barrier
    harmed = asked.stock.material.kind in asked.skin.harmed_by
    if not harmed and barrier not in {"none", *BARRIERS}:
        raise InputError(
            "cover-barrier",
            f"barrier = {barrier!r} is not known; {asked.stock.material.name} needs none",
            asked.brief.where("cover.barrier"),
            f'leave barrier out, or give one of "none", {", ".join(BARRIERS)}',
        )


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


def _film_plan(shell: Shell, asked: _Asked) -> CoverPlan:
    skin, wish = asked.skin, asked.brief.cover
    if wish.sheet is not None:
        raise _wrong_stock(asked, "sheet", "roll")
    lengths = skin.roll_lengths or ROLL_LENGTHS
    first = FilmWish("outer", "P", asked.half, _roll_width(asked), lengths, wish.strips)
    films = [film_layer(shell, first)]
    if asked.layers > 1:
        second = replace(first, name="inner", prefix="Q", offset=asked.inside)
        films.append(film_layer(shell, second, films[0]))
    if wish.nest == "dense":
        films = [_packed(film, first) for film in films]
    used = sum(piece.area for film in films for piece in film.pieces)
    return CoverPlan(
        material=skin.id,
        layers=wish.layers,
        films=tuple(films),
        drape=drape(shell, first.hem),
        fixing=_fixing(shell, asked),
        used=used,
        bought=sum(roll.width * roll.length for film in films for roll in film.nest.stock),
        mass=used * skin.mass,
    )


def _packed(film: FilmLayer, wish: FilmWish) -> FilmLayer:
    outlines = [piece.cut for piece in film.pieces]
    return replace(film, nest=pack_densely(outlines, wish.width, wish.lengths))


def _fixing(shell: Shell, asked: _Asked) -> Fixing | None:
    if asked.pressure is None:
        return None
    stiffness = practice.FILM_MODULUS * asked.skin.thickness
    return fixing(shell, asked.pressure, stiffness, asked.brief.cover.fixing)


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
    outer = PanelWish(
        offset=asked.half,
        sheet=sheet,
        directed=skin.fluted,
        expansion=skin.expansion or 0.0,
        spread=max(site.temperature) - min(site.temperature),
        spacing=SPACING / 2,
        hub=asked.hub,
        seat=_seat(asked.stock.section),
        dense=wish.nest == "dense",
    )
    inner = replace(outer, offset=asked.inside, name="inner", prefix="U")
    sheets = tuple(panel_plan(shell, one) for one in (outer, inner)[: asked.layers])
    used = sum(kind.area * kind.quantity for one in sheets for kind in one.types)
    return CoverPlan(
        material=skin.id,
        layers=wish.layers,
        sheets=sheets,
        bending=None
        if asked.pressure is None
        else bending(shell, asked.pressure, skin, wish.sheet_load),
        screw_pull=None if asked.pressure is None else screw_pull(sheets[0], asked.pressure.wind),
        used=used,
        bought=sum(use.width * use.length for one in sheets for use in one.nest.stock),
        mass=used * skin.mass,
    )


def _seat(section: Section) -> float:
    """Return how far beside its middle a strut still takes a screw, m.

    A round one leans away by 30 degrees at half its radius, where a drill walks off; a rectangle
    ends one and a half screws short of its edge. Our choice.
    """
    if section.shape == "rectangle":
        return max(section.width / 2 - LEAST_EDGE, 0.0)
    return section.depth / 4


def _wrong_stock(asked: _Asked, given: str, wanted: str) -> InputError:
    return InputError(
        "cover-stock",
        f"{asked.skin.name} comes as a {wanted}, and the brief gives {given}",
        asked.brief.where(f"cover.{wanted}"),
        'give roll = "3.6 m"' if wanted == "roll" else 'give sheet = ["2.1 m", "6.0 m"]',
    )
