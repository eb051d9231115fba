"""After building: care, changing a strut, spare parts, storage, disposal, parts left over."""

from __future__ import annotations

import math

from strutwright.design import Design
from strutwright.documents.blocks import Block, Bullets, Heading, NewPage, Paragraph, Table
from strutwright.documents.reader import Reader

__all__ = ["after_chapter", "hub_table", "lookup_chapter", "strut_table"]

SPARE: float = 0.1
"""Share of the fasteners that is kept as spares. Our choice."""


def after_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return care, repair, spare parts, storage and disposal."""

    def listed(section: str, *keys: str, numbered: bool = False) -> tuple[Block, ...]:
        items = tuple(reader(f"after.{section}_{key}") for key in keys)
        return (Heading(2, reader(f"after.{section}_title")), Bullets(items, numbered=numbered))

    head = tuple(reader(f"after.spare_{key}") for key in ("part", "size", "number"))
    kit = design.kit
    rows = (
        *((kind.label, reader.sawn(kind.cut_length), "1") for kind in kit.strut_types),
        *((kind.label, "", "1") for kind in kit.hub_types),
        *((f.item, "", str(math.ceil(SPARE * f.quantity))) for f in kit.fasteners),
    )
    return (
        Heading(1, reader("after.title")),
        *listed("care", "year", "bent", "crack", "anchor", "snow"),
        *listed("change", "calm", "prop", "strap", "out", "in", "check", numbered=True),
        *listed("store", "reverse", "bundle", "dry"),
        Heading(2, reader("after.waste_title")),
        Paragraph(reader("after.waste_text")),
        Heading(2, reader("after.spare_title")),
        Paragraph(reader("after.spare_text")),
        Table(head, rows, "lrr"),
        NewPage(),
    )


def lookup_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return where every part goes: by strut type, and by hub."""
    shell = design.shell
    labels = tuple(kind.label for kind in design.kit.strut_types)
    return (
        Heading(1, reader("after.left_title")),
        Paragraph(reader("after.left_text")),
        strut_table(design, reader, labels),
        Heading(1, reader("after.hub_title")),
        hub_table(design, reader, range(len(shell.hubs))),
        NewPage(),
    )


def strut_table(design: Design, reader: Reader, labels: tuple[str, ...]) -> Table:
    """Return between which hubs the struts of some types go, by step."""
    kit, shell = design.kit, design.shell
    step_of = {
        strut: step.number for step in design.sequence.steps for strut in step.struts.tolist()
    }
    rows = tuple(
        (
            kind.label,
            "; ".join(
                f"{step_of[strut]}: {shell.struts[strut, 0]} - {shell.struts[strut, 1]}"
                for strut in sorted(kind.struts.tolist(), key=lambda s: (step_of[s], s))
            ),
        )
        for kind in kit.strut_types
        if kind.label in labels
    )
    head = (reader("after.left_strut"), reader("after.left_places"))
    return Table(head, rows, "ll", widths=(0, 1))


def hub_table(design: Design, reader: Reader, hubs: range | list[int]) -> Table:
    """Return what each of `hubs` joins."""
    kit, shell = design.kit, design.shell
    rows = []
    for hub in hubs:
        joins = []
        for strut in kit.sockets(hub).tolist():
            i, j = shell.struts[strut].tolist()
            label = kit.strut_types[int(kit.strut_type_of[strut])].label
            joins.append(reader("steps.join", label=label, hub=j if i == hub else i))
        kind = kit.hub_types[int(kit.hub_type_of[hub])].label
        rows.append((str(hub), kind, ", ".join(joins)))
    head = tuple(reader(f"after.hub_{key}") for key in ("hub", "type", "joins"))
    return Table(head, tuple(rows), "rll", widths=(0, 0, 1))
