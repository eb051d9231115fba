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
from strutwright.units import show_length
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
    show = brief.project.show
    if plan.films:
        yield from _of_film(brief, plan)
    yield from _of_nest(brief, plan)
    for layer in plan.sheets[:1]:
        yield from _of_panels(layer, plan.screw_pull, show)
    if plan.gap is not None:
        yield from _of_air(plan.gap, plan, show)
    made = max(len(plan.films), len(plan.sheets))
    if plan.layers > made:
        text = f"{plan.layers} layers are weighed; patterns are made for {made}"
        yield Note("cover-third-layer", text)
    if vents := len(vents_of(shell)):
        text = f"{vents} vents are pieces of their own; what holds and lifts them is not designed"
        yield Note("cover-vents-apart", text)
    if plan.skirt is not None:
        skirt = plan.skirt
        yield note("cover-skirt", area=skirt.area, around=skirt.around, high=skirt.highest)


def _of_film(brief: Brief, plan: CoverPlan) -> Iterator[Note]:
    wish, show = brief.cover, brief.project.show
    if wish.roll is None:
        width = show_length(plan.films[0].nest.stock[0].width, show)
        text = f"No roll width is given: {width} is taken, the widest that two handle with ease"
        yield Note("cover-roll-assumed", text)
    text = (
        "Smooth or cap every sawn end, bolt and band that the film touches before it goes on: "
        "sharp ends tear it in the first wind"
    )
    yield Note("cover-sharp-ends", text)


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


def _of_air(gap: LayerGap, plan: CoverPlan, show: str) -> Iterator[Note]:
    air, skin = gap.at_strut, "film" if plan.films else "sheet"
    text = (
        f"Between the layers {show_length(air, show)} of air; moist air condenses on the outer "
        f"{skin}: leave the base of the gap open to drain, or fill it with air from outside"
    )
    yield Note("cover-condensation", text)
    if air < LEAST_AIR:
        text = (
            f"{show_length(air, show)} of air between the layers insulates little: "
            f"{show_length(LEAST_AIR, show)} or more"
        )
        yield Note("cover-air-thin", text)
    if plan.fixing is not None and plan.fixing.sag > gap.at_face:
        text = (
            f"In the strongest wind or snow the outer film is pressed in by up to "
            f"{show_length(plan.fixing.sag, show)} and touches the inner one, "
            f"{show_length(gap.at_face, show)} below it: no edge between them may be sharp, and "
            "the air insulates less as long as it lasts"
        )
        yield Note("cover-layers-touch", text)


def _of_panels(layer: PanelPlan, pull: float | None, show: str) -> Iterator[Note]:
    flutes = "; flutes run from the most level edge upwards, open ends taped" * layer.directed
    deepest = max(float(kind.corners.max()) for kind in layer.types)
    corners = (
        f"corners are cut off up to {show_length(deepest, show)} along their edges, clear of the "
        "ends of the struts; a cap closes the hub, and what stands proud beyond is let in on site"
        if deepest
        else "corners over hubs are trimmed to the hub on site"
    )
    text = (
        f"Panels lie on the struts with {show_length(layer.gap, show)} between them for the "
        f"warmest day{flutes}; {corners}"
    )
    yield Note("cover-panel-gap", text)
    if pull is None:
        yield note("cover-screws-unchecked")
    else:
        yield note("cover-screws-unchecked.pull", pull=pull)
    if layer.beside > layer.seat + HAIR:
        yield note("cover-screws-beside", beside=layer.beside, seat=layer.seat)
