"""kit.json, sections alternatives, lengths_tradeoff and sizes: what was weighed, with its bars."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field

from strutwright.cutting import BarCount
from strutwright.design.choices import Choices, WeighedLengths, WeighedShape, WeighedWidth

__all__ = [
    "AlternativePart",
    "SizePart",
    "TradeoffPart",
    "alternatives_section",
    "lengths_section",
    "sizes_section",
]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid")


class AlternativePart(_Part):
    """A shape that meets the wish, before openings, inner braces and legs; the first is built."""

    family: str
    seed: str = Field(description="of a dome; empty of another family")
    division: tuple[int, int] = Field(description="of a vault: row gaps over the arch, and 0")
    truncation: str = Field(description="courses kept of a dome, 0 of another family")
    bays: int
    kind: str = Field(description="symmetry, rows or grid of a long shape")
    hubs: int
    struts: int
    types: int = Field(description="strut types")
    longest: float = Field(description="node length, m")
    width: float = Field(description="m")
    rise: float = Field(description="m")
    fits: bool = Field(description="whether no strut is longer than stock and carrier allow")
    chosen: bool
    bars: int | None = Field(description="by first-fit decreasing, as in every row")
    bought: float | None = Field(description="bar length bought, m, by first-fit decreasing")
    cost: float | None = Field(description="of these bars; m bought where a price is missing")
    refused: str = Field(description="why its parts cannot be made; empty where they can")


class TradeoffPart(_Part):
    """What a number of distinct strut lengths costs, before openings, inner braces and legs."""

    lengths: int
    drift: float | None = Field(description="largest movement of a hub, m; null where refused")
    smallest_fold: float | None = Field(description="smallest angle between two faces, rad")
    hub_types: int | None = Field(description="null where not worked out")
    bars: int | None = Field(description="by first-fit decreasing; null where not worked out")
    bought: float | None = Field(description="bar length bought, m; null when not worked out")
    chosen: bool
    refused: str = Field(default="", description="why this number of lengths is refused")


class SizePart(_Part):
    """The shell at another width within the freedom of the brief, all in proportion."""

    width: float = Field(description="m")
    length: float = Field(description="m")
    rise: float = Field(description="m")
    floor_area: float = Field(description="m2")
    bars: int = Field(description="by first-fit decreasing")
    bought: float = Field(description="bar length bought, m")
    used: float = Field(description="in struts, m")
    cost: float = Field(description="of these bars; m bought where a price is missing")
    chosen: bool = Field(description="the size that is built")
    proposed: bool = Field(description="a peak of the yield that is worth a look")


def alternatives_section(choices: Choices) -> list[dict[str, Any]]:
    """Return the section ``alternatives``."""
    return [_alternative(row) for row in choices.shapes]


def _alternative(row: WeighedShape) -> dict[str, Any]:
    shape = row.shape
    names = ("family", "seed", "division", "bays", "kind", "hubs", "struts", "longest", "width",
             "rise", "fits")  # fmt: skip
    return {
        **{name: getattr(shape, name) for name in names},
        "truncation": str(shape.truncation),
        "types": row.types,
        "chosen": row.is_chosen,
        **_bars(row.bars),
        "refused": row.refused,
    }


def _bars(bars: BarCount | None) -> dict[str, Any]:
    if bars is None:
        return {"bars": None, "bought": None, "cost": None}
    return {"bars": bars.bars, "bought": bars.bought, "cost": bars.cost}


def lengths_section(choices: Choices) -> list[dict[str, Any]]:
    """Return the section ``lengths_tradeoff``; empty where the brief asks for no fewer."""
    return [_lengths(row) for row in choices.lengths]


def _lengths(row: WeighedLengths) -> dict[str, Any]:
    entry, bars = row.entry, row.bars
    is_there = not entry.refused
    return {
        "lengths": entry.lengths,
        "drift": entry.drift if is_there else None,
        "smallest_fold": entry.smallest_fold if is_there else None,
        "hub_types": row.hub_types,
        "bars": None if bars is None else bars.bars,
        "bought": None if bars is None else bars.bought,
        "chosen": row.is_chosen,
        "refused": entry.refused,
    }


def sizes_section(choices: Choices) -> list[dict[str, Any]]:
    """Return the section ``sizes``; empty where the brief gives no freedom."""
    return [_size(row) for row in choices.widths]


def _size(row: WeighedWidth) -> dict[str, Any]:
    return {
        "width": row.width,
        "length": row.length,
        "rise": row.rise,
        "floor_area": row.floor_area,
        "bars": row.bars.bars,
        "bought": row.bars.bought,
        "used": row.bars.used,
        "cost": row.bars.cost,
        "chosen": row.is_wish,
        "proposed": row.is_peak,
    }
