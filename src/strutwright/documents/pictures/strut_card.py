"""Strut types as bars to one scale, with label, bands, quantity and length."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from strutwright.documents.pictures.signs import TypeSign, band_words, neat_scale
from strutwright.drawing import (
    POINT,
    QUIET,
    Mark,
    Sheet,
    Text,
    bar,
    dimension,
    moved,
)

__all__ = ["TypeRow", "marking", "strut_card", "strut_types"]

THICKNESS: Final = 4.0
"""Height of a bar on paper, mm; thicknesses are not to scale, and the picture says so."""
ROW: Final = 15.0
"""Height of a row, mm."""
LABEL: Final = 24.0
"""Room for the label and the quantity at the left, mm."""


@dataclass(frozen=True)
class TypeRow:
    """A strut type with its cut length (m) and how many are needed."""

    sign: TypeSign
    cut_length: float
    quantity: int


def marking(sign: TypeSign, *, width: float = 40.0) -> Sheet:
    """Return the picture of a strut type's marking alone: a bar with its bands."""
    height = THICKNESS + 3.0
    marks = bar((1.0, height / 2), width - 2.0, THICKNESS, sign.colour, pattern=sign.band)
    text = f"Strut {sign.label}: bands {band_words(sign.band)}"
    return Sheet(width, height, tuple(marks), f"Strut {sign.label}", text)


def strut_card(
    row: TypeRow, show: Callable[[float], str], *, width: float = 84.0, scale: float | None = None
) -> Sheet:
    """Return the picture of one strut type: label, quantity, bar with bands, cut length.

    `scale` (as 50 for 1:50) draws several cards alike; left out, the bar fills the card.
    """
    used = scale or neat_scale(row.cut_length, width - LABEL - 4)
    title = f"Strut {row.sign.label}"
    text = (
        f"{title}: {row.quantity} pieces, cut length {show(row.cut_length)}, "
        f"bands {band_words(row.sign.band)}; lengths 1:{used:g}."
    )
    return Sheet(width, ROW, _row(row, show, used), title, text)


def strut_types(
    rows: Sequence[TypeRow], show: Callable[[float], str], *, width: float = 174.0
) -> Sheet:
    """Return the picture of all strut types, one under the other to one scale."""
    scale = neat_scale(max(row.cut_length for row in rows), width - LABEL - 4)
    foot = 8.0
    height = foot + ROW * len(rows)
    marks: list[Mark] = []
    for k, row in enumerate(rows):
        marks += moved(_row(row, show, scale), 0.0, height - ROW * (k + 1))
    words = f"Strut types, lengths 1:{scale:g}, thickness not to scale"
    marks.append(Text((width - 2, 3.0), words, 9 * POINT, "end", colour=QUIET))
    text = "; ".join(
        f"{row.sign.label}: {row.quantity} pieces, {show(row.cut_length)}, "
        f"bands {band_words(row.sign.band)}"
        for row in rows
    )
    return Sheet(width, height, tuple(marks), "Strut types", text)


def _row(row: TypeRow, show: Callable[[float], str], scale: float) -> tuple[Mark, ...]:
    length = row.cut_length * 1000 / scale
    y = 5.0
    sign = row.sign
    return (
        Text((3, y), sign.label, 14 * POINT, "start", "middle", colour=sign.colour, bold=True),
        Text((LABEL - 3, y), f"× {row.quantity}", 10 * POINT, "end", "middle"),
        *bar((LABEL, y), length, THICKNESS, sign.colour, pattern=sign.band),
        *dimension((LABEL, y + 2), (LABEL + length, y + 2), 3.0, show(row.cut_length)),
    )
