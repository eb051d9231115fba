"""Loads that no standard gives and that practice or plain mechanics does."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import numpy as np

from strutwright.bounds import within
from strutwright.catalogue import Source
from strutwright.values import Floats

__all__ = [
    "FILM_MASS",
    "FILM_MODULUS",
    "FILM_POISSON",
    "SOURCES",
    "heap_depth",
    "snow_side_pressure",
    "strip_tension",
    "strip_tension_elastic",
]

FILM_MASS: Final = 920.0
"""Density of polyethylene film, kg/m3."""
FILM_MODULUS: Final = 200e6
"""Pa, polyethylene film at room temperature. Source: makers' data sheets, recalled."""
FILM_POISSON: Final = 0.45
"""Poisson's ratio of polyethylene. Source: materials handbooks, recalled."""

SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "FILM_MASS": Source("density of low-density polyethylene", None, "", "computed"),
        "FILM_MODULUS": Source("makers' data sheets of polyethylene film", None, "", "recalled"),
        "FILM_POISSON": Source("materials handbooks, polyethylene", None, "", "recalled"),
        "heap_depth": Source("slid snow as a heap at 45 degrees", None, "", "judgement"),
        "snow_side_pressure": Source("snow as a fluid of its density", None, "", "judgement"),
        "strip_tension": Source("parabolic strip, statics", None, "T = p a^2/(8 s)", "computed"),
        "strip_tension_elastic": Source(
            "parabolic strip that stretches, statics", None, "T^3 = J p^2 a^2/24", "computed"
        ),
    }
)


def snow_side_pressure(z: Floats | float, depth: float, gamma: float) -> Floats:
    """Return the pressure of snow lying against the base, Pa: gamma (depth - z).

    Its sum over the height is gamma depth^2/2 per metre of base.

    Parameters
    ----------
    z : float or array, m
        Height above ground.
    depth : float, m
        Depth of the snow.
    gamma : float, N/m3
        Weight of settled snow, about 3000.
    """
    within("depth of snow", depth, 0, 10, "m")
    within("weight of snow", gamma, 500, 9000, "N/m3")
    return np.maximum(gamma * (depth - within("height", z, unit="m")), 0)


def heap_depth(slid: float, gamma: float) -> float:
    """Return the height of a heap of slid snow, m, with a slope of 45 degrees.

    Parameters
    ----------
    slid : float, N/m
        Weight that slid off per metre of base.
    gamma : float, N/m3
        Weight of settled snow.
    """
    within("slid snow", slid, 0, unit="N/m")
    within("weight of snow", gamma, 500, 9000, "N/m3")
    return float(np.sqrt(2 * slid / gamma))


def strip_tension(p: Floats | float, a: Floats | float, sag: Floats | float) -> Floats:
    """Return the tension T = p a^2/(8 s) of a film strip, N/m.

    Parameters
    ----------
    p : float or array, Pa
        Pressure; its sign does not matter.
    a, sag : float or array, m
        Span and sag.
    """
    span = within("span", a, 0, unit="m")
    return (
        np.abs(np.asarray(p, dtype=np.float64))
        * np.square(span)
        / (8 * within("sag", sag, 1e-9, unit="m"))
    )


def strip_tension_elastic(p: Floats | float, a: Floats | float, J: float) -> Floats:
    """Return the tension of a film strip laid flat without tension, N/m: (J p^2 a^2/24)^(1/3).

    From T = p a^2/(8 s) and the stretch 8 s^2/(3 a^2) = T/J.

    Parameters
    ----------
    p : float or array, Pa
        Pressure.
    a : float or array, m
        Span of the strip.
    J : float, N/m
        Stiffness of the film: modulus times thickness.
    """
    span = within("span", a, 0, unit="m")
    within("stiffness of the film", J, 1, 1e8, "N/m")
    return np.cbrt(J * np.asarray(p) ** 2 * span**2 / 24)
