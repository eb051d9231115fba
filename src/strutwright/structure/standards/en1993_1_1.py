"""EN 1993-1-1:2005: round tubes in tension, compression and bending.

Symbols as printed. Forces are magnitudes in N and Nm, sizes in m, stresses in Pa. Recommended
partial factors gamma_M0 = gamma_M1 = 1.0; a national annex may set others.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import numpy as np

from strutwright.bounds import one_of, within
from strutwright.catalogue import Source
from strutwright.errors import InputError
from strutwright.values import Floats

__all__ = [
    "ALPHA",
    "SOURCES",
    "M_N_Rd",
    "M_c_Rd",
    "N_b_Rd",
    "N_cr",
    "N_t_Rd",
    "chi",
    "chs_class",
    "epsilon",
    "k_yy",
    "lambda_bar",
    "utilisation_linear",
    "utilisation_member",
]

ALPHA: Final[Mapping[str, float]] = MappingProxyType(
    {"a0": 0.13, "a": 0.21, "b": 0.34, "c": 0.49, "d": 0.76}
)
"""Imperfection factor by buckling curve, Table 6.1. Hot-finished tube a, cold-formed c."""

_EXAMPLE = "as in Gardner and Nethercot, Designers' Guide, ex. 6.7"
SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "ALPHA": Source("EN 1993-1-1", 2005, f"Table 6.1, {_EXAMPLE} (a read, others recalled)"),
        "M_N_Rd": Source("EN 1993-1-1", 2005, "6.2.9.1, round tube", "recalled"),
        "M_c_Rd": Source("EN 1993-1-1", 2005, "6.2.5", "recalled"),
        "N_b_Rd": Source("EN 1993-1-1", 2005, f"6.3.1.1, {_EXAMPLE}", "read"),
        "N_cr": Source("Euler column", None, "pi^2 E I/L_cr^2", "computed"),
        "N_t_Rd": Source("EN 1993-1-1", 2005, "6.2.3", "recalled"),
        "chi": Source("EN 1993-1-1", 2005, f"6.3.1.2, {_EXAMPLE}", "read"),
        "chs_class": Source("EN 1993-1-1", 2005, "Table 5.2, sheet 3", "recalled"),
        "epsilon": Source("EN 1993-1-1", 2005, "Table 5.2", "recalled"),
        "k_yy": Source("EN 1993-1-1", 2005, "Annex B, Table B.1", "recalled"),
        "lambda_bar": Source("EN 1993-1-1", 2005, f"6.3.1.2, {_EXAMPLE}", "read"),
        "utilisation_linear": Source("EN 1993-1-1", 2005, "eq. 6.2", "recalled"),
        "utilisation_member": Source("EN 1993-1-1", 2005, "eq. 6.61, Annex B", "recalled"),
    }
)


def epsilon(f_y: float) -> float:
    """Return epsilon = sqrt(235 MPa/f_y), Table 5.2."""
    return float(np.sqrt(235e6 / within("yield strength", f_y, 50e6, 1000e6, "Pa")))


def chs_class(D: float, t: float, f_y: float) -> int:
    """Return the class of a round tube: D/t to 50, 70, 90 epsilon^2 are 1, 2, 3; else 4.

    Parameters
    ----------
    D, t : float, m
        Outside diameter and wall.
    f_y : float, Pa
        Yield strength.
    """
    within("outside diameter", D, 1e-4, 3, "m")
    within("wall", t, 1e-5, D / 2, "m")
    ratio, square = D / t, epsilon(f_y) ** 2
    return 1 + sum(ratio > limit * square * (1 + 1e-12) for limit in (50, 70, 90))


def N_t_Rd(A: float, f_y: float, gamma_M0: float = 1.0) -> float:
    """Return the tension (or squash) resistance A f_y/gamma_M0, N, 6.2.3 and 6.2.4."""
    return float(within("area", A, 0, 1, "m2")) * f_y / gamma_M0


def N_cr(E: float, inertia: float, L_cr: Floats | float) -> Floats:
    """Return the Euler load pi^2 E I/L_cr^2, N; `inertia` in m4, `L_cr` in m."""
    length = within("buckling length", L_cr, 1e-6, 200, "m")
    return np.pi**2 * E * inertia / np.square(length)


def lambda_bar(A: float, f_y: float, N_cr: Floats | float) -> Floats:
    """Return the slenderness sqrt(A f_y/N_cr), 6.3.1.2."""
    return np.sqrt(A * f_y / within("N_cr", N_cr, 1e-9, unit="N"))


def chi(lambda_bar: Floats | float, curve: str) -> Floats:
    """Return the reduction for flexural buckling, 6.3.1.2, at most 1.

    Phi = 0.5 (1 + alpha (lambda - 0.2) + lambda^2), chi = 1/(Phi + sqrt(Phi^2 - lambda^2)).

    Parameters
    ----------
    lambda_bar : float or array
        Slenderness.
    curve : str
        ``a0``, ``a``, ``b``, ``c`` or ``d``.
    """
    alpha = ALPHA[one_of("buckling curve", curve, ALPHA)]
    slender = within("slenderness", lambda_bar, 0, 50)
    phi = 0.5 * (1 + alpha * (slender - 0.2) + np.square(slender))
    root = np.sqrt(np.maximum(np.square(phi) - np.square(slender), 0))
    return np.where(slender <= 0.2, 1.0, np.minimum(1 / (phi + root), 1.0))


def N_b_Rd(chi: Floats | float, A: float, f_y: float, gamma_M1: float = 1.0) -> Floats:
    """Return the buckling resistance chi A f_y/gamma_M1, N, of a class 1 to 3 tube, 6.3.1.1."""
    return np.asarray(chi, dtype=np.float64) * A * f_y / gamma_M1


def M_c_Rd(
    W_el: float, W_pl: float, f_y: float, section_class: int, gamma_M0: float = 1.0
) -> float:
    """Return the bending resistance, Nm: plastic in class 1 and 2, elastic in 3, 6.2.5.

    Raises
    ------
    InputError
        Class 4: such a tube is a shell after EN 1993-1-6.
    """
    if section_class >= 4:
        raise InputError(
            "standard-scope",
            "a tube of class 4 (D/t above 90 epsilon^2)",
            "EN 1993-1-1, Table 5.2",
            "take a thicker wall",
        )
    return (W_pl if section_class <= 2 else W_el) * f_y / gamma_M0


def M_N_Rd(M_pl_Rd: float, n: Floats | float) -> Floats:
    """Return the plastic moment left beside an axial force, M_pl (1 - n^1.7), 6.2.9.1.

    Parameters
    ----------
    M_pl_Rd : float, Nm
        Plastic moment.
    n : float or array
        |N_Ed|/N_pl_Rd; from 1 on nothing is left.
    """
    share: Floats = np.minimum(np.abs(np.asarray(n, dtype=np.float64)), 1.0)
    return M_pl_Rd * (1 - np.float_power(share, 1.7))


def utilisation_linear(N: Floats, M: Floats, N_Rd: float, M_Rd: float) -> Floats:
    """Return N/N_Rd + M/M_Rd, the conservative sum of eq. 6.2; M is the resultant of both axes."""
    return np.abs(N) / N_Rd + np.abs(M) / M_Rd


def k_yy(
    lambda_bar: Floats | float, n_b: Floats | float, C_m: float = 1.0, section_class: int = 1
) -> Floats:
    """Return the interaction factor of Annex B, Table B.1, for a round tube.

    Class 1, 2: C_m (1 + (lambda - 0.2) n) up to lambda = 1; class 3: C_m (1 + 0.6 lambda n).

    Parameters
    ----------
    lambda_bar : float or array
        Slenderness.
    n_b : float or array
        N_Ed/N_b_Rd.
    C_m : float
        Equivalent moment factor; 1.0 is safe for every moment diagram.
    section_class : int
        1 to 3.
    """
    slender = np.clip(np.asarray(lambda_bar, dtype=np.float64), 0.2, 1.0)
    growth = slender - 0.2 if section_class <= 2 else 0.6 * slender
    return C_m * (1 + growth * np.asarray(n_b, dtype=np.float64))


def utilisation_member(
    N: Floats, M: Floats, N_b_Rd: Floats | float, M_Rd: float, k: Floats | float
) -> Floats:
    """Return N/N_b_Rd + k M/M_Rd of a compressed and bent tube, eq. 6.61 with both axes resultant.

    Parameters
    ----------
    N, M : array, N, Nm
        Magnitude of the compression; resultant first-order moment along the strut.
    N_b_Rd, M_Rd : N, Nm
        Resistances.
    k : float or array
        From `k_yy`; 1.8 is never too little.
    """
    return np.abs(N) / N_b_Rd + np.asarray(k, dtype=np.float64) * np.abs(M) / M_Rd
