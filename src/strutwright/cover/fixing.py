"""Film under wind and snow, and what holds it."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from strutwright.catalogue import Source
from strutwright.cover.values import Fixing
from strutwright.loads.cover import film_sag, film_tension
from strutwright.loads.film import FilmPressure
from strutwright.shape import Shell

__all__ = ["CLAMP", "CLAMP_SOURCE", "SPACING", "fixing"]

SPACING: Final = 0.6
"""m between fixings over the shell, at most; half of it at base, ridge and openings.

Source: practice of film houses, recalled.
"""
LOCAL: Final = 1.5
"""Local wind over the field's value, for fixings at edges. Source: practice, recalled."""
CLAMP: Final = 150.0
"""N that a snap clamp 100 mm long holds: the lower end of 0.15 to 0.3 kN; to be tested."""
CLAMP_SOURCE: Final = Source("common values of film clamps, 0.15 to 0.3 kN on 100 mm", None)
CLAMP_LENGTH: Final = 0.1
"""m: clamps stand no closer."""
STEP: Final = 0.01
"""m: spacings are rounded down to it."""


def fixing(
    shell: Shell, pressure: FilmPressure, stiffness: float, holds: float | None = None
) -> Fixing:
    """Return what wind and snow do to the film, and the fixings that hold it, at the worst face.

    A fixing takes the tension of the film over its spacing, at edges that of local wind; fixings
    stand as close as it takes for each to hold, no closer than one clamp to the next.

    Parameters
    ----------
    shell : Shell
    pressure : FilmPressure
    stiffness : float, N/m
        Modulus times thickness of one layer.
    holds : float or None, N
        What one fixing holds; None takes `CLAMP`.
    """
    service = pressure.service
    tension = film_tension(shell, service, stiffness)
    at = int(np.argmax(tension))
    local = np.maximum(LOCAL * pressure.wind, pressure.snow)
    pull, edge = float(tension[at]), float(film_tension(shell, local, stiffness).max())
    each = CLAMP if holds is None else holds
    spacing, spacing_edge = _spacing(each, pull, SPACING), _spacing(each, edge, SPACING / 2)
    return Fixing(
        pressure=float(pressure.wind.max()),
        snow=float(pressure.snow.max()),
        tension=pull,
        tension_strength=float(film_tension(shell, pressure.strength, stiffness).max()),
        sag=float(film_sag(shell, service, stiffness).max()),
        spacing=spacing,
        spacing_edge=spacing_edge,
        demand=pull * spacing,
        demand_edge=edge * spacing_edge,
        holds=each,
        tested=holds is not None,
    )


def _spacing(holds: float, pull: float, most: float) -> float:
    """Return the distance of fixings, m, that each `holds` (N) under a `pull` of film (N/m)."""
    if pull * most <= holds:
        return most
    return max(math.floor(holds / pull / STEP + 1e-9) * STEP, CLAMP_LENGTH)
