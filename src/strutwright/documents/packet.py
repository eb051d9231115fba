"""The permit packet: what an authority and a licensed engineer want to see of a kit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

import numpy as np

from strutwright.catalogue import Source
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
from strutwright.documents.pictures.of_kit import kit_signs
from strutwright.documents.pictures.shapes import moved_shell
from strutwright.documents.pictures.views import View, view
from strutwright.documents.reader import Reader
from strutwright.drawing import FRONT, ISOMETRIC, PLAN, SIDE, svg
from strutwright.loads import resultant
from strutwright.structure import Check

__all__ = ["build_packet"]

LEAST: Final = 0.5
"""N; what is less is printed as nothing."""
SHEETS: Final = {"plan": PLAN, "front": FRONT, "side": SIDE}


def build_packet(design: Design, *, date: str = "") -> Document:
    """Return the permit packet of `design`.

    `date` is printed as given; without it none is.
    """
    reader = Reader.of(design)
    pictures = _pictures(design, reader)
    alt = reader("book.cover_alt", hubs=len(design.shell.hubs), struts=len(design.shell.struts))
    plain = framed(
        design,
        reader,
        reader("packet.title"),
        (
            *_front(design, reader),
            *_site(design, reader),
            *_drawings(design, reader),
            *_loads(design, reader),
            *_reactions(design, reader),
            *_checks(design, reader),
            *_shapes(pictures, reader),
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


def _pictures(design: Design, reader: Reader) -> dict[str, bytes]:
    types, shell = kit_signs(design.kit), design.shell
    cover = View(
        ISOMETRIC, reader("views.isometric"), height=150, hub_numbers=False, strut_labels=False
    )
    asked = {"cover": cover}
    for name, camera in SHEETS.items():
        asked[name] = View(camera, reader(f"views.{name}"), show=reader.length)
    sheets = {
        name: view(shell, design.kit.strut_type_of, types, one) for name, one in asked.items()
    }
    judged = design.judgement
    if judged.service is not None and judged.strength is not None:
        moved = np.linalg.norm(judged.service.displacements, axis=2).max(axis=1)
        row = int(np.argmax(moved))
        uses = [use.worst for use in judged.strength.uses] or [np.zeros(len(shell.struts))]
        sheets["deflected"] = moved_shell(
            shell,
            judged.service.displacements[row],
            np.max(uses, axis=0),
            judged.service.combinations[row].name,
        )
    if judged.stability is not None and judged.stability.buckled:
        first = judged.stability.buckled[0]
        if len(first.mode):
            words = f"{reader('packet.buckling')}: {first.factor:.3g}"
            sheets["buckled"] = moved_shell(shell, first.mode, None, words)
    return {name: svg(sheet) for name, sheet in sheets.items()}


def _front(design: Design, reader: Reader) -> tuple[Block, ...]:
    signed = tuple(reader(f"packet.sign_{k}") for k in range(1, 7))
    return (
        Heading(1, reader("packet.engineer")),
        Paragraph(reader("frame.preliminary"), "limit"),
        Paragraph(verdict_sentence(design)),
        Paragraph(reader("packet.engineer_intro")),
        Bullets(signed),
    )


def _site(design: Design, reader: Reader) -> tuple[Block, ...]:
    site, loads = design.brief.site, design.brief.loads
    wind = site.basic_wind
    low, high = site.temperature
    values = {
        "standard": site.standard,
        "snow": "-" if site.ground_snow is None else reader.pressure(site.ground_snow),
        "wind": "-" if wind is None else f"{reader.speed(wind.value)} ({wind.basis})",
        "exposure": site.exposure,
        "consequence": site.consequence,
        "topography": f"{site.topography:g}",
        "altitude": f"{site.altitude:g} m",
        "temperature": f"{low:g} to {high:g} °C",
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


def _drawings(design: Design, reader: Reader) -> tuple[Block, ...]:
    blocks: list[Block] = [NewPage(), Heading(1, reader("packet.drawings"))]
    for name in SHEETS:
        title = reader(f"views.{name}")
        alt = reader(
            "views.view_alt", view=title, hubs=len(design.shell.hubs),
            struts=len(design.shell.struts),
        )  # fmt: skip
        blocks.append(Figure(name, alt, title))
    return tuple(blocks)


def _loads(design: Design, reader: Reader) -> tuple[Block, ...]:
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
        Bullets((*sources, *(note.text for note in notes)) or ("-",)),
        Table(head, tuple(rows), "lrrrl", "", (3.4, 1.2, 1.2, 1.2, 1.2)),
    )


def _signed(reader: Reader, force: float) -> str:
    if abs(force) < LEAST:
        return reader.force(0.0)
    return ("-" if force < 0 else "") + reader.force(abs(force))


def _reactions(design: Design, reader: Reader) -> tuple[Block, ...]:
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


def _checks(design: Design, reader: Reader) -> tuple[Block, ...]:
    worst: dict[str, Check] = {}
    for check in design.checks:
        kept = worst.get(check.code)
        if kept is None or (check.utilisation or 0.0) > (kept.utilisation or 0.0):
            worst[check.code] = check
    made = [check for check in worst.values() if check.utilisation is not None]
    made.sort(key=lambda check: -(check.utilisation or 0.0))
    rows = tuple(
        (check.code, str(check.subject), f"{min(check.utilisation or 0.0, 1000):.2f}",
         check.status if check.required else f"({check.status})", check.combination,
         str(check.source))
        for check in made
    )  # fmt: skip
    keys = ("check", "subject", "used", "status", "combination", "source")
    missing = tuple(
        f"{check.code} ({check.subject}): {check.note}"
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


def _shapes(pictures: Mapping[str, bytes], reader: Reader) -> tuple[Block, ...]:
    blocks: list[Block] = [NewPage(), Heading(1, reader("packet.shapes"))]
    for name in ("deflected", "buckled"):
        if name in pictures:
            words = reader(f"packet.{name}")
            blocks.append(Figure(name, words, words, 150.0))
    return tuple(blocks) if len(blocks) > 2 else ()


def _assumed(design: Design, reader: Reader) -> tuple[Block, ...]:
    kit = design.kit
    tables: Mapping[str, Mapping[str, Source]] = {
        kit.stock.name: kit.stock.sources,
        kit.stock.material.name: kit.stock.material.sources,
        kit.connector.name: kit.connector.sources,
    }
    unsure = [
        f"{of}, {value.replace('_', ' ')}: {source} ({source.how})"
        for of, sources in tables.items()
        for value, source in sources.items()
        if not source.verified
    ]
    used = dict.fromkeys(
        f"{check.source} ({check.source.how})"
        for check in design.checks
        if not check.source.verified
    )
    return (
        NewPage(),
        Heading(1, reader("packet.confirm")),
        Paragraph(reader("packet.confirm_intro")),
        Bullets((*unsure, *used) or ("-",)),
        NewPage(),
        Heading(1, reader("packet.assumed")),
        Bullets(tuple(f"{note.text} ({note.code})" for note in design.notes) or ("-",)),
    )
