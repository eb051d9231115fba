"""Drawings, base ring and courses of the build book."""

from __future__ import annotations

from strutwright.design import Design
from strutwright.documents.blocks import Block, Figure, Heading, NewPage, Paragraph, Table
from strutwright.documents.book.pictures import VIEWS
from strutwright.documents.reader import Reader
from strutwright.sequence import Stage

__all__ = ["base_ring", "courses", "shell_views"]


def shell_views(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return plan and two elevations, a page each."""
    blocks: list[Block] = [Heading(1, reader("views.title")), Paragraph(reader("views.legend"))]
    for name in VIEWS:
        title = reader(f"views.{name}")
        alt = reader(
            "views.view_alt",
            view=title,
            hubs=len(design.shell.hubs),
            struts=len(design.shell.struts),
        )
        blocks += [Figure(name, alt, title), NewPage()]
    return tuple(blocks)


def base_ring(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return the setting-out sheet: picture, distances from the pegs, check diagonals."""
    sheet = design.setting_out
    heights = design.shell.hubs[[row.hub for row in sheet.rows], 2]
    uneven: tuple[Block, ...] = ()
    if design.shell.recipe.base != "level":
        low, high = reader.length(0.0), reader.length(float(heights.max() - heights.min()))
        uneven = (Paragraph(reader("ring.uneven", low=low, high=high), "limit"),)
    rows = tuple(
        (str(row.hub), row.a, reader.length(row.from_a), row.b, reader.length(row.from_b),
         f"± {reader.length(row.band)}")
        for row in sheet.rows
    )  # fmt: skip
    spans = tuple(
        (reader(f"ring.kind_{span.kind}"), f"{span.i} - {span.j}", reader.length(span.length),
         f"± {reader.length(span.band)}")
        for span in sheet.spans
    )  # fmt: skip
    frame = tuple((f"{p} - {q}", reader.length(distance)) for p, q, distance in sheet.frame)
    return (
        Heading(1, reader("ring.title")),
        Paragraph(reader("ring.intro")),
        *uneven,
        Figure("ring", reader("ring.alt", hubs=len(sheet.rows))),
        Table(
            (reader("ring.pegs_head"), reader("ring.length_head")), frame, "lr",
            reader("ring.pegs"),
        ),
        Table(
            (reader("ring.hub_head"), reader("ring.peg_head"), reader("ring.distance_head"),
             reader("ring.peg_head"), reader("ring.distance_head"), reader("ring.band_head")),
            rows, "rcrcrr", reader("ring.hubs"),
        ),
        Table(
            (reader("ring.kind_head"), reader("ring.check_head"), reader("ring.length_head"),
             reader("ring.band_head")),
            spans, "lcrr", reader("ring.checks"),
        ),
        NewPage(),
    )  # fmt: skip


def courses(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return what each course takes from the pack, with its picture and its running total."""
    blocks: list[Block] = [Heading(1, reader("picks.title")), Paragraph(reader("picks.intro"))]
    struts = hubs = 0
    for stage in design.sequence.stages:
        struts += sum(len(step.struts) for step in stage.steps)
        hubs += sum(len(step.hubs) for step in stage.steps)
        blocks += _stage(design, reader, stage)
        blocks.append(
            Paragraph(
                reader("picks.closing", struts=struts, all_struts=len(design.shell.struts),
                       hubs=hubs, all_hubs=len(design.shell.hubs)),
                "small",
            )
        )  # fmt: skip
        blocks.append(NewPage())
    return tuple(blocks)


def stage_title(design: Design, reader: Reader, stage: Stage) -> str:
    """Return the name of a stage."""
    is_last = stage is design.sequence.stages[-1]
    kind = "crown" if is_last and stage.kind == "course" else stage.kind
    return reader(f"picks.{kind}", number=stage.course)


def _stage(design: Design, reader: Reader, stage: Stage) -> list[Block]:
    kit = design.kit
    strut_labels = {kind.label for kind in kit.strut_types}
    blocks: list[Block] = [Heading(2, stage_title(design, reader, stage))]
    for step in stage.steps:
        struts = {k: n for k, n in step.picks.items() if k in strut_labels}
        hubs = {k: n for k, n in step.picks.items() if k not in strut_labels}
        if struts:
            blocks.append(Paragraph(reader("picks.struts", items=reader.counted(struts))))
        if hubs:
            blocks.append(Paragraph(reader("picks.hubs", items=reader.counted(hubs))))
    blocks.append(
        Figure(
            f"stage-{design.sequence.stages.index(stage)}", reader("picks.alt", number=stage.course)
        )
    )
    blocks.append(Paragraph(_check(design, reader, stage), "limit"))
    return blocks


def _check(design: Design, reader: Reader, stage: Stage) -> str:
    if stage.kind != "course":
        return reader("picks.check_ring")
    hub = int(stage.steps[-1].hubs[0]) if stage.steps[-1].hubs.size else 0
    height = float(design.shell.hubs[hub, 2])
    return reader("picks.check_course", hub=hub, height=reader.length(height))
