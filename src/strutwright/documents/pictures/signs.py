"""How strut types are told apart on pictures: letter, number of bands, colour, in that order."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from strutwright.drawing import type_colour

__all__ = ["TypeSign", "band_words", "neat_scale", "signs"]

SCALES: Final = (1, 2, 2.5, 3, 4, 5, 6, 7.5)
"""Steps of a drawing scale within a power of ten; 1, 2 and 5 are those of ISO 5455."""


@dataclass(frozen=True)
class TypeSign:
    """The signs of one strut type; `band` has ``n`` for a narrow band and ``w`` for a wide one."""

    label: str
    band: str
    colour: str


def signs(labels: Sequence[str], bands: Sequence[str]) -> tuple[TypeSign, ...]:
    """Return the signs of strut types in their order, each with the colour that is its turn."""
    return tuple(
        TypeSign(label, band, type_colour(k))
        for k, (label, band) in enumerate(zip(labels, bands, strict=True))
    )


def band_words(band: str) -> str:
    """Return a pattern of bands in words, as ``narrow, wide, narrow``."""
    return ", ".join("wide" if sign == "w" else "narrow" for sign in band) or "none"


def neat_scale(size: float, room: float) -> float:
    """Return the largest neat scale at which `size` (m) fits into `room` (mm), as 50 for 1:50."""
    least = size * 1000 / room
    power = 10 ** math.floor(math.log10(least))
    steps = [power * step for step in (*SCALES, 10)]
    return float(next(step for step in steps if step >= least * (1 - 1e-9)))
