"""The colours of drawings: solid tints alone, readable in black and white."""

from __future__ import annotations

from typing import Final

__all__ = ["GREY", "INK", "LIGHT", "PALE", "QUIET", "TYPE_COLOURS", "WHITE", "tint", "type_colour"]

INK: Final = "#1c2326"
"""Lines and text."""
QUIET: Final = "#55606a"
"""Dimensions, leaders, remarks."""
GREY: Final = "#8b959b"
"""Standing parts."""
LIGHT: Final = "#c3cace"
"""Parts behind others."""
PALE: Final = "#f2f0e6"
"""Fill behind parts."""
WHITE: Final = "#ffffff"
TYPE_COLOURS: Final = ("#25400a", "#b28d1b", "#4798b2", "#4f21d9", "#5b8c67", "#293a40")
"""Moss, ochre, teal, violet, sage, slate; far apart also for the colour-blind, dark on white."""


def type_colour(index: int) -> str:
    """Return the colour of strut type `index`, counted from 0; the colours come round again.

    A colour is the last of three signs: the letter and the number of bands tell types apart.
    """
    return TYPE_COLOURS[index % len(TYPE_COLOURS)]


def tint(colour: str, share: float) -> str:
    """Return `colour` mixed with white; `share` is what stays of it, 0 to 1."""
    parts = (int(colour[k : k + 2], 16) for k in (1, 3, 5))
    return "#" + "".join(f"{round(255 - (255 - part) * share):02x}" for part in parts)
