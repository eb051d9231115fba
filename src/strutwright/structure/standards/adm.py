"""Aluminum Design Manual, specification part: round tubes.

The buckling constants are printed in ksi; here in Pa (2250 ksi = 15513 MPa). Artificially aged
tempers (T5, T6 and on), no welds.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

import numpy as np

from strutwright.bounds import one_of, within
from strutwright.catalogue import Source
from strutwright.values import Floats

__all__ = [
    "FACTORS",
    "SOURCES",
    "B_c",
    "C_c",
    "D_c",
    "F_c",
    "design",
    "utilisation",
]

FACTORS: Final[Mapping[str, tuple[float, float]]] = MappingProxyType(
    {"yield": (0.90, 1.65), "buckling": (0.90, 1.65), "rupture": (0.75, 1.95)}
)
"""Limit state -> phi, Omega."""
_KAPPA: Final = 15513.2e6
"""2250 ksi in Pa."""

SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        name: Source("Aluminum Design Manual", 2015, clause, "recalled")
        for name, clause in {
            "FACTORS": "D.1, E.1",
            "B_c": "Table B.4.2",
            "C_c": "Table B.4.2",
            "D_c": "Table B.4.2",
            "F_c": "E.2",
            "design": "B.3.2",
            "utilisation": "H.1",
        }.items()
    }
)


def B_c(F_cy: float) -> float:
    """Return the intercept B_c = F_cy (1 + sqrt(F_cy/2250 ksi)), Pa."""
    yielding = float(within("compressive yield", F_cy, 10e6, 700e6, "Pa"))
    return float(yielding * (1 + np.sqrt(yielding / _KAPPA)))


def D_c(F_cy: float, E: float) -> float:
    """Return the slope D_c = (B_c/10) sqrt(B_c/E), Pa."""
    top = B_c(F_cy)
    return float(top / 10 * np.sqrt(top / E))


def C_c(F_cy: float, E: float) -> float:
    """Return the slenderness C_c = 0.41 B_c/D_c from which buckling is elastic."""
    return 0.41 * B_c(F_cy) / D_c(F_cy, E)


def F_c(slenderness: Floats | float, F_cy: float, E: float) -> Floats:
    """Return the nominal member buckling stress, Pa, at most F_cy, E.2.

    0.85 (B_c - D_c lambda) below C_c, 0.85 pi^2 E/lambda^2 above.
    """
    slender = within("slenderness", slenderness, 1e-9, 1000)
    inelastic = 0.85 * (B_c(F_cy) - D_c(F_cy, E) * slender)
    elastic = 0.85 * np.pi**2 * E / np.square(slender)
    return np.minimum(np.where(slender < C_c(F_cy, E), inelastic, elastic), F_cy)


def design(
    R_n: Floats | float, limit_state: str, format: Literal["factored", "allowable"]
) -> Floats:
    """Return phi R_n (factored) or R_n/Omega (allowable)."""
    phi, omega = FACTORS[one_of("limit state", limit_state, FACTORS)]
    one_of("format", format, ("factored", "allowable"))
    nominal = np.asarray(R_n, dtype=np.float64)
    return phi * nominal if format == "factored" else nominal / omega


def utilisation(N: Floats, M: Floats, N_c: Floats | float, M_c: float) -> Floats:
    """Return N/N_c + M/M_c, the linear sum of H.1; moments second order, both axes resultant."""
    return np.abs(N) / N_c + np.abs(M) / M_c
