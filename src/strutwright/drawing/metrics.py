"""Width of a line of text in the font of the drawings."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from types import MappingProxyType

__all__ = ["text_width"]


@cache
def _advances(weight: str) -> MappingProxyType[str, int]:
    # Read once: the table never changes while the program runs.
    table = tomllib.loads((files("strutwright.drawing") / "data" / "widths.toml").read_text("utf8"))
    rows = {key: chars for key, chars in table[weight].items() if key != "widest"}
    advances = {char: int(key) for key, chars in rows.items() for char in chars}
    return MappingProxyType(advances | {"": int(table[weight]["widest"])})


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Return the width of `text` set at `size` mm, in mm; pair kerning left out.

    Source: hmtx table of Source Sans 3, version 3.052.
    """
    advances = _advances("bold" if bold else "regular")
    return sum(advances.get(char, advances[""]) for char in text) * size / 1000
