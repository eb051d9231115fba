"""EN 1991-1-4:2005, recommended values (no national annex): wind.

Symbols as printed: v_b, c_r, I_v, q_p, c_pe. A national annex may change the basic velocity map,
terrain, air density and coefficients: ask for it at the site.
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
    "C_F_BAR",
    "C_PI",
    "RHO",
    "SOURCES",
    "TERRAIN",
    "WIND_BASIS",
    "c_e",
    "c_pe_area",
    "c_pe_vault",
    "c_pe_vault_along",
    "c_pe_wall",
    "c_pi_dominant",
    "c_prob",
    "c_s_c_d",
    "q_p",
    "v_b",
]

WIND_BASIS: Final = "10 min mean"
"""Averaging time of the fundamental basic wind velocity, 4.2(1)."""
RHO: Final = 1.25
"""Density of air, kg/m3, 4.5(1) note 2."""
TERRAIN: Final[Mapping[str, tuple[float, float]]] = MappingProxyType(
    {"0": (0.003, 1.0), "I": (0.01, 1.0), "II": (0.05, 2.0), "III": (0.3, 5.0), "IV": (1.0, 10.0)}
)
"""Terrain category -> z_0, z_min in m, Table 4.1."""
C_PI: Final = (0.2, -0.3)
"""Internal pressure where the openings are not known: the worse of the two, 7.2.9(6) note 2."""
C_F_BAR: Final = 1.2
"""Force coefficient of a round bar in subcritical flow, 7.9."""

_FINE = "as in the finesoftware help and a worked printout (scribd 538539973)"
_VAULT = "7.2.8, Fig. 7.11, as CNR-DT 207/2008 Fig. G.16 tabulated by pisanoingegneria.it"
SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "C_F_BAR": Source("EN 1991-1-4", 2005, "7.9", "recalled"),
        "C_PI": Source("EN 1991-1-4", 2005, "7.2.9(6) note 2", "recalled"),
        "RHO": Source("EN 1991-1-4", 2005, f"4.5(1) note 2, {_FINE}", "read"),
        "TERRAIN": Source("EN 1991-1-4", 2005, "Table 4.1, as in eurocodepy", "read"),
        "WIND_BASIS": Source("EN 1991-1-4", 2005, "4.2(1)", "recalled"),
        "c_e": Source("EN 1991-1-4", 2005, f"4.3 to 4.5, {_FINE}", "read"),
        "c_pe_area": Source("EN 1991-1-4", 2005, "7.2.1, Fig. 7.2", "recalled"),
        "c_pe_vault": Source("EN 1991-1-4", 2005, f"{_VAULT} (A read; B and C recalled)"),
        "c_pe_vault_along": Source("EN 1991-1-4", 2005, "Table 7.4b, 45 degrees", "recalled"),
        "c_pe_wall": Source("EN 1991-1-4", 2005, "Table 7.1", "recalled"),
        "c_pi_dominant": Source("EN 1991-1-4", 2005, "7.2.9(5)", "recalled"),
        "c_prob": Source("EN 1991-1-4", 2005, "eq. 4.2, as in JRC bridge examples 2012", "read"),
        "c_s_c_d": Source("EN 1991-1-4", 2005, "6.2(1)a", "read"),
        "q_p": Source("EN 1991-1-4", 2005, f"eq. 4.8, {_FINE}", "read"),
        "v_b": Source("EN 1991-1-4", 2005, "eq. 4.1", "recalled"),
    }
)

# Fig. 7.11, zone A at h/d >= 0.5: the two branches.
_SUCTION: Final = (np.array([0.05, 0.1, 0.2, 0.3]), np.array([-0.95, -1.2, -1.2, -0.3]))
_PRESSURE: Final = (np.array([0.2, 0.5]), np.array([0.0, 0.8]))


def c_prob(p: float, K: float = 0.2, n: float = 0.5) -> float:
    """Return the probability factor of eq. 4.2 for an annual probability of exceedance `p`.

    c_prob = ((1 - K ln(-ln(1 - p)))/(1 - K ln(-ln 0.98)))^n; p = 1 / return period in years.
    """
    within("annual probability", p, 1e-6, 0.9)
    ratio = (1 - K * np.log(-np.log(1 - p))) / (1 - K * np.log(-np.log(0.98)))
    return float(ratio**n)


def v_b(v_b0: float, c_dir: float = 1.0, c_season: float = 1.0, *, c_prob: float = 1.0) -> float:
    """Return the basic wind velocity v_b = c_dir c_season c_prob v_b0, m/s, eq. 4.1."""
    return c_dir * c_season * c_prob * float(within("basic wind velocity", v_b0, 0, 100, "m/s"))


def q_p(
    z: Floats | float, v_b: float, terrain: str, *, c_o: float = 1.0, rho: float = RHO
) -> Floats:
    """Return the peak velocity pressure, Pa, eq. 4.8: q_p = (1 + 7 I_v) rho v_m^2 / 2.

    v_m = c_r c_o v_b with c_r = k_r ln(z/z_0), k_r = 0.19 (z_0/0.05)^0.07 and
    I_v = 1/(c_o ln(z/z_0)); below z_min the value at z_min.

    Parameters
    ----------
    z : float or array, m
        Height above ground, to 200 m.
    v_b : float, m/s
        Basic wind velocity, 10 min mean.
    terrain : str
        ``0``, ``I`` to ``IV``.
    c_o : float
        Orography factor.
    rho : float, kg/m3
        Density of air.
    """
    z_0, z_min = TERRAIN[one_of("terrain category", terrain, TERRAIN)]
    height = np.maximum(within("height", z, 0, 200, "m"), z_min)
    within("basic wind velocity", v_b, 0, 100, "m/s")
    within("orography factor", c_o, 0.5, 3)
    within("air density", rho, 0.5, 2, "kg/m3")
    log: Floats = np.log(height / z_0)
    v_m = 0.19 * float((z_0 / 0.05) ** 0.07) * log * c_o * v_b
    return (1 + 7 / (c_o * log)) * 0.5 * rho * np.square(v_m)


def c_e(z: Floats | float, terrain: str, c_o: float = 1.0) -> Floats:
    """Return the exposure factor c_e = q_p / (rho v_b^2 / 2), 4.5."""
    return q_p(z, 1.0, terrain, c_o=c_o) / (0.5 * RHO)


def c_s_c_d(h: float) -> float:
    """Return the structural factor: 1 below a height of 15 m, 6.2(1)a; higher is refused."""
    if float(within("height", h, 0, unit="m")) >= 15:
        raise InputError(
            "standard-scope",
            f"height {h:.4g} m; the structural factor is known as 1 below 15 m",
            "EN 1991-1-4, 6.2(1)a",
            "work out c_s c_d after 6.3 with an engineer",
        )
    return 1.0


def c_pe_area(c_pe_1: Floats | float, c_pe_10: Floats | float, A: float) -> Floats:
    """Return c_pe for the loaded area `A` in m2: between 1 and 10 m2 by its logarithm, 7.2.1."""
    share = float(np.clip(np.log10(within("loaded area", A, 1e-9, unit="m2")), 0, 1))
    one, ten = np.asarray(c_pe_1, dtype=np.float64), np.asarray(c_pe_10, dtype=np.float64)
    return one + (ten - one) * share


def c_pe_vault(f_over_d: float, h_over_d: float) -> Floats:
    """Return c_pe,10 of a vaulted roof, wind normal to its axis, 7.2.8, Fig. 7.11.

    Parameters
    ----------
    f_over_d : float
        Rise over span, 0.05 to 0.5; flatter is a flat roof, steeper is not in the figure.
    h_over_d : float
        Height of the springing over span; between 0 and 0.5 interpolated.

    Returns
    -------
    (n, 3) array
        Zones A (windward quarter), B (middle half), C (leeward quarter); two rows where A has
        both a suction and a pressure (h/d > 0, 0.2 <= f/d <= 0.3), else one.
    """
    if not 0.05 - 1e-9 <= f_over_d <= 0.5 + 1e-9:
        raise InputError(
            "standard-scope",
            f"rise over span {f_over_d:.4g}, not in 0.05 to 0.5",
            "EN 1991-1-4, Fig. 7.11",
            "change the rise, or have an engineer give the coefficients",
        )
    within("h/d", h_over_d, 0, 20)
    on_ground, share = 1.6 * f_over_d, min(h_over_d / 0.5, 1.0)
    branches = []
    if h_over_d == 0:
        branches.append(on_ground)
    else:
        if f_over_d <= 0.3:
            branches.append(float(np.interp(f_over_d, *_SUCTION)))
        if f_over_d >= 0.2:
            branches.append(float(np.interp(f_over_d, *_PRESSURE)))
        branches = [on_ground + share * (value - on_ground) for value in branches]
    return np.array([[a, -0.7 - f_over_d, -0.4] for a in branches])


def c_pe_vault_along(distance: Floats | float, e: float) -> Floats:
    """Return c_pe,10 of a vault with wind along its axis.

    7.2.8 gives none. Taken here: the duopitch roof of 45 degrees with wind along the ridge,
    Table 7.4b: -1.4 to e/10, -0.9 to e/2, -0.5 beyond (our choice of the nearest case).

    Parameters
    ----------
    distance : float or array, m
        From the windward end.
    e : float, m
        The lesser of the width and twice the height.
    """
    far = within("distance", distance, -1e-6, unit="m") / within("e", e, 1e-9, unit="m")
    return np.select([far <= 0.1, far <= 0.5], [-1.4, -0.9], default=-0.5)


def c_pe_wall(h_over_d: float) -> tuple[float, float]:
    """Return c_pe,10 of the windward (D) and leeward (E) walls, Table 7.1, interpolated."""
    ratio = float(within("h/d", h_over_d, 0, 20))
    windward = float(np.interp(ratio, [0.25, 1], [0.7, 0.8]))
    leeward = float(np.interp(ratio, [0.25, 1, 5], [-0.3, -0.5, -0.7]))
    return windward, leeward


def c_pi_dominant(c_pe: float, ratio: float) -> float:
    """Return the internal pressure coefficient with a dominant opening, 7.2.9(5).

    Parameters
    ----------
    c_pe : float
        External coefficient at the opening.
    ratio : float
        Area of the opening over that of all others: 0.75 c_pe at 2, 0.90 c_pe from 3 on.
    """
    within("ratio of openings", ratio, 2)
    return c_pe * float(np.interp(ratio, [2, 3], [0.75, 0.90]))
