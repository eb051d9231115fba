"""Parts list, hub cards and cut list of the build book."""

from __future__ import annotations

import itertools
from collections import Counter

from strutwright.design import Design
from strutwright.documents.blocks import (
    Block,
    Card,
    Cards,
    Figure,
    Heading,
    NewPage,
    Paragraph,
    Table,
)
from strutwright.documents.reader import Reader
from strutwright.parts import HubType, StrutType
from strutwright.units import show_share

__all__ = ["cut_list", "hub_cards", "parts_list"]

MARKING_WIDTH = 40.0
"""mm; picture of a strut's marking in the parts list."""
THUMB_WIDTH = 11.0
"""mm; picture of a hub in the parts list."""


def parts_list(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return struts, hubs and fasteners with their pictures, counts and masses."""
    kit = design.kit
    alike: tuple[Block, ...] = ()
    if kit.confusable:
        pairs = ", ".join(f"{a}/{b}" for a, b in kit.confusable)
        alike = (Paragraph(reader("parts.alike", pairs=pairs), "limit"),)
    return (
        Heading(1, reader("parts.title")),
        Paragraph(reader("parts.intro")),
        Table(
            tuple(
                reader(f"parts.{head}_head")
                for head in ("strut", "picture", "quantity", "cut", "node", "pieces", "role")
            ),
            tuple(_strut_row(kind, reader) for kind in kit.strut_types),
            "lcrrrll",
            reader("parts.struts"),
        ),
        *alike,
        Table(
            tuple(
                reader(f"parts.{head}_head")
                for head in ("hub", "hub_picture", "quantity", "ways", "sockets")
            ),
            tuple(_hub_row(kind, reader) for kind in kit.hub_types),
            "lcrrl",
            reader("parts.hubs"),
        ),
        Table(
            tuple(reader(f"parts.{head}_head") for head in ("item", "quantity", "mass")),
            tuple(
                (f.item, str(f.quantity), "" if f.mass is None else reader.mass(f.mass))
                for f in kit.fasteners
            ),
            "lrr",
            reader("parts.fasteners"),
        ),
        Paragraph(reader("parts.total_mass", mass=reader.mass(kit.mass))),
        NewPage(),
    )


def _strut_row(kind: StrutType, reader: Reader) -> tuple[str | Figure, ...]:
    marking = Figure(
        f"strut-{kind.label}",
        reader("parts.strut_alt", label=kind.label, bands=kind.band),
        width=MARKING_WIDTH,
    )
    pieces = ", ".join(
        f"{piece.quantity} × {reader.sawn(piece.length)}" for piece in kind.pieces
    )  # fmt: skip
    return (
        kind.label,
        marking,
        str(kind.quantity),
        reader.sawn(kind.cut_length),
        reader.length(kind.node_length),
        pieces if kind.coupler_at else "1",
        reader(f"roles.{kind.role}"),
    )


def _hub_row(kind: HubType, reader: Reader) -> tuple[str | Figure, ...]:
    alt = reader("hubs.alt", label=kind.label, valence=kind.valence)
    return (
        kind.label,
        Figure(f"small-{kind.label}", alt, width=THUMB_WIDTH),
        str(kind.quantity),
        str(kind.valence),
        " ".join(kind.sockets),
    )


def hub_cards(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return a card for every hub type, with its spokes and angles."""
    return (
        Heading(1, reader("hubs.title")),
        Paragraph(reader("hubs.intro")),
        Cards(tuple(_hub_card(kind, reader) for kind in design.kit.hub_types)),
        NewPage(),
    )


def _hub_card(kind: HubType, reader: Reader) -> Card:
    spokes = tuple(
        reader(
            "hubs.spoke",
            label=socket,
            azimuth=reader.angle(float(azimuth)),
            dip=reader.angle(float(dip)),
        )
        for socket, (azimuth, dip) in zip(kind.sockets, kind.spokes, strict=True)
    )
    title = reader("hubs.card", label=kind.label, valence=kind.valence, quantity=kind.quantity)
    alt = reader("hubs.alt", label=kind.label, valence=kind.valence)
    return Card(
        title,
        Figure(f"hub-{kind.label}", alt),
        (*spokes, reader("hubs.where", hubs=_runs(kind.hubs.tolist()))),
    )


def _runs(numbers: list[int]) -> str:
    """Return ``0-9, 12, 14-20``."""
    runs = []
    for _, group in itertools.groupby(enumerate(sorted(numbers)), lambda at: at[1] - at[0]):
        run = [number for _, number in group]
        runs.append(str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}")
    return ", ".join(runs)


def cut_list(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return the bars, alike ones once, in the order of the saw."""
    plan = design.cutting
    alike: Counter[tuple[float, tuple[tuple[str, float], ...], float]] = Counter()
    for bar in plan.bars:
        alike[bar.length, tuple((c.label, c.length) for c in bar.cuts), bar.offcut] += 1
    rows = tuple(
        (
            reader.length(length),
            str(count),
            ", ".join(f"{label} {reader.sawn(cut)}" for label, cut in cuts),
            reader.length(offcut),
        )
        for (length, cuts, offcut), count in alike.items()
    )
    state = (
        reader("cuts.proven")
        if plan.proven
        else reader("cuts.gap", gap=show_share(plan.gap or 0.0, decimals=1))
    )
    return (
        Heading(1, reader("cuts.title")),
        Paragraph(reader("cuts.intro", kerf=reader.length(design.brief.struts.kerf))),
        Table(
            tuple(reader(f"cuts.{head}_head") for head in ("bar", "count", "pieces", "rest")),
            rows,
            "rrlr",
            widths=(0, 0, 1, 0),
        ),
        Paragraph(
            reader(
                "cuts.total",
                bars=len(plan.bars),
                used=reader.length(plan.used),
                bought=reader.length(plan.bought),
                yield_=show_share(plan.used / plan.bought),
            )
        ),
        Paragraph(state),
        NewPage(),
    )
