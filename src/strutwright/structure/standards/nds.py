"""NDS 2018: sawn lumber by allowable stress.

Stresses in Pa, sizes in m.
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
    "C_D",
    "C_M",
    "C_P",
    "SLENDEREST",
    "SOURCES",
    "F_cE",
    "utilisation_compression",
    "utilisation_tension",
]

C_D: Final[Mapping[str, float]] = MappingProxyType(
    {"permanent": 0.9, "long": 1.0, "season": 1.15, "week": 1.25, "gust": 1.6}
)
"""Load duration factor, Table 2.3.2."""
C_M: Final[Mapping[str, float]] = MappingProxyType(
    {"F_b": 0.85, "F_t": 1.0, "F_c": 0.8, "E": 0.9, "E_min": 0.9}
)
"""Wet service factor, dimension lumber, NDS supplement Table 4A."""
SLENDEREST: Final = 50.0
"""Largest l_e/d of a column, 3.7.1.4; 75 while it is being erected."""
_C: Final[Mapping[str, float]] = MappingProxyType({"sawn": 0.8, "glulam": 0.9, "pole": 0.85})

SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "C_D": Source("NDS", 2018, "Table 2.3.2", "recalled"),
        "C_M": Source("NDS supplement", 2018, "Table 4A", "recalled"),
        "SLENDEREST": Source("NDS", 2018, "3.7.1.4, as in callout.app", "read"),
        "C_P": Source("NDS", 2018, "eq. 3.7-1, as in callout.app (poles recalled)", "read"),
        "F_cE": Source("NDS", 2018, "3.7.1.5, as in callout.app", "read"),
        "utilisation_compression": Source("NDS", 2018, "eq. 3.9-3", "recalled"),
        "utilisation_tension": Source("NDS", 2018, "eqs 3.9-1, 3.9-2", "recalled"),
    }
)


def F_cE(le_d: Floats | float, E_min: float) -> Floats:
    """Return the critical buckling stress 0.822 E_min'/(l_e/d)^2, Pa, 3.7.1.5.

    Parameters
    ----------
    le_d : float or array
        Slenderness l_e/d; above `SLENDEREST` it is a check of its own that fails.
    E_min : float, Pa
        Adjusted modulus for stability.
    """
    return 0.822 * E_min / np.square(within("l_e/d", le_d, 1e-9, 1e4))


def C_P(F_cE: Floats | float, F_c_star: float, kind: str = "sawn") -> Floats:
    """Return the column stability factor, eq. 3.7-1.

    Parameters
    ----------
    F_cE : float or array, Pa
        Critical buckling stress.
    F_c_star : float, Pa
        Compression value with all factors but C_P.
    kind : str
        ``sawn``, ``glulam`` or ``pole``.
    """
    c = _C[one_of("kind of column", kind, _C)]
    ratio = within("F_cE", F_cE, 0, unit="Pa") / within("F_c*", F_c_star, 1, unit="Pa")
    half = (1 + ratio) / (2 * c)
    return half - np.sqrt(np.maximum(np.square(half) - ratio / c, 0))


def utilisation_compression(
    f_c: Floats,
    bending: tuple[Floats, Floats],
    F_c: Floats | float,
    F_b: tuple[float, float],
    F_cE: tuple[Floats | float, Floats | float],
    *,
    F_bE: float,
) -> Floats:
    """Return the interaction of eq. 3.9-3: compression with bending about both axes.

    (f_c/F_c')^2 + f_b1/(F_b1'(1 - f_c/F_cE1)) + f_b2/(F_b2'(1 - f_c/F_cE2 - (f_b1/F_bE)^2)).
    Infinite once a bracket is used up.

    Parameters
    ----------
    f_c, bending : arrays, Pa
        Compressive stress; bending stress about the strong and the weak axis.
    F_c, F_b, F_cE : Pa
        Adjusted values; critical buckling stress in the plane of each bending.
    F_bE : float, Pa
        Critical lateral buckling stress 1.20 E_min'/R_B^2; infinite for round and square.
    """
    total = np.square(np.abs(f_c) / F_c)
    twist = (np.zeros_like(total), np.square(np.abs(bending[0]) / F_bE))
    for f_b, allowed, critical, lost in zip(bending, F_b, F_cE, twist, strict=True):
        rest = 1 - np.abs(f_c) / critical - lost
        with np.errstate(divide="ignore", invalid="ignore"):
            term = np.where(rest > 0, np.abs(f_b) / (allowed * rest), np.inf)
        total = total + term
    return np.asarray(total, dtype=np.float64)


def utilisation_tension(
    f_t: Floats, bending: tuple[Floats, Floats], F_t: float, F_b: tuple[float, float]
) -> Floats:
    """Return f_t/F_t' + f_b1/F_b1* + f_b2/F_b2*, eq. 3.9-1 for both axes."""
    both = np.abs(bending[0]) / F_b[0] + np.abs(bending[1]) / F_b[1]
    return np.abs(f_t) / F_t + both
