"""The shell as DXF lines in space: a layer for each strut type, the numbers of the hubs as text."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from strutwright.drawing import dxf_bytes, new_dxf, true_colour
from strutwright.drawing.palette import QUIET, type_colour
from strutwright.errors import InputError
from strutwright.shape import Shell
from strutwright.values import Words

__all__ = ["shell_dxf"]

UNITS: Final[Mapping[str, tuple[int, float]]] = MappingProxyType({"m": (6, 1.0), "mm": (4, 1000.0)})
"""$INSUNITS code (DXF reference, HEADER variables) and how many of the unit make a metre."""
TEXT_SHARE: Final = 0.015
"""Height of the hub numbers as a share of the shell's size; our choice."""


def shell_dxf(shell: Shell, label_of: Words, *, unit: str = "m") -> bytes:
    """Return the shell as an audited DXF file; the same shell gives the same bytes.

    Struts are lines from hub centre to hub centre on layers ``STRUT-A``, ``STRUT-B`` ...; hub
    numbers are text on layer ``HUB-NUMBERS``, hub centres points on layer ``HUBS``.

    Parameters
    ----------
    shell : Shell
    label_of : (S,) array of str
        Label of the strut type of each strut.
    unit : str
        ``m`` or ``mm``; written into the file.

    Raises
    ------
    InputError
        The unit is neither.
    """
    if unit not in UNITS:
        what = f"{unit!r} is no unit of this drawing"
        raise InputError("dxf-unit", what, "unit", "take m or mm")
    code, factor = UNITS[unit]
    document = new_dxf(code)
    labels = list(dict.fromkeys(sorted(label_of.tolist(), key=lambda text: (len(text), text))))
    for k, label in enumerate(labels):
        document.layers.add(f"STRUT-{label}", true_color=true_colour(type_colour(k)))
    for name in ("HUBS", "HUB-NUMBERS"):
        document.layers.add(name, true_color=true_colour(QUIET))
    space = document.modelspace()
    points = (shell.hubs * factor).tolist()
    for (i, j), label in zip(shell.struts.tolist(), label_of.tolist(), strict=True):
        space.add_line(points[i], points[j], dxfattribs={"layer": f"STRUT-{label}"})
    height = TEXT_SHARE * shell.size * factor
    for number, point in enumerate(points):
        space.add_point(point, dxfattribs={"layer": "HUBS"})
        place = {"layer": "HUB-NUMBERS", "insert": point, "style": "Drawing"}
        space.add_text(str(number), height=height, dxfattribs=place)
    return dxf_bytes(document)
