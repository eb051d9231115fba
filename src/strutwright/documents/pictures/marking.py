"""The marking of a strut type: a bar with its bands."""

from __future__ import annotations

from typing import Final

from strutwright.documents.pictures.signs import TypeSign, band_words
from strutwright.drawing import Sheet, bar

__all__ = ["marking"]

THICKNESS: Final = 4.0
"""Height of a bar on paper, mm."""
SHORTEST: Final = 12.0
"""Least length of a bar with its bands, mm."""


def marking(sign: TypeSign, share: float = 1.0, *, width: float = 40.0) -> Sheet:
    """Return the picture of a strut type's marking alone: a bar with its bands.

    `share` of the longest strut is drawn as that share of the width, or as the shortest bar that
    has room for its bands.
    """
    height = THICKNESS + 3.0
    length = max(share * (width - 2.0), SHORTEST)
    marks = bar((1.0, height / 2), length, THICKNESS, sign.colour, pattern=sign.band)
    text = f"Strut {sign.label}: bands {band_words(sign.band)}"
    return Sheet(width, height, tuple(marks), f"Strut {sign.label}", text)
