"""ISO 22156:2021: bamboo culms by allowable stress. Nothing here is confirmed in print.

The factors for duration with service class and for out-of-straightness are asked for, not
supplied: their numbers could not be confirmed. An engineer decides on every bamboo shell.
Stresses in Pa, sizes in m, forces in N.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import numpy as np

from strutwright.bounds import one_of, within
from strutwright.catalogue import Source
from strutwright.values import Floats

__all__ = [
    "COLUMN_C",
    "C_R",
    "GUADUA",
    "HIGHEST",
    "SOURCES",
    "N_c",
    "allowable",
    "utilisation",
]

C_R: Final[Mapping[str, float]] = MappingProxyType({"low": 0.9, "normal": 1.0, "high": 1.1})
"""Redundancy factor: low for a member whose loss brings the structure down."""
COLUMN_C: Final = 0.8
"""Constant of the interaction of crushing and Euler buckling."""
HIGHEST: Final = 7.0
"""Greatest height within the scope, m (and two storeys)."""
GUADUA: Final[Mapping[str, float]] = MappingProxyType(
    {
        "bending": 15e6,
        "tension": 18e6,
        "compression": 14e6,
        "compression across": 1.4e6,
        "shear": 1.2e6,
        "E mean": 9500e6,
        "E 5%": 7500e6,
        "E min": 4000e6,
    }
)
"""Allowable stresses and moduli of Guadua, Pa, NSR-10."""

SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "COLUMN_C": Source("ISO 22156", 2021, "columns", "recalled"),
        "C_R": Source("ISO 22156", 2021, "redundancy", "recalled"),
        "GUADUA": Source("NSR-10", 2010, "G.12", "recalled"),
        "HIGHEST": Source("ISO 22156", 2021, "scope", "read"),
        "N_c": Source("ISO 22156", 2021, "columns", "recalled"),
        "allowable": Source("ISO 22156", 2021, "allowable stress", "recalled"),
        "utilisation": Source("linear sum", None, "", "judgement"),
    }
)


def allowable(f: float, redundancy: str, *, C_DF: float, C_other: float = 1.0) -> float:
    """Return an allowable stress or capacity with its factors.

    Parameters
    ----------
    f : float
        Basic allowable value.
    redundancy : str
        ``low``, ``normal``, ``high``.
    C_DF : float
        Factor of duration and service class, from the printed standard.
    C_other : float
        Temperature and the like.
    """
    within("C_DF", C_DF, 0.1, 2)
    within("C_other", C_other, 0.1, 2)
    return f * C_R[one_of("redundancy", redundancy, C_R)] * C_DF * C_other


def N_c(P_c: Floats | float, P_e: Floats | float, c: float = COLUMN_C) -> Floats:
    """Return the column capacity from crushing P_c and Euler P_e, N.

    (P_c + P_e)/(2 c) - sqrt(((P_c + P_e)/(2 c))^2 - P_c P_e/c).
    """
    crush, euler = within("P_c", P_c, 0, unit="N"), within("P_e", P_e, 0, unit="N")
    half = (crush + euler) / (2 * float(within("c", c, 0.5, 1)))
    return half - np.sqrt(np.maximum(np.square(half) - crush * euler / c, 0))


def utilisation(N: Floats, M: Floats, N_allow: Floats | float, M_allow: float) -> Floats:
    """Return N/N_allow + M/M_allow; moments second order with the culm's own bow."""
    return np.abs(N) / N_allow + np.abs(M) / M_allow
