"""EN 1993-1-8:2005: bolts, and the flattened tube end that one bolt holds.

Forces in N, sizes in m, stresses in Pa; gamma_M2 = 1.25 (recommended).
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
    "ALPHA_V",
    "A_S",
    "F_UB",
    "SOURCES",
    "F_b_Rd",
    "F_t_Rd",
    "F_v_Rd",
    "N_u_Rd",
    "flat_modulus",
    "flat_width",
    "kappa_a",
    "kappa_b",
    "stiffness_class",
    "utilisation_bolt",
]

ALPHA_V: Final[Mapping[str, float]] = MappingProxyType(
    {"4.6": 0.6, "4.8": 0.5, "5.6": 0.6, "5.8": 0.5, "8.8": 0.6, "10.9": 0.5}
)
"""Shear factor by bolt grade, threads in the shear plane, Table 3.4."""
F_UB: Final[Mapping[str, float]] = MappingProxyType(
    {"4.6": 400e6, "4.8": 400e6, "5.6": 500e6, "5.8": 500e6, "8.8": 800e6, "10.9": 1000e6}
)
"""Ultimate strength by bolt grade, Pa, Table 3.1."""
A_S: Final[Mapping[str, float]] = MappingProxyType(
    {"M6": 20.1e-6, "M8": 36.6e-6, "M10": 58.0e-6, "M12": 84.3e-6, "M16": 157e-6}
)
"""Tensile stress area, m2, ISO 898-1."""

SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "ALPHA_V": Source("EN 1993-1-8", 2005, "Table 3.4", "recalled"),
        "A_S": Source("ISO 898-1", 2013, "Table 4", "recalled"),
        "F_UB": Source("EN 1993-1-8", 2005, "Table 3.1", "recalled"),
        "F_b_Rd": Source("EN 1993-1-8", 2005, "Table 3.4", "recalled"),
        "F_t_Rd": Source("EN 1993-1-8", 2005, "Table 3.4", "recalled"),
        "F_v_Rd": Source("EN 1993-1-8", 2005, "Table 3.4", "recalled"),
        "N_u_Rd": Source("EN 1993-1-1", 2005, "6.2.3(2)b", "recalled"),
        "flat_modulus": Source("flat of two walls", None, "W = b (2 t)^2/6", "computed"),
        "flat_width": Source("flattened tube", None, "b = pi (D - t)/2 + t", "computed"),
        "kappa_a": Source("doi 10.1177/0956059920931019", 2020, "abstract", "read"),
        "kappa_b": Source("doi 10.1177/0956059920931019", 2020, "abstract", "read"),
        "stiffness_class": Source("EN 1993-1-8", 2005, "5.2.2.5, braced", "recalled"),
        "utilisation_bolt": Source("EN 1993-1-8", 2005, "Table 3.4", "recalled"),
    }
)


def F_v_Rd(A_s: float, grade: str, planes: int = 1, gamma_M2: float = 1.25) -> float:
    """Return the shear resistance of a bolt, alpha_v f_ub A_s/gamma_M2 per plane, Table 3.4."""
    alpha_v = ALPHA_V[one_of("bolt grade", grade, ALPHA_V)]
    within("stress area", A_s, 1e-6, 1e-2, "m2")
    within("shear planes", planes, 1, 2)
    return planes * alpha_v * F_UB[grade] * A_s / gamma_M2


def F_t_Rd(A_s: float, grade: str, gamma_M2: float = 1.25) -> float:
    """Return the tension resistance of a bolt, 0.9 f_ub A_s/gamma_M2, Table 3.4."""
    one_of("bolt grade", grade, F_UB)
    return 0.9 * F_UB[grade] * float(within("stress area", A_s, 1e-6, 1e-2, "m2")) / gamma_M2


def F_b_Rd(
    d: float,
    d_0: float,
    t: float,
    edge: tuple[float, float],
    strengths: tuple[float, float],
    *,
    gamma_M2: float = 1.25,
) -> float:
    """Return the bearing resistance k_1 alpha_b f_u d t/gamma_M2 of an end bolt, Table 3.4.

    Parameters
    ----------
    d, d_0, t : float, m
        Bolt; hole; thickness (a flattened tube has two walls).
    edge : (e_1, e_2), m
        Distances of the hole's centre to the end and to the side.
    strengths : (f_u, f_ub), Pa
        Of the plate and of the bolt.
    """
    within("bolt", d, 1e-3, 0.1, "m")
    within("hole", d_0, d, 2 * d, "m")
    within("thickness", t, 1e-4, 0.1, "m")
    e_1, e_2 = (float(within("edge distance", e, d_0 / 2, 1, "m")) for e in edge)
    f_u, f_ub = strengths
    alpha_b = min(e_1 / (3 * d_0), f_ub / f_u, 1.0)
    k_1 = max(min(2.8 * e_2 / d_0 - 1.7, 2.5), 0.0)
    return k_1 * alpha_b * f_u * d * t / gamma_M2


def N_u_Rd(A_net: float, f_u: float, gamma_M2: float = 1.25) -> float:
    """Return the net section resistance 0.9 A_net f_u/gamma_M2, N, EN 1993-1-1 6.2.3."""
    return 0.9 * float(within("net area", A_net, 0, 1, "m2")) * f_u / gamma_M2


def utilisation_bolt(F_v: Floats, F_t: Floats, F_v_Rd: float, F_t_Rd: float) -> Floats:
    """Return the worse of F_v/F_v_Rd + F_t/(1.4 F_t_Rd) and F_t/F_t_Rd, Table 3.4."""
    tension = np.maximum(np.asarray(F_t, dtype=np.float64), 0)
    return np.maximum(np.abs(F_v) / F_v_Rd + tension / (1.4 * F_t_Rd), tension / F_t_Rd)


def flat_width(D: float, t: float) -> float:
    """Return the width of a tube pressed flat, m: half its mean girth and a wall."""
    within("wall", t, 1e-5, D / 2, "m")
    return float(np.pi * (D - t) / 2 + t)


def flat_modulus(D: float, t: float) -> float:
    """Return the section modulus of the flat across its two walls, m3: b (2 t)^2/6."""
    return flat_width(D, t) * (2 * t) ** 2 / 6


def kappa_b(k: Floats | float, L: float, EI: float) -> Floats:
    """Return the relative rotational stiffness k L/(E I) of an end: above 30 it acts rigid."""
    return within("rotational stiffness", k, 0, unit="Nm/rad") * L / EI


def kappa_a(k_a: Floats | float, L: float, EA: float) -> Floats:
    """Return the relative axial stiffness k_a L/(E A) of an end: above 30 nothing is lost."""
    return within("axial stiffness", k_a, 0, unit="N/m") * L / EA


def stiffness_class(S_j: float, L: float, EI: float) -> str:
    """Return ``rigid`` from 8 E I/L, ``pinned`` to 0.5 E I/L, else ``semi-rigid``, 5.2.2.5."""
    ratio = float(within("rotational stiffness", S_j, 0, unit="Nm/rad")) * L / EI
    if ratio >= 8:
        return "rigid"
    return "pinned" if ratio <= 0.5 else "semi-rigid"
