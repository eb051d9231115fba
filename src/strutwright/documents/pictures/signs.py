"""How strut types are told apart on pictures: letter, number of bands, colour, in that order."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from strutwright.drawing import Mark, scale_bar, type_colour

__all__ = ["TypeSign", "band_words", "neat_scale", "scale_foot", "signs"]

WIDEST_FIELD: Final = 42.0
"""mm on paper."""
METRES: Final = (20.0, 10.0, 5.0, 2.0, 1.0, 0.5, 0.25, 0.1, 0.05, 0.02, 0.01)
"""Lengths of a field of the scale bar, m."""
FOOT: Final = 0.3048
FEET: Final = tuple(n * FOOT for n in (50, 20, 10, 5, 2, 1, 1 / 2, 1 / 4, 1 / 12, 1 / 24))
"""The same where the reader reads feet and inches, m."""

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


def scale_foot(to_paper: float, show: Callable[[float], str]) -> tuple[Mark, ...]:
    """Return the scale bar at the foot of a picture: two fields, round in the reader's units.

    Parameters
    ----------
    to_paper : float
        mm of paper for one metre.
    show : callable
        Gives a length (m) in the reader's units.
    """
    steps = FEET if show(FOOT).startswith("1'") else METRES
    step = next(n for n in steps if n * to_paper <= WIDEST_FIELD)
    labels = ("0", show(step), show(2 * step))
    return scale_bar((4.0, 2.5), step * to_paper, labels)
