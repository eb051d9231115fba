"""Who builds, how many, how long, with what tools."""

from __future__ import annotations

import math

import numpy as np

from strutwright.design import Design
from strutwright.documents.blocks import Block, Bullets, Heading, NewPage, Paragraph, Table
from strutwright.documents.reader import Reader
from strutwright.sequence.effort import END_MINUTES, OTHER_END, PART_MINUTES, PROP_MINUTES

__all__ = ["crew_chapter", "platform_of"]


def crew_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return the chapter on people, time, tools and ground."""
    plan = design.sequence
    refused = tuple(note for note in plan.notes if note.code == "sequence-not-as-asked")
    high = max((step.platform for step in plan.steps), default=0.0)
    reach = reader.length(design.brief.crew.reach)
    minutes = max(5, 5 * round(plan.minutes / 5))
    wind = min(stage.wind for stage in plan.stages)
    platform = (
        reader("crew.platform", platform=platform_of(reader, high))
        if high > 0
        else reader("crew.platform_none", reach=reach)
    )
    lines = (
        reader("crew.people", people=plan.people),
        platform,
        reader("crew.time", minutes=minutes),
        _basis(design, reader),
        reader(
            "crew.steps",
            steps=len(plan.steps),
            stages=len(plan.stages),
            way=reader("crew.way_" + plan.way.replace("-", "_")),
        ),
        reader("crew.props", count=plan.most_props) if plan.props else reader("crew.no_props"),
    )
    return (
        Heading(1, reader("crew.title")),
        *(Paragraph(_reason(reader, reader.told(note.text)), "limit") for note in refused),
        Bullets(lines),
        Paragraph(reader("crew.wind", wind=reader.speed(wind)), "limit"),
        Heading(2, reader("crew.tools")),
        Bullets(_tools(design, reader)),
        *_laydown(design, reader),
        NewPage(),
    )


def platform_of(reader: Reader, high: float) -> str:
    """Return the height of a platform of at least `high` (m), in whole tenths of a metre."""
    return reader.length(0.1 * math.ceil(high * 10 - 1e-6))


def _reason(reader: Reader, text: str) -> str:
    return reader("crew.not_as_asked", reason=text[0].upper() + text[1:] + ".")


def _basis(design: Design, reader: Reader) -> str:
    end = END_MINUTES.get(design.kit.connector.kind, OTHER_END)
    return reader(
        "crew.basis", part=f"{60 * PART_MINUTES:g}", end=f"{60 * end:g}", prop=f"{PROP_MINUTES:g}"
    )


def _tools(design: Design, reader: Reader) -> tuple[str, ...]:
    plan, kit = design.sequence, design.kit
    size = float(np.ptp(kit.shell.hubs[:, :2], axis=0).max())
    kind = "spanner" if kit.connector.kind in {"flattened", "plate"} else "socket"
    tools = [
        reader("crew.tool_tape", tape=reader.length(5.0 * math.ceil(size / 5.0))),
        reader(f"crew.tool_{kind}"),
    ]
    if max(step.reach for step in plan.steps) > design.brief.crew.reach:
        tools.append(reader("crew.tool_ladder"))
    if plan.props:
        runs = [
            float(np.linalg.norm(kit.shell.hubs[prop.hub] - np.array(prop.foot)))
            for prop in plan.props
        ]
        tools.append(
            reader(
                "crew.tool_props",
                count=plan.most_props,
                low=reader.length(min(runs)),
                high=reader.length(max(runs)),
            )
        )
    return (*tools, reader("crew.tool_gloves"))


def _laydown(design: Design, reader: Reader) -> tuple[Block, ...]:
    strips = design.sequence.laydown
    if not strips:
        return ()
    head = tuple(reader(f"crew.laydown_{key}") for key in ("course", "parts", "ground"))
    rows = tuple(
        (
            str(strip.course),
            str(strip.parts),
            f"{reader.length(strip.length)} × {reader.length(strip.width)}",
        )
        for strip in strips
    )
    return (Table(head, rows, "rrl", reader("crew.laydown")),)
