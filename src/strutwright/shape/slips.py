"""How a height reading that does not fit may have come about."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from typing import Final

from strutwright.brief import Level

__all__ = ["likely_slip"]

ROOM: Final = 0.025
"""m; a corrected reading fits when it comes this near: five standard deviations, our choice."""
SLIPS: Final = (
    (0.3048, "feet written as metres"),
    (1 / 0.3048, "metres written as feet"),
    (10.0, "a digit lost"),
    (0.1, "a digit too many"),
)


def likely_slip(level: Level, expected: float) -> str:
    """Return words to follow "put aside" on how `level` may have gone wrong; empty where unknown.

    Two digits that changed places are tried first, then slips of unit.

    Parameters
    ----------
    level : Level
    expected : float, m
        What the other readings ask for.
    """
    swaps = [(abs(value - expected), text) for text, value in _swapped(level)]
    if swaps and min(swaps)[0] < ROOM:
        return f" (two digits changed places? {min(swaps)[1]} would fit)"
    for factor, why in SLIPS:
        if abs(level.height * factor - expected) < ROOM:
            return f" ({why}? {1000 * level.height * factor:.0f} mm would fit)"
    return ""


def _swapped(level: Level) -> Iterator[tuple[str, float]]:
    """Yield the reading with two unlike digits exchanged: as text, and in m."""
    number = re.match(r"[+-]?[0-9.]+", level.text)
    if number is None or not float(number[0]) or re.search(r"[0-9]", level.text[number.end() :]):
        return
    unit = level.height / float(number[0])
    digits = [k for k in range(number.end()) if level.text[k].isdigit()]
    for i, j in itertools.combinations(digits, 2):
        letters = list(level.text)
        letters[i], letters[j] = letters[j], letters[i]
        text = "".join(letters)
        if text != level.text:
            yield text, unit * float(text[: number.end()])
