"""ASCE 7-16: wind, snow and load combinations of this edition alone.

K_d stands in the velocity pressure (26.10-1); snow carries the importance factor I_s. A ground
snow load or a wind speed from the maps of another edition does not belong here.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import numpy as np

from strutwright.bounds import one_of, within
from strutwright.catalogue import Source
from strutwright.loads.standards.asce7_shared import LEAST_HEIGHT
from strutwright.values import Floats

__all__ = [
    "COMBINATIONS_ASD",
    "COMBINATIONS_LRFD",
    "C_T",
    "I_S",
    "SOURCES",
    "TERRAIN",
    "WIND_BASIS",
    "K_z",
    "gamma_snow",
    "p",
    "p_f",
    "p_m",
    "q_z",
]

WIND_BASIS: Final = "3 s gust"
"""Averaging time of the basic wind speed, 26.5."""
TERRAIN: Final[Mapping[str, tuple[float, float]]] = MappingProxyType(
    {"B": (7.0, 365.76), "C": (9.5, 274.32), "D": (11.5, 213.36)}
)
"""Exposure -> alpha, z_g in m, Table 26.11-1."""
I_S: Final[Mapping[str, float]] = MappingProxyType({"I": 0.8, "II": 1.0, "III": 1.1, "IV": 1.2})
"""Snow importance factor by risk category, Table 1.5-2."""
C_T: Final[Mapping[str, float]] = MappingProxyType(
    {
        "heated": 1.0,
        "just above freezing": 1.1,
        "unheated": 1.2,
        "below freezing": 1.3,
        "continuously heated greenhouse": 0.85,
    }
)
"""Thermal factor, Table 7.3-2. A kit cannot promise heat: unheated is the default of a design."""

# Factor by action; "companion" is the lesser one. Roof live and snow never act together.
COMBINATIONS_LRFD: Final[Mapping[str, Mapping[str, float]]] = MappingProxyType(
    {
        "1.4D": {"dead": 1.4},
        "1.2D+1.6L+0.5S": {"dead": 1.2, "live": 1.6, "snow": 0.5},
        "1.2D+1.6S+L": {"dead": 1.2, "snow": 1.6, "live": 1.0},
        "1.2D+1.6S+0.5W": {"dead": 1.2, "snow": 1.6, "wind": 0.5},
        "1.2D+1.0W+L+0.5S": {"dead": 1.2, "wind": 1.0, "live": 1.0, "snow": 0.5},
        "0.9D+1.0W": {"dead": 0.9, "wind": 1.0},
    }
)
COMBINATIONS_ASD: Final[Mapping[str, Mapping[str, float]]] = MappingProxyType(
    {
        "D": {"dead": 1.0},
        "D+L": {"dead": 1.0, "live": 1.0},
        "D+S": {"dead": 1.0, "snow": 1.0},
        "D+0.75L+0.75S": {"dead": 1.0, "live": 0.75, "snow": 0.75},
        "D+0.6W": {"dead": 1.0, "wind": 0.6},
        "D+0.75L+0.45W+0.75S": {"dead": 1.0, "live": 0.75, "wind": 0.45, "snow": 0.75},
        "0.6D+0.6W": {"dead": 0.6, "wind": 0.6},
    }
)

_XC = "as in the xcfem/xc repository, ASCE7-16 wind and snow modules and their tests"
SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "COMBINATIONS_ASD": Source("ASCE 7-16", 2016, "2.4.1", "recalled"),
        "COMBINATIONS_LRFD": Source("ASCE 7-16", 2016, "2.3.1", "recalled"),
        "C_T": Source("ASCE 7-16", 2016, f"Table 7.3-2, {_XC}", "read"),
        "I_S": Source("ASCE 7-16", 2016, f"Table 1.5-2, {_XC}", "read"),
        "TERRAIN": Source("ASCE 7-16", 2016, "Table 26.11-1 (C read, B and D recalled)"),
        "WIND_BASIS": Source("ASCE 7-16", 2016, "26.5.1", "recalled"),
        "K_z": Source("ASCE 7-16", 2016, f"Table 26.10-1, note 1, {_XC}", "read"),
        "gamma_snow": Source("ASCE 7-16", 2016, "eq. 7.7-1", "recalled"),
        "p": Source("ASCE 7-16", 2016, "eq. 27.3-1", "recalled"),
        "p_f": Source("ASCE 7-16", 2016, f"eq. 7.3-1, {_XC}", "read"),
        "p_m": Source("ASCE 7-16", 2016, "7.3.4", "recalled"),
        "q_z": Source("ASCE 7-16", 2016, f"eq. 26.10-1, {_XC}", "read"),
    }
)


def K_z(z: Floats | float, exposure: str) -> Floats:
    """Return K_z = 2.01 (max(z, 15 ft)/z_g)^(2/alpha), Table 26.10-1 note 1.

    Parameters
    ----------
    z : float or array, m
        Height above ground.
    exposure : str
        ``B``, ``C`` or ``D``.
    """
    alpha, z_g = TERRAIN[one_of("exposure", exposure, TERRAIN)]
    height = np.maximum(within("height", z, 0, z_g, "m"), LEAST_HEIGHT)
    return 2.01 * np.float_power(height / z_g, 2 / alpha)


def q_z(V: float, K_z: Floats | float, K_zt: float, K_d: float, K_e: float) -> Floats:
    """Return the velocity pressure q_z = 0.613 K_z K_zt K_d K_e V^2, Pa, eq. 26.10-1.

    Parameters
    ----------
    V : float, m/s
        Basic wind speed, 3 s gust.
    K_z, K_zt, K_d, K_e : float
        Exposure, topography, directionality (once, here), ground elevation.
    """
    within("basic wind speed", V, 0, 150, "m/s")
    within("K_d", K_d, 0.5, 1.0)
    within("K_zt", K_zt, 1, 10)
    return 0.613 * np.asarray(K_z, dtype=np.float64) * K_zt * K_d * K_e * V**2


def p(
    q: Floats | float, G: float, C_p: Floats | float, q_i: Floats | float, GC_pi: float
) -> Floats:
    """Return the pressure p = q G C_p - q_i (GC_pi), Pa, positive onto the surface, eq. 27.3-1."""
    outside = np.asarray(q, dtype=np.float64) * np.asarray(C_p, dtype=np.float64)
    return G * outside - GC_pi * np.asarray(q_i, dtype=np.float64)


def p_f(p_g: float, C_e: float, C_t: float, I_s: float) -> float:
    """Return the flat roof snow p_f = 0.7 C_e C_t I_s p_g, in the unit of `p_g`, eq. 7.3-1."""
    within("ground snow", p_g, 0, 50e3, "Pa")
    within("C_e", C_e, 0.5, 1.5)
    within("C_t", C_t, 0.8, 1.4)
    within("I_s", I_s, 0.8, 1.2)
    return 0.7 * C_e * C_t * I_s * p_g


def p_m(p_g: float, I_s: float) -> float:
    """Return the least snow of a low roof, Pa, 7.3.4: I_s p_g, at most 0.96 kPa I_s.

    For curved roofs whose chord from eave to crown is flatter than 10 degrees.
    """
    return I_s * min(float(within("ground snow", p_g, 0, 50e3, "Pa")), 958.0)


def gamma_snow(p_g: float) -> float:
    """Return the weight of drifted snow, N/m3, eq. 7.7-1: 0.426 p_g + 2200, at most 4700."""
    return min(0.426 * float(within("ground snow", p_g, 0, 50e3, "Pa")) + 2200.0, 4700.0)
