"""How the command line shows what was weighed: shapes, numbers of lengths, sizes."""

from __future__ import annotations

import math

from strutwright.design import Design
from strutwright.design.choices import WeighedLengths, WeighedShape, WeighedWidth
from strutwright.units import show_angle, show_length, show_share

__all__ = ["choice_lines"]


def choice_lines(design: Design) -> list[str]:
    """Return the shapes, numbers of lengths and sizes of `design`, a line each, `*` the built one.

    Bars are counted by one plain plan before openings, inner braces and legs.
    """
    choices, show = design.choices, design.brief.project.show
    lines = ["shapes that meet the wish (* is built; bars by one plain plan, before openings):"]
    lines += [_shape(row, show) for row in choices.shapes]
    if choices.lengths:
        lines.append("strut lengths: hubs move by up to, smallest fold, bars:")
        told = [r for r in choices.lengths if r.bars is not None or r.is_chosen]
        told += [r for r in choices.lengths if r.entry.refused][:1]
        lines += [_lengths(row, show) for row in told]
    if len(choices.widths) > 1:
        lines.append("width within the freedom, bars, share used (^ is worth a look):")
        lines += [_width(row, show) for row in choices.widths if row.is_wish or row.is_peak]
    return lines


def _mark(*, is_chosen: bool) -> str:
    return "  * " if is_chosen else "    "


def _shape(row: WeighedShape, show: str) -> str:
    shape = row.shape
    b, c = shape.division
    words = [shape.family, shape.seed, f"[{b}, {c}]"]
    words += [f"{shape.truncation} courses"] if shape.truncation else []
    words += [f"{shape.bays} bays"] if shape.family in {"long-dome", "vault"} else []
    words += [shape.kind]
    name = " ".join(word for word in words if word)
    counts = (
        f"{shape.hubs} hubs, {shape.struts} struts, {row.types} types, longest "
        f"{show_length(shape.longest, show)}"
    )
    bars = row.refused if row.bars is None else f"{row.bars.bars} bars"
    return f"{_mark(is_chosen=row.is_chosen)}{name}: {counts}, {bars}"


def _lengths(row: WeighedLengths, show: str) -> str:
    entry = row.entry
    head = f"{_mark(is_chosen=row.is_chosen)}{entry.lengths}: "
    if entry.refused:
        return f"{head}refused: {entry.refused}"
    bars = "bars not counted" if row.bars is None else f"{row.bars.bars} bars"
    fold = "no fold" if math.isinf(entry.smallest_fold) else show_angle(entry.smallest_fold)
    return f"{head}{show_length(entry.drift, show)}, {fold}, {bars}"


def _width(row: WeighedWidth, show: str) -> str:
    mark = "  * " if row.is_wish else "  ^ "
    return (
        f"{mark}{show_length(row.width, show)}: {row.bars.bars} bars, "
        f"{show_share(row.share_used)} used"
    )
