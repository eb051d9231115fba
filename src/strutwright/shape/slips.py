"""How a height reading that does not fit may have come about."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from typing import Final

from strutwright.brief import Level
from strutwright.sentences import Sentence, sentence

__all__ = ["likely_slip"]

ROOM: Final = 0.025
"""m; a corrected reading fits when it comes this near: five standard deviations, our choice."""
SLIPS: Final = (
    (0.3048, "slip.feet"),
    (1 / 0.3048, "slip.metres"),
    (10.0, "slip.lost"),
    (0.1, "slip.more"),
)


def likely_slip(level: Level, expected: float) -> tuple[Sentence, str] | None:
    """Return how `level` may have gone wrong and what would fit; None where unknown.

    Two digits that changed places are tried first, then slips of unit.

    Parameters
    ----------
    level : Level
    expected : float, m
        What the other readings ask for.
    """
    swaps = [(abs(value - expected), text) for text, value in _swapped(level)]
    if swaps and min(swaps)[0] < ROOM:
        return sentence("slip.swapped"), min(swaps)[1]
    for factor, why in SLIPS:
        if abs(level.height * factor - expected) < ROOM:
            return sentence(why), sentence("slip.fits", x=level.height * factor)
    return None


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
