"""ASCE 7-22: wind, snow and load combinations of this edition alone.

K_d stands in the pressure equations (27.3-1), no longer in the velocity pressure: it is applied
once, in `p`. The snow maps are at strength level for each risk category: there is no importance
factor, and combinations take 1.0 S and 0.7 S. Nothing of 7-16 is to be mixed in.
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
    "P_M_MAX",
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
    {"B": (7.5, 1000.0), "C": (9.8, 750.0), "D": (11.5, 590.0)}
)
"""Exposure -> alpha, z_g in m, Table 26.11-1."""
C_T: Final[Mapping[str, float]] = MappingProxyType(
    {
        "heated": 1.0,
        "just above freezing": 1.1,
        "unheated": 1.2,
        "below freezing": 1.3,
        "continuously heated greenhouse": 0.85,
    }
)
"""Thermal factor, Tables 7.3-2 and 7.3-3. A kit cannot promise heat: unheated is the default."""
P_M_MAX: Final[Mapping[str, float]] = MappingProxyType(
    {"I": 1197.0, "II": 1436.0, "III": 1676.0, "IV": 1915.0}
)
"""Upper limit of the least snow load by risk category, Pa (25, 30, 35, 40 psf), Table 7.3-4."""

COMBINATIONS_LRFD: Final[Mapping[str, Mapping[str, float]]] = MappingProxyType(
    {
        "1.4D": {"dead": 1.4},
        "1.2D+1.6L+0.3S": {"dead": 1.2, "live": 1.6, "snow": 0.3},
        "1.2D+1.0S+L": {"dead": 1.2, "snow": 1.0, "live": 1.0},
        "1.2D+1.0S+0.5W": {"dead": 1.2, "snow": 1.0, "wind": 0.5},
        "1.2D+1.0W+L+0.3S": {"dead": 1.2, "wind": 1.0, "live": 1.0, "snow": 0.3},
        "0.9D+1.0W": {"dead": 0.9, "wind": 1.0},
    }
)
COMBINATIONS_ASD: Final[Mapping[str, Mapping[str, float]]] = MappingProxyType(
    {
        "D": {"dead": 1.0},
        "D+L": {"dead": 1.0, "live": 1.0},
        "D+0.7S": {"dead": 1.0, "snow": 0.7},
        "D+0.75L+0.525S": {"dead": 1.0, "live": 0.75, "snow": 0.525},
        "D+0.6W": {"dead": 1.0, "wind": 0.6},
        "D+0.75L+0.45W+0.525S": {"dead": 1.0, "live": 0.75, "wind": 0.45, "snow": 0.525},
        "0.6D+0.6W": {"dead": 0.6, "wind": 0.6},
    }
)

_XC = "as in the xcfem/xc repository, ASCE7 wind module and its tests"
SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "COMBINATIONS_ASD": Source("ASCE 7-22", 2022, "2.4.1", "recalled"),
        "COMBINATIONS_LRFD": Source("ASCE 7-22", 2022, "2.3.1", "recalled"),
        "C_T": Source("ASCE 7-22", 2022, "Tables 7.3-2 and 7.3-3", "recalled"),
        "P_M_MAX": Source("ASCE 7-22", 2022, "Table 7.3-4", "recalled"),
        "TERRAIN": Source("ASCE 7-22", 2022, "Table 26.11-1 (C and D read, B recalled)"),
        "WIND_BASIS": Source("ASCE 7-22", 2022, "26.5.1", "recalled"),
        "K_z": Source("ASCE 7-22", 2022, f"Table 26.10-1, note 1, {_XC}", "read"),
        "gamma_snow": Source("ASCE 7-22", 2022, "eq. 7.7-1", "recalled"),
        "p": Source("ASCE 7-22", 2022, "eq. 27.3-1", "recalled"),
        "p_f": Source("ASCE 7-22", 2022, "eq. 7.3-1", "recalled"),
        "p_m": Source("ASCE 7-22", 2022, "7.3.3", "recalled"),
        "q_z": Source("ASCE 7-22", 2022, "eq. 26.10-1", "recalled"),
    }
)


def K_z(z: Floats | float, exposure: str) -> Floats:
    """Return K_z = 2.41 (max(z, 15 ft)/z_g)^(2/alpha), Table 26.10-1 note 1.

    Parameters
    ----------
    z : float or array, m
        Height above ground.
    exposure : str
        ``B``, ``C`` or ``D``.
    """
    alpha, z_g = TERRAIN[one_of("exposure", exposure, TERRAIN)]
    height = np.maximum(within("height", z, 0, z_g, "m"), LEAST_HEIGHT)
    return 2.41 * np.float_power(height / z_g, 2 / alpha)


def q_z(V: float, K_z: Floats | float, K_zt: float, K_e: float) -> Floats:
    """Return the velocity pressure q_z = 0.613 K_z K_zt K_e V^2, Pa, eq. 26.10-1: without K_d.

    Parameters
    ----------
    V : float, m/s
        Basic wind speed, 3 s gust.
    K_z, K_zt, K_e : float
        Exposure, topography, ground elevation.
    """
    within("basic wind speed", V, 0, 150, "m/s")
    within("K_zt", K_zt, 1, 10)
    return 0.613 * np.asarray(K_z, dtype=np.float64) * K_zt * K_e * V**2


def p(
    q: Floats | float,
    K_d: float,
    G: float,
    C_p: Floats | float,
    q_i: Floats | float,
    *,
    GC_pi: float,
) -> Floats:
    """Return p = q K_d G C_p - q_i K_d (GC_pi), Pa, positive onto the surface, eq. 27.3-1."""
    within("K_d", K_d, 0.5, 1.0)
    outside = np.asarray(q, dtype=np.float64) * np.asarray(C_p, dtype=np.float64)
    return K_d * (G * outside - GC_pi * np.asarray(q_i, dtype=np.float64))


def p_f(p_g: float, C_e: float, C_t: float) -> float:
    """Return the flat roof snow p_f = 0.7 C_e C_t p_g, in the unit of `p_g`, eq. 7.3-1.

    `p_g` is the strength-level load of the risk category: no importance factor.
    """
    within("ground snow", p_g, 0, 50e3, "Pa")
    within("C_e", C_e, 0.5, 1.5)
    within("C_t", C_t, 0.8, 1.4)
    return 0.7 * C_e * C_t * p_g


def p_m(p_g: float, risk: str) -> float:
    """Return the least snow of a low roof, Pa, 7.3.3: p_g, at most the limit of Table 7.3-4."""
    limit = P_M_MAX[one_of("risk category", risk, P_M_MAX)]
    return min(float(within("ground snow", p_g, 0, 50e3, "Pa")), limit)


def gamma_snow(p_g: float) -> float:
    """Return the weight of drifted snow, N/m3, eq. 7.7-1: 0.426 p_g + 2200, at most 4700."""
    return min(0.426 * float(within("ground snow", p_g, 0, 50e3, "Pa")) + 2200.0, 4700.0)
