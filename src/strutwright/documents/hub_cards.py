"""Hub cards of the workshop: the drawing of every hub type, its angles, files and fixings."""

from __future__ import annotations

from typing import Final

from strutwright.documents.blocks import Block, Card, Cards, Figure, Heading, NewPage, Paragraph
from strutwright.documents.pictures import kit_signs
from strutwright.documents.pictures.hub_drawing import HubShow, hub_drawing
from strutwright.documents.reader import Reader
from strutwright.drawing import svg
from strutwright.making import Fixings, HubForm, hub_form, hub_plates, plates_of, socket_sizes
from strutwright.parts import HubType, Kit

__all__ = ["hub_cards", "hub_pictures"]

PASSES: Final = 0.5e-3
"""m by which a strut's line may pass the hub's centre without a word."""


def hub_pictures(kit: Kit, fixings: Fixings, reader: Reader) -> dict[str, bytes]:
    """Return the drawing of each hub type as SVG, by the name of its picture."""
    known = {sign.label: sign for sign in kit_signs(kit)}
    show = HubShow(
        reader.length, reader.angle, lambda key, **of: reader(f"hub_drawing.{key}", **of)
    )
    pictures = {}
    for kind in kit.hub_types:
        title = reader("hubs.name", label=kind.label)
        sheet = hub_drawing(hub_form(kit, kind, fixings), known, show, title)
        pictures[f"hub-{kind.label}"] = svg(sheet)
    return pictures


def hub_cards(kit: Kit, fixings: Fixings, reader: Reader) -> tuple[Block, ...]:
    """Return the pages with a card for each hub type."""
    cards = tuple(_card(kit, kind, fixings, reader) for kind in kit.hub_types)
    intro = Paragraph(reader("shop.hubs_intro"))
    return (Heading(1, reader("shop.hubs")), intro, Cards(cards, columns=1), NewPage())


def _card(kit: Kit, kind: HubType, fixings: Fixings, reader: Reader) -> Card:
    form = hub_form(kit, kind, fixings)
    spokes = "; ".join(
        reader("hubs.spoke", label=one.label, azimuth=reader.angle(one.azimuth),
               dip=reader.angle(one.dip))
        for one in form.spokes
    )  # fmt: skip
    title = reader("hubs.card", label=kind.label, valence=kind.valence, quantity=kind.quantity)
    alt = reader("hubs.alt", label=kind.label, valence=kind.valence)
    return Card(title, Figure(f"hub-{kind.label}", alt), (spokes, *_lines(kit, kind, form, reader)))


def _lines(kit: Kit, kind: HubType, form: HubForm, reader: Reader) -> list[str]:
    lines = []
    for plate in hub_plates(kit, kind):
        words = reader("shop.file", name=f"hubs/{plate.label}.dxf")
        if plate.holes:
            reach = reader.length(plate.radius)
            words += " " + reader("shop.plate", holes=plate.holes, reach=reach,
                                  thick=reader.length(form.thickness))  # fmt: skip
        lines.append(words)
    if sizes := socket_sizes(kit):
        bore, depth = sizes
        lines.append(reader("shop.solid", bore=reader.length(bore), depth=reader.length(depth)))
    if form.hanger:
        lines.append(reader("hub_drawing.hanger", diameter=reader.length(form.hanger)))
    for stack in plates_of(form):
        off = max(abs(arm.passes_by) for arm in stack.arms)
        if off > PASSES:
            lines.append(reader("hub_drawing.passes", distance=reader.length(off)))
        if stack.slits:
            pairs = ", ".join(" - ".join(slit.between) for slit in stack.slits)
            lines.append(reader("hub_drawing.slits", pairs=pairs))
    if form.stake and form.kind == "flattened":
        lines.append(reader("hub_drawing.strap", count=form.stake.count))
    return lines
