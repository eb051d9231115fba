"""Rigid sheets between struts under wind and snow."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.catalogue import Cover
from strutwright.cover.holding import Bending
from strutwright.loads.cover import circle_spans, sheet_moment, sheet_sag
from strutwright.loads.film import FilmPressure
from strutwright.shape import Shell

__all__ = ["bending"]

GRAVITY: Final = 9.81
"""m/s2."""
DEAD: Final = 1.35
"""Factor of the sheet's own weight. Source: EN 1990, Table A1.2(B), recalled; ASCE 7 has 1.2."""


def bending(
    shell: Shell, pressure: FilmPressure, skin: Cover, holds: float | None = None
) -> Bending:
    """Return what wind, snow and its own weight do to a sheet held along all struts of its face.

    Parameters
    ----------
    shell : Shell
    pressure : FilmPressure
    skin : Cover
    holds : float or None, Pa
        What the maker's table allows in use.
    """
    weight = GRAVITY * skin.mass
    strong, use = pressure.strength + DEAD * weight, pressure.service + weight
    moment = sheet_moment(shell, strong)
    at = int(np.argmax(moment))
    sag = None
    if skin.modulus is not None:
        sag = float(sheet_sag(shell, use, skin.modulus * skin.thickness**3 / 12).max())
    return Bending(
        face=at,
        span=float(circle_spans(shell)[at]),
        pressure=float(use.max()),
        pressure_strength=float(strong[at]),
        moment=float(moment[at]),
        sag=sag,
        holds=holds,
    )
