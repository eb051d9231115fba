"""AISC 360-16/-22: round tubes (HSS, pipe, conduit) and snug-tight bolts.

Nominal strengths R_n in N and Nm; `design` gives phi R_n (factored) or R_n/Omega (allowable).
Stresses in Pa, sizes in m.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

import numpy as np

from strutwright.bounds import one_of, within
from strutwright.catalogue import Source
from strutwright.errors import InputError
from strutwright.values import Floats

__all__ = [
    "FACTORS",
    "SOURCES",
    "F_cr",
    "F_e",
    "M_n",
    "P_n",
    "R_n_bearing",
    "T_n",
    "design",
    "is_slender",
    "utilisation",
]

FACTORS: Final[Mapping[str, tuple[float, float]]] = MappingProxyType(
    {
        "compression": (0.90, 1.67),
        "tension yield": (0.90, 1.67),
        "tension rupture": (0.75, 2.00),
        "bending": (0.90, 1.67),
        "bolt": (0.75, 2.00),
    }
)
"""Limit state -> phi, Omega."""

SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "FACTORS": Source("AISC 360", 2016, "D2, E1, F1, J3", "recalled"),
        "F_cr": Source("AISC 360", 2016, "eqs E3-2, E3-3", "recalled"),
        "F_e": Source("AISC 360", 2016, "eq. E3-4", "recalled"),
        "M_n": Source("AISC 360", 2016, "F8", "recalled"),
        "P_n": Source("AISC 360", 2016, "eq. E3-1", "recalled"),
        "R_n_bearing": Source("AISC 360", 2016, "J3.10", "recalled"),
        "T_n": Source("AISC 360", 2016, "D2", "recalled"),
        "design": Source("AISC 360", 2016, "B3.1, B3.2", "recalled"),
        "is_slender": Source("AISC 360", 2016, "Table B4.1a, case 9", "recalled"),
        "utilisation": Source("AISC 360", 2016, "eqs H1-1a, H1-1b", "recalled"),
    }
)


def F_e(KL_r: Floats | float, E: float) -> Floats:
    """Return the elastic buckling stress pi^2 E/(KL/r)^2, Pa, eq. E3-4."""
    return np.pi**2 * E / np.square(within("KL/r", KL_r, 1e-9, 1000))


def F_cr(KL_r: Floats | float, F_y: float, E: float) -> Floats:
    """Return the critical stress, Pa, eqs E3-2 and E3-3.

    0.658^(F_y/F_e) F_y while F_y/F_e <= 2.25, else 0.877 F_e.
    """
    elastic = F_e(KL_r, E)
    ratio = within("yield strength", F_y, 1e6, 1e9, "Pa") / elastic
    power = np.float_power(0.658, np.minimum(ratio, 2.25))
    return np.where(ratio <= 2.25, power * F_y, 0.877 * elastic)


def is_slender(D: float, t: float, F_y: float, E: float) -> bool:
    """Return True when a round tube is slender in compression, D/t > 0.11 E/F_y, Table B4.1a."""
    within("outside diameter", D, 1e-4, 3, "m")
    within("wall", t, 1e-5, D / 2, "m")
    return D / t > 0.11 * E / F_y


def P_n(F_cr: Floats | float, A_g: float) -> Floats:
    """Return the nominal compressive strength F_cr A_g, N, of a non-slender tube, eq. E3-1."""
    return np.asarray(F_cr, dtype=np.float64) * within("area", A_g, 0, 1, "m2")


def T_n(A_g: float, A_e: float, F_y: float, F_u: float) -> tuple[float, float]:
    """Return the nominal tensile strengths (yield F_y A_g, rupture F_u A_e), N, D2."""
    within("net area", A_e, 0, A_g, "m2")
    return F_y * A_g, F_u * A_e


def M_n(D: float, t: float, F_y: float, E: float) -> float:
    """Return the nominal bending strength of a round tube, Nm, F8.

    Compact (D/t <= 0.07 E/F_y): Z F_y; to 0.31 E/F_y: (0.021 E/(D/t) + F_y) S; above:
    0.33 E/(D/t) S. Tubes above D/t = 0.45 E/F_y are not covered.
    """
    within("outside diameter", D, 1e-4, 3, "m")
    within("wall", t, 1e-5, D / 2, "m")
    ratio, inner = D / t, D - 2 * t
    plastic = (D**3 - inner**3) / 6
    elastic = np.pi * (D**4 - inner**4) / (32 * D)
    if ratio > 0.45 * E / F_y:
        raise InputError(
            "standard-scope", f"D/t = {ratio:.4g} above 0.45 E/F_y", "AISC 360, F8", "thicker wall"
        )
    if ratio <= 0.07 * E / F_y:
        return plastic * F_y
    stress = 0.021 * E / ratio + F_y if ratio <= 0.31 * E / F_y else 0.33 * E / ratio
    return float(min(stress * elastic, plastic * F_y))


def R_n_bearing(d: float, l_c: float, t: float, F_u: float) -> float:
    """Return the bearing and tear-out strength min(1.2 l_c t F_u, 2.4 d t F_u), N, J3.10."""
    within("clear distance", l_c, 0, 1, "m")
    return min(1.2 * l_c * t * F_u, 2.4 * d * t * F_u)


def design(
    R_n: Floats | float, limit_state: str, format: Literal["factored", "allowable"]
) -> Floats:
    """Return phi R_n (factored) or R_n/Omega (allowable), B3."""
    phi, omega = FACTORS[one_of("limit state", limit_state, FACTORS)]
    one_of("format", format, ("factored", "allowable"))
    nominal = np.asarray(R_n, dtype=np.float64)
    return phi * nominal if format == "factored" else nominal / omega


def utilisation(P_r: Floats, M_r: Floats, P_c: Floats | float, M_c: float) -> Floats:
    """Return the interaction of eqs H1-1a and H1-1b; `M_r` is the resultant of both axes.

    P_r/P_c >= 0.2: P_r/P_c + 8/9 M_r/M_c; below: P_r/(2 P_c) + M_r/M_c. Moments are second order.
    """
    axial, bending = np.abs(P_r) / P_c, np.abs(M_r) / M_c
    return np.where(axial >= 0.2, axial + 8 / 9 * bending, axial / 2 + bending)
