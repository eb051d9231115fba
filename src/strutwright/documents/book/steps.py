"""Stages and steps of the build book: one action each, with its picture and its check."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.design import Design
from strutwright.documents.blocks import (
    Block,
    Bullets,
    Caution,
    Figure,
    Heading,
    NewPage,
    Paragraph,
    Row,
    Table,
    Together,
)
from strutwright.documents.book.crew import platform_of
from strutwright.documents.reader import Reader
from strutwright.sequence import Stage, Step

__all__ = ["closing_chapter", "stage_name", "step_blocks", "steps_chapter"]

FALL: Final = 1.8288
"""m; work height from which the fall message is repeated. Source: 29 CFR 1926, 6 ft, recalled."""
HEAVY: Final = 16.0
"""kg each; a lift above it bears the message. Source: HSE guideline figure, recalled."""
INSIDE: Final = 0.5
"""Share of a prop's run towards the middle from which its foot is called inside."""


def steps_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return every stage with its overview and its steps."""
    blocks: list[Block] = [
        Heading(1, reader("steps.title")),
        Paragraph(reader("steps.intro")),
        Paragraph(reader("steps.legend")),
    ]
    struts = hubs = 0
    for number, stage in enumerate(design.sequence.stages, 1):
        blocks += _overview(reader, stage, number)
        for step in stage.steps:
            struts, hubs = struts + len(step.struts), hubs + len(step.hubs)
            blocks += step_blocks(design, reader, step)
        total = reader(
            "steps.total",
            struts=struts,
            all_struts=len(design.shell.struts),
            hubs=hubs,
            all_hubs=len(design.shell.hubs),
        )
        if isinstance(last := blocks[-1], Together):  # no page for this line alone
            blocks[-1] = Together((*last.blocks, Paragraph(total, "small")))
        blocks.append(NewPage())
    return tuple(blocks)


def closing_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return what is measured and held down when the frame stands."""
    keys = ("width", "stake", "tight", "left")
    items = tuple(reader(f"steps.done_{key}") for key in keys)
    left = design.sequence.steps[-1].standing
    stay = (Paragraph(reader("steps.done_props", props=", ".join(left)), "limit"),) if left else ()
    head = Heading(1, reader("steps.done_title"))
    return (head, *stay, Bullets(items, numbered=True), NewPage())


def stage_name(reader: Reader, stage: Stage) -> str:
    """Return the name of a stage in the reader's words."""
    name = reader(f"steps.stage_{stage.kind}", number=stage.course)
    return f"{name}, {reader(f'steps.half_{stage.half}')}" if stage.half else name


def _overview(reader: Reader, stage: Stage, number: int) -> list[Block]:
    struts = sum(len(step.struts) for step in stage.steps)
    text = reader(
        "steps.overview_text",
        steps=len(stage.steps),
        struts=struts,
        hubs=sum(len(step.hubs) for step in stage.steps),
        height=reader.length(max(step.reach for step in stage.steps)),
        wind=reader.speed(stage.wind),
    )
    name = reader("steps.overview", number=number, name=stage_name(reader, stage))
    alt = reader("steps.overview_alt", struts=struts)
    figure = Figure(f"stage-{number}", alt, width=120.0)
    return [Together((Heading(2, name), Paragraph(text, "limit"), figure))]


def step_blocks(design: Design, reader: Reader, step: Step) -> tuple[Block, ...]:
    """Return one step: messages first, then what to take, what to do, picture and check."""
    alt = reader(
        "steps.alt",
        number=step.number,
        struts=len(step.struts),
        hubs=len(step.hubs),
        standing=_standing(design, step),
    )
    picture = Figure(f"step-{step.number}", alt)
    figures: tuple[Figure, ...] = (picture,)
    if len(step.hubs):
        inset = Figure(f"hub-of-{step.number}", reader("steps.hub_alt", hub=int(step.hubs[-1])))
        figures = (picture, inset)
    widths = (2.0, 1.0) if len(figures) == 2 else (1.0,)
    if len(figures) == 1:
        figures, widths = (Figure(f"step-{step.number}", alt, width=118.0),), (1.0,)
    return (
        Together(
            (
                Heading(3, _title(reader, step)),
                *_messages(reader, step),
                *_picks(reader, step),
                *_joins(design, reader, step),
                Bullets(_actions(design, reader, step)),
                Row(figures, widths),
                Paragraph(_check(design, reader, step), "limit"),
                Paragraph(_state(reader, step)),
            )
        ),
    )


def _standing(design: Design, step: Step) -> int:
    return sum(len(one.struts) for one in design.sequence.steps if one.number < step.number)


def _title(reader: Reader, step: Step) -> str:
    props = ", ".join(step.removed)
    only_struts = step.action == "place" and not len(step.hubs)
    action = reader(
        "steps.do_struts" if only_struts else f"steps.do_{step.action}",
        hubs=_count(reader, "hub", len(step.hubs)),
        struts=_count(reader, "strut", len(step.struts)),
        props=props,
    )
    return reader("steps.step", number=step.number, action=action)


def _count(reader: Reader, what: str, count: int) -> str:
    return reader(f"steps.{what}_{'one' if count == 1 else 'many'}", count=count)


def _messages(reader: Reader, step: Step) -> tuple[Caution, ...]:
    """Return the messages that concern the step, the gravest first."""
    said: list[Caution] = []
    if step.mechanisms and step.props:
        said.append(_caution(reader, "prop"))
    if step.reach > FALL and step.platform > 0 and step.action != "unprop":
        height, platform = reader.length(FALL), platform_of(reader, step.platform)
        said.append(_caution(reader, "height", height=height, platform=platform))
    if step.lift > HEAVY:
        said.append(_caution(reader, "lift", people=step.people))
    return tuple(said)


def _caution(reader: Reader, key: str, **values: object) -> Caution:
    hazard, consequence, avoidance = (
        reader(f"steps.caution_{key}_{part}", **values)
        for part in ("hazard", "consequence", "avoidance")
    )
    return Caution("WARNING", hazard, consequence, avoidance)


def _picks(reader: Reader, step: Step) -> tuple[Paragraph, ...]:
    if not step.picks:
        return ()
    text = reader("steps.pick", items=reader.counted(dict(step.picks)))
    return (Paragraph(text, "limit"),)


def _joins(design: Design, reader: Reader, step: Step) -> tuple[Table, ...]:
    """Return which strut goes from which hub to which."""
    shell, kit = design.shell, design.kit
    if not len(step.struts):
        return ()
    left = set(step.struts.tolist())
    there = set(step.hubs.tolist())
    rows: list[tuple[str, str, str]] = []
    seen: set[int] = set()
    for hub in step.hubs.tolist():
        seen.add(hub)
        own = [
            strut
            for strut in kit.sockets(hub).tolist()
            if strut in left and _other(design, strut, hub) not in there - seen
        ]
        left -= set(own)
        joins = ", ".join(
            reader("steps.join", label=_label(design, strut), hub=_other(design, strut, hub))
            for strut in own
        )
        kind = kit.hub_types[int(kit.hub_type_of[hub])].label
        rows.append((str(hub), kind, joins or "–"))
    for strut in step.struts.tolist():
        if strut in left:
            i, j = shell.struts[strut].tolist()
            rows.append(("", "", reader("steps.between", label=_label(design, strut), i=i, j=j)))
    head = tuple(reader(f"steps.{key}_head") for key in ("hub", "type", "join"))
    return (Table(head, tuple(rows), "rll", widths=(0, 0, 1)),)


def _label(design: Design, strut: int) -> str:
    return design.kit.strut_types[int(design.kit.strut_type_of[strut])].label


def _other(design: Design, strut: int, hub: int) -> int:
    i, j = design.shell.struts[strut].tolist()
    return int(j if i == hub else i)


def _actions(design: Design, reader: Reader, step: Step) -> tuple[str, ...]:
    shell, kit = design.shell, design.kit
    props = {prop.name: prop for prop in design.sequence.props}
    lines: list[str] = []
    if step.repeats > 1:
        lines.append(reader("steps.again", count=step.repeats))
    split = sorted(
        {_label(design, s) for s in step.struts.tolist()}
        & {kind.label for kind in kit.strut_types if kind.coupler_at}
    )
    if split:
        lines.append(reader("steps.coupler", labels=", ".join(split)))
    if step.action in {"raise", "lift"}:
        lines.append(reader(f"steps.{step.action}_how"))
    if step.action == "place" and step.reach > 0:
        lines.append(reader("steps.hold"))
    if step.action != "lift":
        for name in step.props:
            lines.append(_prop_line(design, reader, name))
    for name in step.removed:
        lines.append(reader("steps.take_prop", name=name, hub=props[name].hub))
    if step.last_strut >= 0:
        i, j = shell.struts[step.last_strut].tolist()
        key = "last_loose" if step.slack >= 0.05 else "last"
        slack = reader.length(step.slack)
        label = _label(design, step.last_strut)
        lines.append(reader(f"steps.{key}", label=label, i=i, j=j, slack=slack))
    if not lines:
        lines.append(reader("steps.either_way"))
    return tuple(lines)


def _prop_line(design: Design, reader: Reader, name: str) -> str:
    prop = next(prop for prop in design.sequence.props if prop.name == name)
    hub = design.shell.hubs[prop.hub]
    run = np.array(prop.foot[:2]) - hub[:2]
    reach = float(np.linalg.norm(run))
    if reach < 0.01:
        return reader("steps.set_upright", name=name, hub=prop.hub)
    inward = -hub[:2] / max(float(np.linalg.norm(hub[:2])), 1e-9)
    share = float(run @ inward) / reach
    side = "inside" if share > INSIDE else "outside" if share < -INSIDE else "along"
    return reader(
        "steps.set_prop",
        name=name,
        hub=prop.hub,
        reach=reader.length(reach),
        side=reader(f"steps.side_{side}"),
    )


def _check(design: Design, reader: Reader, step: Step) -> str:
    shell = design.shell
    if step.action == "unprop" and step.standing:
        return reader("steps.check_props", props=", ".join(step.standing))
    if step.action == "unprop":
        return reader("steps.check_away")
    if step.action == "flat" or not len(step.hubs):
        return reader("steps.check_seated")
    hub = int(step.hubs[-1])
    if shell.course[hub] > 0:
        return reader(
            "steps.check_height", hub=hub, height=reader.length(float(shell.hubs[hub, 2]))
        )
    first = int(step.hubs[0])
    if first == hub:
        return reader("steps.check_base")
    run = float(np.linalg.norm(shell.hubs[hub] - shell.hubs[first]))
    return reader("steps.check_distance", i=first, j=hub, length=reader.length(run))


def _state(reader: Reader, step: Step) -> str:
    high = step.platform
    platform = platform_of(reader, high) if high > 0 else reader("steps.platform_no")
    wind = step.check.wind if step.check else 8.0
    text = reader(
        "steps.state",
        people=step.people,
        height=reader.length(step.reach),
        platform=platform,
        lift=reader.mass(step.lift),
        wind=reader.speed(wind),
        minutes=max(1, round(step.minutes)),
    )
    if step.standing:
        text += " · " + reader("steps.props_now", props=", ".join(step.standing))
        if step.mechanisms:
            text += " " + reader("steps.props_why", mechanisms=step.mechanisms)
    return text
