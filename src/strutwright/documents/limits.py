"""What the kit carries: hung loads, first failure, storm card, loss of a strut, mend table."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.design import Design
from strutwright.documents.blocks import Block, Heading, NewPage, Paragraph, Table
from strutwright.documents.reader import Reader
from strutwright.structure.capacity import Capacity, prop_words
from strutwright.structure.first import snow_depths
from strutwright.structure.hung import MOST
from strutwright.structure.mended import Mend

__all__ = ["limits_chapter"]

FATAL: Final = 12
"""Most losses that are listed; the count of all stands above."""


def limits_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return the chapter; a sentence where the kit was not judged."""
    found, why = design.judgement.limits, design.judgement.limits_unknown
    head = Heading(1, reader("limits.title"))
    if found is None:
        return (
            NewPage(),
            head,
            Paragraph(_unknown(why, reader), "limit"),
            *_mends(design, reader),
            NewPage(),
        )
    return (
        NewPage(),
        head,
        Paragraph(reader("limits.intro")),
        *_first(design, reader, found),
        *_storm(design, reader, found),
        *_hung(design, reader, found),
        *_loss(design, reader, found),
        *_mends(design, reader),
        NewPage(),
    )


def _unknown(why: str, reader: Reader) -> str:
    return reader("limits.unknown", why=reader.told(why)) if why else reader("limits.none")


def _first(design: Design, reader: Reader, found: Capacity) -> tuple[Block, ...]:
    rows = []
    for one in found.first:
        label = design.kit.strut_types[design.kit.strut_type_of[one.strut]].label
        what = f"{one.code}, {reader('limits.strut', strut=one.strut, label=label)}"
        snow = one.action == "snow"
        value = found.ground_snow if snow else found.wind_speed
        if one.factor is None or value is None:
            at = reader("limits.beyond")
        elif one.factor == 0.0:
            at = reader("limits.at_once")
        else:
            at = reader.pressure(value) if snow else reader.speed(value)
        rows.append((reader(f"limits.{one.action}"), at, what, one.combination))
    head = tuple(reader(f"limits.{key}") for key in ("action", "fails_at", "what", "under"))
    return (
        Heading(2, reader("limits.first")),
        Table(head, tuple(rows), "llll", "", (1.2, 1.2, 2.2, 3.0)),
    )


def _storm(design: Design, reader: Reader, found: Capacity) -> tuple[Block, ...]:
    wind = design.brief.site.basic_wind
    rows = []
    for one in found.storm:
        factor = one.first.factor
        if factor is None or wind is None:
            at = reader("limits.beyond")
        else:
            at = (
                reader("limits.at_once")
                if factor == 0.0
                else reader.speed(wind.value * factor**0.5)
            )
        rows.append((reader(f"limits.state_{one.state}"), at))
    basis = "" if wind is None else wind.basis
    blocks: list[Block] = [
        Heading(2, reader("limits.storm")),
        Paragraph(reader("limits.storm_intro", basis=basis)),
        Table((reader("limits.state"), reader("limits.wind_limit")), tuple(rows), "ll", "", (3, 2)),
    ]
    if found.ground_snow:
        half = snow_depths(0.5 * found.ground_snow)
        depths = {f"at_{density}": reader.length(depth) for density, depth in half.items()}
        blocks.append(Paragraph(reader("limits.clear_snow", **depths), "limit"))
    return tuple(blocks)


def _hung(design: Design, reader: Reader, found: Capacity) -> tuple[Block, ...]:
    course = design.shell.course
    rows = []
    for one in range(int(course.max()), -1, -1):
        hubs = np.flatnonzero(course == one)
        if not len(hubs):
            continue
        weakest = int(hubs[np.argmin(found.hung.with_design_snow[hubs])])
        forces = (found.hung.with_dead_load[hubs].min(), found.hung.with_design_snow[weakest])
        shown = (_carried(float(force), reader, on_ground=one == 0) for force in forces)
        rows.append((str(one), str(weakest), *shown))
    head = tuple(reader(f"limits.{key}") for key in ("course", "weakest", "with_dead", "with_snow"))
    followed = ", ".join(str(hub) for hub in found.hung.followed)
    return (
        Heading(2, reader("limits.hung")),
        Paragraph(reader("limits.hung_intro", followed=followed)),
        Table(head, tuple(rows), "rrrr", "", (1, 1, 2, 2)),
    )


def _carried(force: float, reader: Reader, *, on_ground: bool) -> str:
    if force < MOST:
        return reader.force(force)
    return reader("limits.ground") if on_ground else f"> {reader.force(MOST)}"


def _loss(design: Design, reader: Reader, found: Capacity) -> tuple[Block, ...]:
    loss = found.loss
    if loss is None:
        return ()
    worst = int(np.argmax(loss.utilisation))
    fatal = loss.fatal
    listed = ", ".join(str(strut) for strut in fatal[:FATAL])
    says = (
        reader("limits.loss_fatal", count=len(fatal), all=len(loss.utilisation), struts=listed)
        if len(fatal)
        else reader("limits.loss_none", used=f"{loss.utilisation[worst]:.2f}", strut=worst)
    )
    return (
        Heading(2, reader("limits.loss")),
        Paragraph(says),
        Paragraph(reader("limits.loss_change")),
        Paragraph(reader.told(prop_words(design.kit, loss, worst)), "small"),
    )


def _mend_price(mend: Mend, design: Design, reader: Reader) -> str:
    if mend.price is None:
        return "-"
    amount = f"{mend.price:.2f} {design.price.currency}"
    return reader("limits.estimate", amount=amount) if mend.price_says else amount


def _mends(design: Design, reader: Reader) -> tuple[Block, ...]:
    if not design.mends:
        return ()
    rows = tuple(
        (
            reader.told(mend.change),
            reader(f"limits.mend_{mend.verdict.replace(' ', '_')}"),
            "-" if mend.mass is None else reader.mass(mend.mass),
            _mend_price(mend, design, reader),
            reader.told(mend.governs),
        )
        for mend in design.mends
    )
    guessed = any(mend.price is not None and mend.price_says for mend in design.mends)
    estimates = (Paragraph(reader("limits.mend_estimates"), "small"),) if guessed else ()
    head = tuple(
        reader(f"limits.{key}") for key in ("change", "result", "mass", "price", "governs")
    )
    return (
        Heading(2, reader("limits.mend")),
        Paragraph(reader("limits.mend_intro", mass=reader.mass(design.kit.mass))),
        Table(head, rows, "lllll", "", (2.4, 0.8, 1.0, 1.2, 2.6)),
        *estimates,
    )
