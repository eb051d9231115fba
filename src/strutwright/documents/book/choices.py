"""What was chosen and what else there was: shapes, numbers of lengths, sizes, with their bars."""

from __future__ import annotations

import math
from typing import Final

from strutwright.design import Design
from strutwright.design.choices import Choices, WeighedLengths, WeighedShape
from strutwright.documents.blocks import Block, Figure, Heading, NewPage, Paragraph, Table
from strutwright.documents.reader import Reader
from strutwright.drawing import Sheet
from strutwright.drawing.chart import Dot, Panel, chart, neat_ticks
from strutwright.units import parse_length, show_share

__all__ = ["choices_chapter", "choices_pictures"]

LEAST_DRIFT: Final = {"mm": "0.1 mm", "in": "0.01 in"}
"""Hubs that move less are shown as unmoved."""
MOST_ROWS = 9
"""Widths in the table beside the wish and the peaks: every so many-th, to fit half a page."""


def choices_pictures(design: Design, reader: Reader) -> dict[str, Sheet]:
    """Return the pictures of the trade-off and of the sizes, where there are any."""
    sheets = {}
    if design.choices.lengths:
        sheets["lengths-tradeoff"] = _lengths_sheet(design.choices, reader)
    if len(design.choices.widths) > 1:
        sheets["size-and-bars"] = _widths_sheet(design.choices, reader)
    return sheets


def choices_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return the chapter on what was weighed."""
    choices = design.choices
    blocks: list[Block] = [
        Heading(1, reader("choices.title")),
        Paragraph(reader("choices.intro")),
        _shapes_table(choices, reader),
    ]
    if choices.lengths:
        blocks += [
            Heading(2, reader("choices.lengths")),
            Paragraph(reader("choices.lengths_intro")),
            Figure("lengths-tradeoff", reader("choices.lengths_alt"), width=150.0),
            _lengths_table(choices, reader),
        ]
    if len(choices.widths) > 1:
        blocks += [
            Heading(2, reader("choices.sizes")),
            Paragraph(reader("choices.sizes_intro")),
            Figure("size-and-bars", reader("choices.sizes_alt"), width=150.0),
            _widths_table(choices, reader),
        ]
    return (*blocks, NewPage())


def _shapes_table(choices: Choices, reader: Reader) -> Table:
    heads = ("shape", "hubs", "struts", "types", "longest", "bars", "bought")
    return Table(
        tuple(reader(f"choices.{head}_head") for head in heads),
        tuple(_shape_row(row, reader) for row in choices.shapes),
        "lrrrrrr",
        reader("choices.shapes"),
        (1, 0, 0, 0, 0, 0, 0),
    )


def _shape_row(row: WeighedShape, reader: Reader) -> tuple[str, ...]:
    shape = row.shape
    words = [reader(f"choices.family_{shape.family.replace('-', '_')}"), *_division(row, reader)]
    name = ", ".join(words)
    counts = (str(shape.hubs), str(shape.struts), str(row.types), reader.length(shape.longest))
    if row.bars is None:
        return (f"{name}: {row.refused}", *counts, "-", "-")
    mark = reader("choices.chosen", name=name) if row.is_chosen else name
    return (mark, *counts, str(row.bars.bars), reader.length(row.bars.bought))


def _division(row: WeighedShape, reader: Reader) -> list[str]:
    shape = row.shape
    words = [] if not shape.seed else [reader(f"choices.seed_{shape.seed}")]
    if shape.family == "vault":
        words.append(reader("choices.gaps", gaps=shape.division[0]))
    elif shape.family != "imported":
        words.append(f"[{shape.division[0]}, {shape.division[1]}]")
    if shape.truncation:
        words.append(reader("choices.courses", courses=shape.truncation))
    if shape.family in {"long-dome", "vault"}:
        words.append(reader("choices.bays", bays=shape.bays))
    if shape.kind:
        words.append(shape.kind)
    return words


def _lengths_table(choices: Choices, reader: Reader) -> Table:
    heads = ("lengths", "drift", "fold", "hub_types", "bars", "bought")
    return Table(
        tuple(reader(f"choices.{head}_head") for head in heads),
        tuple(_lengths_row(row, reader) for row in _told(choices)),
        "lrrrrr",
    )


def _told(choices: Choices) -> list[WeighedLengths]:
    """Return the rows of the table: those weighed, and the first that is refused."""
    can = [row for row in choices.lengths if row.bars is not None or row.is_chosen]
    refused = [row for row in choices.lengths if row.entry.refused]
    return [*can, *refused[:1]]


def _lengths_row(row: WeighedLengths, reader: Reader) -> tuple[str, ...]:
    entry = row.entry
    name = str(entry.lengths)
    if entry.refused:
        return (name, reader("choices.refused"), "-", "-", "-", "-")
    mark = reader("choices.chosen", name=name) if row.is_chosen else name
    bars = ("-", "-")
    if row.bars is not None:
        bars = (str(row.bars.bars), reader.length(row.bars.bought))
    hub_types = "-" if row.hub_types is None else str(row.hub_types)
    drift, fold = reader.length(entry.drift), reader.angle(entry.smallest_fold)
    return (mark, drift, fold, hub_types, *bars)


def _widths_table(choices: Choices, reader: Reader) -> Table:
    heads = ("width", "length", "rise", "floor", "bars", "bought", "used")
    every = max(1, math.ceil(len(choices.widths) / MOST_ROWS))
    rows = []
    for k, row in enumerate(choices.widths):
        if not (row.is_wish or row.is_peak or k % every == 0):
            continue
        name = reader.length(row.width)
        if row.is_wish:
            name = reader("choices.chosen", name=name)
        elif row.is_peak:
            name = reader("choices.peak", name=name)
        rows.append(
            (name, reader.length(row.length), reader.length(row.rise), reader.area(row.floor_area),
             str(row.bars.bars), reader.length(row.bars.bought), show_share(row.share_used))
        )  # fmt: skip
    return Table(tuple(reader(f"choices.{head}_head") for head in heads), tuple(rows), "lrrrrrr")


def _lengths_sheet(choices: Choices, reader: Reader) -> Sheet:
    can = [row for row in choices.lengths if not row.entry.refused]

    def dots(value: dict[int, float]) -> list[Dot]:
        rows = sorted((row for row in can if row.entry.lengths in value),
                      key=lambda row: row.entry.lengths)  # fmt: skip
        return [
            Dot(row.entry.lengths, value[row.entry.lengths], "chosen" if row.is_chosen else "",
                reader("choices.mark") if row.is_chosen else "")
            for row in rows
        ]  # fmt: skip

    unit = "in" if reader.system == "imperial" else "mm"
    each, least = parse_length(f"1 {unit}"), LEAST_DRIFT[unit]
    drift = {row.entry.lengths: row.entry.drift / each for row in can}
    fold = {row.entry.lengths: math.degrees(row.entry.smallest_fold) for row in can}
    bars = {row.entry.lengths: float(row.bars.bars) for row in can if row.bars is not None}
    panels = [
        Panel(
            reader("choices.drift_axis", unit=unit, least=least),
            dots(drift),
            is_log=True,
            least=parse_length(least) / each,
        ),
        Panel(reader("choices.fold_axis"), dots(fold)),
    ]
    if bars:
        panels.append(Panel(reader("choices.bars_axis"), dots(bars), least=math.nan, is_whole=True))
    return chart(
        panels, reader("choices.lengths_axis"), ticks=_whole_ticks(can), size=(165.0, 46.0),
        title=reader("choices.lengths"), text=reader("choices.lengths_alt"),
    )  # fmt: skip


def _whole_ticks(rows: list[WeighedLengths]) -> list[tuple[float, str]]:
    numbers = [row.entry.lengths for row in rows]
    every = max(1, (max(numbers) - min(numbers)) // 12)
    return [(float(k), str(k)) for k in range(min(numbers), max(numbers) + 1, every)]


def _widths_sheet(choices: Choices, reader: Reader) -> Sheet:
    def dots(values: list[float]) -> list[Dot]:
        return [
            Dot(
                row.width, value, "chosen" if row.is_wish else "peak" if row.is_peak else "",
                reader.length(row.width) if row.is_wish or row.is_peak else "",
            )
            for row, value in zip(choices.widths, values, strict=True)
        ]  # fmt: skip

    rows = choices.widths
    panels = [
        Panel(reader("choices.bars_axis"), dots([float(row.bars.bars) for row in rows]),
              least=math.nan),
        Panel(reader("choices.used_axis"), dots([100 * row.share_used for row in rows]),
              least=math.nan),
    ]  # fmt: skip
    is_imperial = reader.system == "imperial"
    unit = parse_length("1 ft" if is_imperial else "1 m")
    ticks = [
        (x * unit, reader.length(x * unit) if is_imperial else f"{x:.6g} m")
        for x in neat_ticks(rows[0].width / unit, rows[-1].width / unit, 7)
    ]
    return chart(
        panels, reader("choices.width_axis"), ticks=ticks, size=(165.0, 52.0),
        title=reader("choices.sizes"), text=reader("choices.sizes_alt"),
    )  # fmt: skip
