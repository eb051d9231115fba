"""What a reader is told of a cover: rules with their reasons, and what is not worked out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from strutwright.brief import Brief
from strutwright.cover.fit import least_sheets
from strutwright.cover.surface import vents_of
from strutwright.cover.values import CoverPlan, LayerGap, PanelPlan
from strutwright.sentences import Sentence, note, sentence
from strutwright.shape import Shell
from strutwright.values import Note

__all__ = ["cover_notes"]

LEAST_AIR: Final = 0.0127
"""m of air that two layers need to insulate. Source: extension leaflet (over 1/2 in), read."""

HAIR: Final = 1e-4
"""m."""


def cover_notes(shell: Shell, brief: Brief, plan: CoverPlan) -> tuple[Note, ...]:
    """Return the notes of the cover `plan` of `shell`."""
    return tuple(_notes(shell, brief, plan))


def _notes(shell: Shell, brief: Brief, plan: CoverPlan) -> Iterator[Note]:
    if plan.films:
        yield from _of_film(brief, plan)
    yield from _of_nest(brief, plan)
    for layer in plan.sheets[:1]:
        yield from _of_panels(layer, plan.screw_pull)
    if plan.gap is not None:
        yield from _of_air(plan.gap, plan)
    made = max(len(plan.films), len(plan.sheets))
    if plan.layers > made:
        yield note("cover-third-layer", layers=plan.layers, made=made)
    if vents := len(vents_of(shell)):
        yield note("cover-vents-apart", vents=vents)
    if plan.skirt is not None:
        skirt = plan.skirt
        yield note("cover-skirt", area=skirt.area, around=skirt.around, high=skirt.highest)


def _of_film(brief: Brief, plan: CoverPlan) -> Iterator[Note]:
    if brief.cover.roll is None:
        yield note("cover-roll-assumed", width=plan.films[0].nest.stock[0].width)
    yield note("cover-sharp-ends")


def _of_nest(brief: Brief, plan: CoverPlan) -> Iterator[Note]:
    nests = [*(film.nest for film in plan.films), *(layer.nest for layer in plan.sheets)]
    if any(nest.method == "dense" for nest in nests):
        yield note("cover-nest-by-clock")
    elif brief.cover.nest == "dense":
        yield note("cover-nest-rows-kept")
    elif could := tuple(_could_buy_less(plan)):
        yield note("cover-nest-denser", layers=could)


def _could_buy_less(plan: CoverPlan) -> Iterator[Sentence]:
    """Yield the layers whose area alone would fit on less than is bought, with what is left."""
    for film in plan.films:
        nest = film.nest
        least = sum(piece.area for piece in film.pieces) / nest.stock[0].width
        if len(nest.stock) > 1 or any(least <= length < nest.bought for length in film.sold):
            yield sentence(f"part.cover-left-{film.name}", left=1 - least / nest.bought)
    for layer in plan.sheets:
        use = layer.nest.stock[0]
        area = sum(kind.area * kind.quantity for kind in layer.types)
        if len(layer.nest.stock) > least_sheets(area, (use.width, use.length)):
            yield sentence(f"part.cover-left-{layer.name}", left=1 - layer.nest.density)


def _of_air(gap: LayerGap, plan: CoverPlan) -> Iterator[Note]:
    air, skin = gap.at_strut, "film" if plan.films else "sheet"
    yield note(f"cover-condensation.{skin}", air=air)
    if air < LEAST_AIR:
        yield note("cover-air-thin", air=air, least=LEAST_AIR)
    if plan.fixing is not None and plan.fixing.sag > gap.at_face:
        yield note("cover-layers-touch", sag=plan.fixing.sag, gap=gap.at_face)


def _of_panels(layer: PanelPlan, pull: float | None) -> Iterator[Note]:
    deepest = max(float(kind.corners.max()) for kind in layer.types)
    corners = (
        sentence("cover-panel-corners.cut", deepest=deepest)
        if deepest
        else sentence("cover-panel-corners.site")
    )
    flutes = (sentence("cover-panel-flutes"),) if layer.directed else ()
    yield note("cover-panel-gap", gap=layer.gap, details=(*flutes, corners))
    if pull is None:
        yield note("cover-screws-unchecked")
    else:
        yield note("cover-screws-unchecked.pull", pull=pull)
    if layer.beside > layer.seat + HAIR:
        yield note("cover-screws-beside", beside=layer.beside, seat=layer.seat)
