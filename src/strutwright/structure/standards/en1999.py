"""EN 1999-1-1:2007: aluminium tubes.

Stresses in Pa, sizes in m, forces in N. gamma_M1 = 1.1, gamma_M2 = 1.25 (recommended).
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
    "BUCKLING",
    "F_O",
    "SOURCES",
    "M_Rd",
    "N_Rd",
    "N_b_Rd",
    "chi",
    "lambda_bar",
    "tube_class",
    "utilisation",
]

BUCKLING: Final[Mapping[str, tuple[float, float]]] = MappingProxyType(
    {"A": (0.20, 0.10), "B": (0.32, 0.0)}
)
"""Buckling class -> alpha, lambda_0, Table 6.6. Class A: heat-treated tempers such as T6."""
F_O: Final[Mapping[str, tuple[float, float]]] = MappingProxyType(
    {"6063-T6": (160e6, 195e6), "6061-T6": (240e6, 260e6), "6060-T66": (150e6, 195e6)}
)
"""Lower of the table's 0.2 % proof strengths and the ultimate strength, Pa, Table 3.2b."""

SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "BUCKLING": Source("EN 1999-1-1", 2007, "Table 6.6", "recalled"),
        "F_O": Source("EN 1999-1-1", 2007, "Table 3.2b", "recalled"),
        "M_Rd": Source("EN 1999-1-1", 2007, "6.2.5, elastic", "recalled"),
        "N_Rd": Source("EN 1999-1-1", 2007, "6.2.3", "recalled"),
        "N_b_Rd": Source("EN 1999-1-1", 2007, "6.3.1.1", "recalled"),
        "chi": Source("EN 1999-1-1", 2007, "6.3.1.2", "recalled"),
        "lambda_bar": Source("EN 1999-1-1", 2007, "6.3.1.2", "recalled"),
        "tube_class": Source("EN 1999-1-1", 2007, "6.1.4, Table 6.2", "recalled"),
        "utilisation": Source("conservative linear sum for 6.3.3.1", 2007, "", "judgement"),
    }
)


def tube_class(D: float, t: float, f_o: float, *, heat_treated: bool = True) -> int:
    """Return the class of a round tube from beta = 3 sqrt(D/t), 6.1.4.

    Limits beta/epsilon, epsilon = sqrt(250 MPa/f_o), parts without welds: heat-treated 11, 16,
    22; else 9, 13, 18.
    """
    within("outside diameter", D, 1e-4, 3, "m")
    within("wall", t, 1e-5, D / 2, "m")
    epsilon = np.sqrt(250e6 / within("proof strength", f_o, 20e6, 600e6, "Pa"))
    limits = (11, 16, 22) if heat_treated else (9, 13, 18)
    beta = 3 * np.sqrt(D / t)
    return 1 + sum(bool(beta > limit * epsilon) for limit in limits)


def lambda_bar(A: float, f_o: float, N_cr: Floats | float) -> Floats:
    """Return the slenderness sqrt(A f_o/N_cr), 6.3.1.2, of a class 1 to 3 tube."""
    return np.sqrt(A * f_o / within("N_cr", N_cr, 1e-9, unit="N"))


def chi(lambda_bar: Floats | float, buckling_class: str = "A") -> Floats:
    """Return the reduction for flexural buckling, 6.3.1.2: class ``A`` or ``B``, at most 1."""
    alpha, lambda_0 = BUCKLING[one_of("buckling class", buckling_class, BUCKLING)]
    slender = within("slenderness", lambda_bar, 0, 50)
    phi = 0.5 * (1 + alpha * (slender - lambda_0) + np.square(slender))
    root = np.sqrt(np.maximum(np.square(phi) - np.square(slender), 0))
    return np.where(slender <= lambda_0, 1.0, np.minimum(1 / (phi + root), 1.0))


def N_Rd(A: float, f_o: float, gamma_M1: float = 1.1) -> float:
    """Return the axial resistance of the gross section, N, 6.2.3."""
    return float(within("area", A, 0, 1, "m2")) * f_o / gamma_M1


def N_b_Rd(
    chi: Floats | float, A: float, f_o: float, *, kappa: float = 1.0, gamma_M1: float = 1.1
) -> Floats:
    """Return the buckling resistance kappa chi A f_o/gamma_M1, N, 6.3.1.1.

    `kappa` < 1 for welds: the heat-affected zone keeps 0.5 to 0.6 of the strength.
    """
    within("weld factor kappa", kappa, 0.1, 1)
    return kappa * np.asarray(chi, dtype=np.float64) * A * f_o / gamma_M1


def M_Rd(W_el: float, f_o: float, gamma_M1: float = 1.1) -> float:
    """Return the elastic bending resistance W_el f_o/gamma_M1, Nm, of class 1 to 3, 6.2.5."""
    return float(within("modulus", W_el, 0, 1, "m3")) * f_o / gamma_M1


def utilisation(N: Floats, M: Floats, N_Rd: Floats | float, M_Rd: float) -> Floats:
    """Return N/N_Rd + M/M_Rd: the linear sum, on the safe side of the powers of 6.3.3.1.

    In compression `N_Rd` is the buckling resistance and `M` the second-order moment.
    """
    return np.abs(N) / N_Rd + np.abs(M) / M_Rd
