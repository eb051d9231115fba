"""The patterns of the cover as a document of its own, for whoever cuts and joins it."""

from __future__ import annotations

from strutwright.cover import CoverPlan, FilmLayer, PanelPlan, panel_card, pattern_card, patterns
from strutwright.design import Design
from strutwright.documents.blocks import (
    Block,
    Card,
    Cards,
    Document,
    Figure,
    Heading,
    Paragraph,
)
from strutwright.documents.framed import framed
from strutwright.documents.reader import Reader
from strutwright.drawing import Sheet, svg

__all__ = ["build_patterns"]


def build_patterns(design: Design, *, date: str = "") -> Document | None:
    """Return the patterns of the cover of `design`; None for a bare frame."""
    plan = design.cover
    if plan is None:
        return None
    reader = Reader.of(design)
    blocks: list[Block] = []
    for film in plan.films:
        blocks += _film(film, reader)
    for layer in plan.sheets:
        blocks += _panels(layer, reader)
    return framed(
        design,
        reader,
        reader("patterns.title"),
        tuple(blocks),
        {name: svg(sheet) for name, sheet in _pictures(design, plan, reader).items()},
        date=date,
    )


def _pictures(design: Design, plan: CoverPlan, reader: Reader) -> dict[str, Sheet]:
    sheets: dict[str, Sheet] = {}
    for film in plan.films:
        for k in range(len(patterns(film.pieces))):
            name = f"{film.name}-pattern-{k + 1}"
            sheets[name] = pattern_card(film, k, design.shell.faces, reader.length)
    for layer in plan.sheets:
        for kind in layer.types:
            sheets[f"panel-{kind.label}"] = panel_card(kind, reader.length)
    return sheets


def _film(film: FilmLayer, reader: Reader) -> list[Block]:
    blocks: list[Block] = [
        Heading(1, reader(f"cover.{film.name}")),
        Paragraph(reader("cover.laps")),
    ]
    for k, group in enumerate(patterns(film.pieces)):
        labels = ", ".join(film.pieces[n].label for n in group)
        caption = reader("cover.pattern", labels=labels, number=len(group))
        blocks.append(Figure(f"{film.name}-pattern-{k + 1}", caption, caption))
    return blocks


def _panels(plan: PanelPlan, reader: Reader) -> list[Block]:
    cards = []
    for kind in plan.types:
        angles = ", ".join(reader.angle(float(a)) for a in kind.bevels)
        lines = [reader("cover.bevels", angles=angles)]
        lines.append(
            reader("cover.holes", number=len(kind.holes), size=reader.length(kind.hole_diameter))
        )
        if kind.corners.any():
            off = ", ".join(reader.length(float(one)) for one in kind.corners)
            lines.append(reader("cover.corners", lengths=off))
        if kind.mirror_of:
            lines.append(reader("cover.mirror", label=kind.label, other=kind.mirror_of))
        title = reader("cover.panel", label=kind.label, quantity=kind.quantity)
        alt = reader("cover.panel_alt", label=kind.label)
        cards.append(Card(title, Figure(f"panel-{kind.label}", alt), tuple(lines)))
    blocks: list[Block] = [
        Heading(1, reader(f"cover.panels_{plan.name}")),
        Paragraph(reader("cover.panel_sides")),
    ]
    if plan.directed:
        blocks.append(Paragraph(reader("cover.flutes")))
    return [*blocks, Cards(tuple(cards))]
