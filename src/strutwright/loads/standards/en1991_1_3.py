"""EN 1991-1-3:2003, recommended values (no national annex): snow on roofs.

The shape coefficients are named by the shape of the roof, not by their index, since the number
of the cylinder's coefficient moved between the 2003 text, its amendment and the second
generation.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import numpy as np

from strutwright.bounds import within
from strutwright.catalogue import Source
from strutwright.values import Floats

__all__ = [
    "C_E",
    "SOURCES",
    "STEEPEST",
    "mu_cylinder",
    "mu_cylinder_drifted",
    "mu_cylinder_peak",
    "mu_pitched",
    "mu_pitched_drift",
    "s",
]

C_E: Final[Mapping[str, float]] = MappingProxyType(
    {"windswept": 0.8, "normal": 1.0, "sheltered": 1.2}
)
"""Exposure coefficient, Table 5.1."""
STEEPEST: Final = np.pi / 3
"""Slope above which a cylindrical roof carries no snow, rad, 5.3.5."""

SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "C_E": Source("EN 1991-1-3", 2003, "Table 5.1", "recalled"),
        "STEEPEST": Source("EN 1991-1-3", 2003, "5.3.5(1)", "recalled"),
        "mu_cylinder": Source("EN 1991-1-3", 2003, "5.3.5, case (i)", "recalled"),
        "mu_cylinder_drifted": Source("EN 1991-1-3", 2003, "5.3.5, Fig. 5.6, case (ii)"),
        "mu_cylinder_peak": Source("EN 1991-1-3", 2003, "eqs 5.4 and 5.5", "recalled"),
        "mu_pitched": Source("EN 1991-1-3", 2003, "Table 5.2", "recalled"),
        "mu_pitched_drift": Source("EN 1991-1-3", 2003, "Table 5.2", "recalled"),
        "s": Source("EN 1991-1-3", 2003, "eq. 5.1", "recalled"),
    }
)


def s(mu: Floats | float, s_k: float, C_e: float = 1.0, C_t: float = 1.0) -> Floats:
    """Return the snow load on the roof s = mu C_e C_t s_k, in the unit of `s_k`, eq. 5.1.

    Parameters
    ----------
    mu : float or array
        Shape coefficient.
    s_k : float, Pa
        Characteristic snow load on the ground.
    C_e, C_t : float
        Exposure; thermal coefficient: 1 unless a national rule allows less.
    """
    within("snow load on the ground", s_k, 0, 50e3, "Pa")
    within("exposure coefficient", C_e, 0.5, 1.5)
    within("thermal coefficient", C_t, 0.1, 1.2)
    return within("shape coefficient", mu, 0, 10) * C_e * C_t * s_k


def mu_pitched(alpha: Floats | float) -> Floats:
    """Return mu_1: 0.8 to 30 degrees, falling to 0 at 60 degrees; `alpha` in rad, Table 5.2."""
    slope = np.degrees(within("slope", alpha, 0, np.pi, "rad"))
    return np.clip(0.8 * (60 - slope) / 30, 0, 0.8)


def mu_pitched_drift(alpha: Floats | float) -> Floats:
    """Return mu_2 = 0.8 + 0.8 alpha/30 to 30 degrees, 1.6 to 60 degrees; rad, Table 5.2."""
    slope = np.degrees(within("slope", alpha, 0, np.pi / 3, "rad"))
    return 0.8 + 0.8 * np.minimum(slope, 30) / 30


def mu_cylinder(beta: Floats | float) -> Floats:
    """Return the undrifted coefficient of a cylindrical roof: 0.8 to a slope of 60 degrees.

    Parameters
    ----------
    beta : float or array, rad
        Local slope.
    """
    slope = within("slope", beta, 0, np.pi, "rad")
    return np.where(slope <= STEEPEST + 1e-12, 0.8, 0.0)


def mu_cylinder_peak(h_over_b: float) -> float:
    """Return the peak coefficient of drifted snow, min(2.0, 0.2 + 10 h/b), eqs 5.4 and 5.5.

    Parameters
    ----------
    h_over_b : float
        Rise of the roof over its span.
    """
    return min(2.0, 0.2 + 10 * float(within("h/b", h_over_b, 0, 5)))


def mu_cylinder_drifted(x: Floats | float, l_s: float, peak: float) -> Floats:
    """Return the drifted coefficient across a cylindrical roof, 5.3.5 case (ii).

    Two triangles: peak/2 at the quarter point of the windward half (x < 0), `peak` at that of
    the leeward half, nothing at the crown and at the ends of `l_s`.

    Parameters
    ----------
    x : float or array, m
        Plan distance from the crown, positive downwind.
    l_s : float, m
        Width in plan of the part not steeper than 60 degrees.
    peak : float
        From `mu_cylinder_peak`.
    """
    within("l_s", l_s, 1e-9, unit="m")
    within("peak", peak, 0, 10)
    place = within("x", x, unit="m") / l_s
    return np.interp(place, [-0.5, -0.25, 0, 0.25, 0.5], [0, peak / 2, 0, peak, 0], left=0, right=0)
