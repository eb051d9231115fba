"""The cover's chapter: film in strips or panels, how they are cut, joined, hung and held."""

from __future__ import annotations

from strutwright.cover import (
    SIDES,
    CoverPlan,
    FilmLayer,
    PanelPlan,
    Skirt,
    edges_of,
    film_map,
    layout_sheet,
    panel_layout,
    panel_map,
    patterns,
)
from strutwright.design import Design
from strutwright.documents.blocks import (
    Block,
    Bullets,
    Card,
    Cards,
    Figure,
    Heading,
    NewPage,
    Paragraph,
    Table,
)
from strutwright.documents.reader import Reader
from strutwright.drawing import Sheet
from strutwright.units import show_share

__all__ = ["cover_chapter", "cover_pictures"]


def cover_pictures(design: Design, reader: Reader) -> dict[str, Sheet]:
    """Return the pictures of the chapter by name."""
    plan, shell = design.cover, design.shell
    sheets: dict[str, Sheet] = {}
    for film in plan.films if plan else ():
        for side in SIDES:
            sheets[f"{film.name}-{side}"] = film_map(film, shell, side)
        for k in range(len(film.nest.stock)):
            sheets[f"{film.name}-roll-{k + 1}"] = layout_sheet(film, k, reader.length)
    for layer in plan.sheets if plan else ():
        for side in SIDES:
            sheets[f"panels-{layer.name}-{side}"] = panel_map(layer, shell, side)
        for k in range(len(layer.nest.stock)):
            sheets[f"sheet-{layer.name}-{k + 1}"] = panel_layout(layer, k, reader.length)
    return sheets


def cover_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return the chapter; nothing for a bare frame."""
    plan = design.cover
    if plan is None:
        return ()
    blocks: list[Block] = [Heading(1, reader("cover.title")), Paragraph(_what(plan, reader))]
    blocks.append(Bullets(reader.notes(plan.notes)))
    if plan.fixing is not None:
        blocks.append(Paragraph(_held(plan, reader)))
    if plan.drape is not None:
        blocks.append(Paragraph(_drape(plan, reader)))
    for film in plan.films:
        blocks += _film(film, reader)
    for layer in plan.sheets:
        blocks += _panels(layer, reader)
    if plan.skirt is not None:
        blocks += _skirt(plan.skirt, reader)
    if plan.fittings:
        blocks += _fittings(plan, reader)
    return (*blocks, NewPage())


def _what(plan: CoverPlan, reader: Reader) -> str:
    return reader(
        "cover.what",
        layers=plan.layers,
        used=reader.area(plan.used),
        bought=reader.area(plan.bought),
        waste=show_share(plan.waste),
        mass=reader.mass(plan.mass),
    )


def _held(plan: CoverPlan, reader: Reader) -> str:
    held = plan.fixing
    if held is None:
        return ""
    return reader(
        "cover.held",
        pressure=reader.pressure(held.pressure),
        snow=reader.pressure(held.snow),
        tension=reader.quantity(held.tension, "line load"),
        holds=reader.force(held.holds),
        sag=reader.length(held.sag),
        spacing=reader.length(held.spacing),
        edge=reader.length(held.spacing_edge),
        demand=reader.force(held.demand),
        demand_edge=reader.force(held.demand_edge),
    )


def _drape(plan: CoverPlan, reader: Reader) -> str:
    sheet = plan.drape
    if sheet is None:
        return ""
    worst = sorted(((fold, hub) for hub, fold in enumerate(sheet.folds.tolist())), reverse=True)
    return reader(
        "cover.drape",
        width=reader.length(sheet.width),
        length=reader.length(sheet.length),
        fold=reader.length(worst[0][0]),
        hubs=", ".join(str(hub) for _, hub in worst[:6]),
    )


def _film(film: FilmLayer, reader: Reader) -> list[Block]:
    groups = patterns(film.pieces)
    named = reader(f"cover.{film.name}")
    way = reader(f"cover.way_{film.way.replace('-', '_')}")
    intro = reader(
        "cover.film",
        layer=named,
        way=way,
        pieces=len(film.pieces),
        patterns=len(groups),
        seam=reader.length(film.seam_length),
        hem=reader.length(film.hem_length),
    )
    rows = tuple(
        (
            ", ".join(film.pieces[k].label for k in group),
            str(len(group)),
            str(len(film.pieces[group[0]].faces)),
            reader.length(film.pieces[group[0]].length),
            reader.length(film.pieces[group[0]].width),
        )
        for group in groups
    )
    head = tuple(
        reader(f"cover.{key}_head") for key in ("pieces", "alike", "faces", "length", "width")
    )
    blocks: list[Block] = [
        Heading(2, named),
        Paragraph(intro),
        Paragraph(reader("cover.laps")),
        Table(head, rows, "lrrrr", reader("cover.pieces_caption"), (1, 0, 0, 0, 0)),
    ]
    for k in range(len(film.nest.stock)):
        caption = reader("cover.roll", number=k + 1, used=reader.length(film.nest.stock[k].used))
        blocks.append(Figure(f"{film.name}-roll-{k + 1}", caption, caption))
    return [*blocks, _map(film.name, reader)]


def _map(layer: str, reader: Reader) -> Cards:
    """Return where the pieces of a layer sit, seen from above and from four sides."""
    return Cards(
        tuple(
            Card(
                reader(f"cover.from_{side}"),
                Figure(
                    f"{layer}-{side}", reader("cover.map_alt", side=reader(f"cover.from_{side}"))
                ),
            )
            for side in SIDES
        )
    )


def _panels(plan: PanelPlan, reader: Reader) -> list[Block]:
    total = sum(kind.quantity for kind in plan.types)
    intro = reader(
        "cover.panels",
        total=total,
        types=len(plan.types),
        sheets=len(plan.nest.stock),
        density=show_share(plan.nest.density),
        gap=reader.length(plan.gap),
    )
    rows = tuple(
        (
            kind.label,
            str(kind.quantity),
            " / ".join(reader.length(length) for length in edges_of(kind)),
            kind.mirror_of,
        )
        for kind in plan.types
    )
    head = tuple(reader(f"cover.{key}_head") for key in ("panel", "alike", "edges", "mirror"))
    blocks: list[Block] = [Heading(2, reader(f"cover.panels_{plan.name}")), Paragraph(intro)]
    if plan.directed:
        blocks.append(Paragraph(reader("cover.flutes")))
    blocks.append(Table(head, rows, "lrll"))
    for k in range(len(plan.nest.stock)):
        caption = reader("cover.sheet", number=k + 1)
        blocks.append(Figure(f"sheet-{plan.name}-{k + 1}", caption, caption))
    return [*blocks, _map(f"panels-{plan.name}", reader)]


def _skirt(skirt: Skirt, reader: Reader) -> list[Block]:
    """Return the cut list of what closes the band under the base ring."""
    words = reader(
        "cover.skirt",
        area=reader.area(skirt.area),
        around=reader.length(skirt.around),
        stock=len(skirt.nest.stock),
        density=show_share(skirt.nest.density),
    )
    blocks: list[Block] = [Heading(2, reader("cover.skirt_title")), Paragraph(words)]
    if skirt.buried:
        blocks.append(Paragraph(reader("cover.skirt_film", buried=reader.length(skirt.buried))))
    rows = tuple(
        (
            part.label,
            str(part.quantity),
            reader.length(part.wide),
            reader.length(part.high),
            ", ".join(str(strut) for strut in part.struts.tolist()),
        )
        for part in skirt.parts
    )
    head = tuple(
        reader(f"cover.{key}_head") for key in ("pieces", "alike", "wide", "high", "skirt_struts")
    )
    return [*blocks, Table(head, rows, "lrrrl", "", (0, 0, 0, 0, 1))]


def _fittings(plan: CoverPlan, reader: Reader) -> list[Block]:
    """Return the spacers that hold both layers, and the air between these."""
    gap = plan.gap
    if gap is None:
        return []
    rows = tuple(
        (
            one.label,
            str(one.quantity),
            reader.length(one.length),
            reader.length(one.above),
            reader.length(one.below),
            ", ".join(str(hub) for hub in one.hubs.tolist()),
        )
        for one in plan.fittings
    )
    head = tuple(
        reader(f"cover.{key}_head")
        for key in ("fitting", "alike", "fitting_length", "above", "below", "fitting_hubs")
    )
    air = reader(
        "cover.air",
        strut=reader.length(gap.at_strut),
        face=reader.length(gap.at_face),
        least=reader.length(min(one.length for one in plan.fittings)),
        most=reader.length(max(one.length for one in plan.fittings)),
    )
    return [
        Heading(2, reader("cover.fittings_title")),
        Paragraph(air),
        Table(head, rows, "lrrrrl", "", (0, 0, 0, 0, 0, 1)),
    ]
