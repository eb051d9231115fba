"""Closed forms of lattice shells and limits of their movement.

The continuum formulas suit many equal triangles with rigid hubs; they are a second opinion on
the frame analysis, never the check itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import numpy as np

from strutwright.bounds import within
from strutwright.catalogue import Source

__all__ = [
    "IMPERFECTION",
    "LEAST_FACTOR_ELASTIC",
    "LEAST_FACTOR_PLASTIC",
    "SAG_LIMIT",
    "SAG_WARNING",
    "SINGLE_LAYER_SAG",
    "SOURCES",
    "P_snap",
    "coupler_factor",
    "q_jgj",
    "q_linear",
    "slip_sinking",
    "tie_force",
]

SINGLE_LAYER_SAG: Final = 1 / 400
"""Movement of a single-layer reticulated shell over its span, JGJ 7."""
SAG_LIMIT: Final = 1 / 200
"""Movement over span reported against for light shells under film."""
SAG_WARNING: Final = 1 / 150
"""Movement over span at which the cover suffers."""
IMPERFECTION: Final = 1 / 300
"""Amplitude of the first mode over the span, JGJ 7."""
LEAST_FACTOR_ELASTIC: Final = 4.2
"""Least limit load factor on characteristic loads, elastic analysis, JGJ 7."""
LEAST_FACTOR_PLASTIC: Final = 2.0
"""Least limit load factor on characteristic loads, elasto-plastic analysis, JGJ 7."""

_JGJ = "JGJ 7-2010"
SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "IMPERFECTION": Source(_JGJ, 2010, "4.3.3", "recalled"),
        "LEAST_FACTOR_ELASTIC": Source(_JGJ, 2010, "4.3.4", "recalled"),
        "LEAST_FACTOR_PLASTIC": Source(_JGJ, 2010, "4.3.4", "recalled"),
        "SAG_LIMIT": Source("our choice for film shells", None, "", "judgement"),
        "SAG_WARNING": Source("our choice for film shells", None, "", "judgement"),
        "SINGLE_LAYER_SAG": Source(_JGJ, 2010, "3.5.1", "recalled"),
        "P_snap": Source("shallow pin-jointed hub, textbook", None, "", "computed"),
        "coupler_factor": Source("column with one rotational spring", None, "", "computed"),
        "q_jgj": Source(_JGJ, 2010, "4.3.5", "recalled"),
        "q_linear": Source("shell of equal triangles, classical sphere", None, "", "computed"),
        "slip_sinking": Source("geometry of a shallow hub", None, "", "computed"),
        "tie_force": Source("ring in tension, T = H R", None, "", "computed"),
    }
)


def q_linear(E: float, A: float, inertia: float, L: float, R: float) -> float:
    """Return the classical buckling pressure of a lattice sphere, Pa: 4.90 E sqrt(I A)/(L R^2).

    From E_2D = (2/sqrt 3) E A/L and D = (3 sqrt 3/4) E I/L. The perfect shell: real ones lose
    40 to 65 per cent and more.
    """
    within("strut length", L, 1e-6, unit="m")
    within("radius", R, L / 2, unit="m")
    membrane, bending = 2 / np.sqrt(3) * E * A / L, 3 * np.sqrt(3) / 4 * E * inertia / L
    return float(4 * np.sqrt(membrane * bending) / R**2)


def q_jgj(B_e: float, D_e: float, r: float) -> float:
    """Return the allowed standard load 0.25 sqrt(B_e D_e)/r^2, Pa: imperfection and 4.2 inside."""
    within("radius", r, 1e-6, unit="m")
    return float(0.25 * np.sqrt(B_e * D_e) / r**2)


def P_snap(n: int, EA: float, L: float, R: float) -> float:
    """Return the snap-through load of a pinned hub with `n` struts, N: 2/(3 sqrt 3) n EA (h/L)^3.

    h = L^2/(2 R). For tests alone: buckling of the struts comes far earlier in light tube.
    """
    within("struts at the hub", n, 2, 20)
    h = L**2 / (2 * float(within("radius", R, L / 2, unit="m")))
    return float(2 / (3 * np.sqrt(3)) * n * EA * (h / L) ** 3)


def slip_sinking(slip: float, L: float, R: float) -> float:
    """Return how far a hub sinks when each strut loses `slip`, m: L slip/h, h = L^2/(2 R)."""
    return slip * 2 * float(within("radius", R, L / 2, unit="m")) / L


def tie_force(H: float, R: float) -> float:
    """Return the tension of a ring tie under an outward thrust `H` in N/m at radius `R`, N."""
    return H * float(within("radius", R, 0, unit="m"))


def coupler_factor(C: float, beta: float = 0.5) -> float:
    """Return the share of the Euler load that a strut keeps with a rotational coupler in it.

    (k/pi)^2 with k the lowest root of sin k = (k/C) sin(k beta) sin(k (1 - beta)).

    Parameters
    ----------
    C : float
        Rotational stiffness of the coupler times L/(E I); 0 is a hinge and keeps nothing.
    beta : float
        Where the coupler sits, as a share of the length.
    """
    stiffness = float(within("coupler stiffness", C, 0))
    place = float(within("place of the coupler", beta, 0.01, 0.99))
    low, high = 0.0, np.pi
    for _ in range(80):
        k = (low + high) / 2
        bent = stiffness * np.sin(k) - k * np.sin(k * place) * np.sin(k * (1 - place))
        low, high = (k, high) if bent > 0 else (low, k)
    return float((high / np.pi) ** 2)
