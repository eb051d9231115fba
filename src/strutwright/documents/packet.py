"""The permit packet: what an authority and a licensed engineer want to see of a kit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from strutwright.catalogue import Source, cover
from strutwright.design import Design, verdict_sentence
from strutwright.documents.blocks import (
    Block,
    Bullets,
    Document,
    Figure,
    Heading,
    NewPage,
    Paragraph,
    Table,
)
from strutwright.documents.book.front import cover_lines
from strutwright.documents.framed import framed
from strutwright.documents.limits import limits_chapter
from strutwright.documents.packet_loads import (
    coefficient_chapter,
    load_chapter,
    reaction_chapter,
    site_chapter,
    site_sources,
)
from strutwright.documents.packet_pictures import SECTIONS, SHAPES, VIEWS, packet_pictures
from strutwright.documents.reader import Reader
from strutwright.structure import Check
from strutwright.structure.standards import MEMBER_RULES
from strutwright.units import show_use

__all__ = ["build_packet"]


def build_packet(design: Design, *, date: str = "") -> Document:
    """Return the permit packet of `design`.

    `date` is printed as given; without it none is.
    """
    reader = Reader.of(design)
    pictures = packet_pictures(design, reader)
    alt = reader("book.cover_alt", hubs=len(design.shell.hubs), struts=len(design.shell.struts))
    plain = framed(
        design,
        reader,
        reader("packet.title"),
        (
            *_front(design, reader),
            *site_chapter(design, reader),
            *coefficient_chapter(design, reader),
            *_drawings(design, reader),
            *load_chapter(design, reader),
            *reaction_chapter(design, reader),
            *_checks(design, reader),
            *_shapes(design, pictures, reader),
            *limits_chapter(design, reader),
            *_assumed(design, reader),
        ),
        pictures,
        date=date,
    )
    return replace(
        plain,
        lead=cover_lines(design, reader),
        cover=Figure("cover", alt),
        contents=reader("frame.contents"),
    )


def _front(design: Design, reader: Reader) -> tuple[Block, ...]:
    signed = tuple(reader(f"packet.sign_{k}") for k in range(1, 7))
    return (
        Heading(1, reader("packet.engineer")),
        Paragraph(reader("frame.preliminary"), "limit"),
        Paragraph(verdict_sentence(design)),
        Paragraph(reader("packet.engineer_intro")),
        Bullets(signed),
    )


def _drawings(design: Design, reader: Reader) -> tuple[Block, ...]:
    blocks: list[Block] = [NewPage(), Heading(1, reader("packet.drawings"))]
    for name in (*VIEWS, *SECTIONS):
        title = reader(f"views.{name}")
        alt = reader(
            "views.view_alt", view=title, hubs=len(design.shell.hubs),
            struts=len(design.shell.struts),
        )  # fmt: skip
        blocks.append(Figure(name, alt, title))
    return tuple(blocks)


def _checks(design: Design, reader: Reader) -> tuple[Block, ...]:
    worst: dict[str, Check] = {}
    for check in design.checks:
        kept = worst.get(check.code)
        if kept is None or (check.utilisation or 0.0) > (kept.utilisation or 0.0):
            worst[check.code] = check
    made = [check for check in worst.values() if check.utilisation is not None]
    made.sort(key=lambda check: -(check.utilisation or 0.0))
    rows = tuple(
        (check.code, str(check.subject), show_use(check.utilisation, is_bound=check.is_bound),
         check.status if check.required else f"({check.status})", check.combination,
         str(check.source))
        for check in made
    )  # fmt: skip
    keys = ("check", "subject", "used", "status", "combination", "source")
    missing = tuple(
        f"{check.code} ({check.subject}): {reader.told(check.note)}"
        for check in design.checks
        if check.status == "not_checked"
    )
    return (
        NewPage(),
        Heading(1, reader("packet.checks")),
        Paragraph(reader("packet.checks_intro")),
        Table(tuple(reader(f"packet.{key}") for key in keys), rows, "llrlll", "",
              (1.6, 1.0, 0.6, 0.8, 3.0, 2.6)),
        Heading(2, reader("packet.not_checked")),
        Bullets(missing) if missing else Paragraph(reader("packet.all_checked")),
    )  # fmt: skip


def _shapes(design: Design, pictures: Mapping[str, bytes], reader: Reader) -> tuple[Block, ...]:
    blocks: list[Block] = [NewPage(), Heading(1, reader("packet.shapes"))]
    for name in SHAPES:
        if name in pictures:
            words = reader(f"packet.{name}")
            blocks.append(Figure(name, words, words))
    movement = design.judgement.movement
    if movement is not None:
        blocks.append(Paragraph(reader("packet.moving_words", words=reader.told(movement.words))))
    return tuple(blocks) if len(blocks) > 2 else ()


def _unsure(design: Design) -> tuple[str, ...]:
    """Return every number behind the verdict that is from memory or judged, with its source."""
    kit, brief, judged = design.kit, design.brief, design.judgement
    family = "en" if brief.site.standard == "en" else "us"
    material = kit.stock.material
    tables: list[tuple[str, Mapping[str, Source]]] = [
        (kit.stock.name, kit.stock.sources),
        (material.name, material.sources),
        (kit.connector.name, kit.connector.sources),
        (f"{material.kind}, {family}", MEMBER_RULES.get((material.kind, family), {})),
    ]
    if brief.cover.material is not None:
        skin = cover(brief.cover.material)
        tables.append((skin.name, skin.sources))
    named = [
        f"{of}, {value.replace('_', ' ')}: {source} ({source.how})"
        for of, sources in tables
        for value, source in sources.items()
        if not source.verified
    ]
    cases = () if judged.loads is None else judged.loads.cases
    combos = () if judged.strength is None else judged.strength.combinations
    plain = [check.source for check in design.checks]
    plain += [case.source for case in cases] + [combination.source for combination in combos]
    plain += site_sources(design)
    return tuple(
        dict.fromkeys([*named, *(f"{each} ({each.how})" for each in plain if not each.verified)])
    )


def _assumed(design: Design, reader: Reader) -> tuple[Block, ...]:
    return (
        NewPage(),
        Heading(1, reader("packet.confirm")),
        Paragraph(reader("packet.confirm_intro")),
        Bullets(_unsure(design) or ("-",)),
        NewPage(),
        Heading(1, reader("packet.assumed")),
        Bullets(
            tuple(f"{reader.told(note.text)} ({note.code})" for note in design.notes) or ("-",)
        ),
    )
