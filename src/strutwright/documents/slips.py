"""Packing slips: what lies in each parcel and what a scale must read."""

from __future__ import annotations

from strutwright.documents.blocks import Block, Heading, NewPage, Paragraph, Table
from strutwright.documents.reader import Reader
from strutwright.packing import PackingPlan
from strutwright.sequence import BuildSequence

__all__ = ["packing_slips"]


def packing_slips(plan: PackingPlan, sequence: BuildSequence, reader: Reader) -> tuple[Block, ...]:
    """Return a row for each parcel of `plan`; nothing where nothing is sent."""
    if not plan.parcels:
        return ()
    courses = [stage.course for stage in sequence.stages]
    rows = tuple(
        (
            str(number),
            reader.counted(one.counts),
            " × ".join(reader.length(side) for side in (one.length, one.width, one.height)),
            reader.mass(one.mass),
            reader.mass(one.lightest),
            ", ".join(str(courses[k]) for k in one.stages if k < len(courses)),
        )
        for number, one in enumerate(plan.parcels, start=1)
    )
    heads = ("number", "contents", "size", "scale", "lightest", "courses")
    return (
        Heading(1, reader("slips.title")),
        Paragraph(reader("slips.intro", carrier=plan.carrier)),
        Table(
            tuple(reader(f"slips.{head}_head") for head in heads),
            rows,
            "rlrrrl",
            widths=(0, 1, 0, 0, 0, 0),
        ),
        Paragraph(reader("slips.proven" if plan.proven else "slips.bound", least=plan.bound)),
        NewPage(),
    )
