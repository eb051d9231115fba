"""EN 1995-1-1:2004+A1: solid timber struts and their nailed straps.

Stresses in Pa, sizes in m, forces in N. The air inside a greenhouse is service class 3.
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
    "CLASS_OF_DURATION",
    "GAMMA_M",
    "K_DEF",
    "K_MOD",
    "SOURCES",
    "F_v_Rk_thick",
    "F_v_Rk_thin",
    "M_y_Rk",
    "f_d",
    "f_h_k",
    "k_c",
    "k_h",
    "lambda_rel",
    "utilisation_compression",
    "utilisation_tension",
]

_CLASSES: Final = ("permanent", "long", "season", "week", "gust")
K_MOD: Final[Mapping[int, Mapping[str, float]]] = MappingProxyType(
    {
        1: MappingProxyType(dict(zip(_CLASSES, (0.6, 0.7, 0.8, 0.9, 1.1), strict=True))),
        2: MappingProxyType(dict(zip(_CLASSES, (0.6, 0.7, 0.8, 0.9, 1.1), strict=True))),
        3: MappingProxyType(dict(zip(_CLASSES, (0.5, 0.55, 0.65, 0.7, 0.9), strict=True))),
    }
)
"""k_mod of solid timber by service class and duration of the load, Table 3.1."""
CLASS_OF_DURATION: Final[Mapping[str, str]] = MappingProxyType(
    {
        "permanent": "permanent",
        "long": "long-term",
        "season": "medium-term",
        "week": "short-term",
        "gust": "instantaneous",
    }
)
"""Our durations and the load-duration classes of Table 2.1."""
K_DEF: Final[Mapping[int, float]] = MappingProxyType({1: 0.6, 2: 0.8, 3: 2.0})
"""Creep factor by service class, Table 3.2."""
GAMMA_M: Final = 1.3
"""Partial factor of solid timber and of connections, Table 2.3."""

_READ = "as in eurocodepy data/eurocodes.json"
SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "CLASS_OF_DURATION": Source("EN 1995-1-1", 2004, "Table 2.1", "recalled"),
        "GAMMA_M": Source("EN 1995-1-1", 2004, f"Table 2.3, {_READ}", "read"),
        "K_DEF": Source("EN 1995-1-1", 2004, f"Table 3.2, {_READ}", "read"),
        "K_MOD": Source("EN 1995-1-1", 2004, f"Table 3.1, {_READ}", "read"),
        "F_v_Rk_thin": Source("EN 1995-1-1", 2004, "eq. 8.9", "recalled"),
        "F_v_Rk_thick": Source("EN 1995-1-1", 2004, "eq. 8.10", "recalled"),
        "M_y_Rk": Source("EN 1995-1-1", 2004, "eq. 8.14", "recalled"),
        "f_d": Source("EN 1995-1-1", 2004, f"eq. 2.14, {_READ}", "read"),
        "f_h_k": Source("EN 1995-1-1", 2004, "eq. 8.15", "recalled"),
        "k_c": Source("EN 1995-1-1", 2004, "eqs 6.25 to 6.29", "recalled"),
        "k_h": Source("EN 1995-1-1", 2004, f"eq. 3.1, {_READ}", "read"),
        "lambda_rel": Source("EN 1995-1-1", 2004, "eq. 6.21", "recalled"),
        "utilisation_compression": Source("EN 1995-1-1", 2004, "eqs 6.19 to 6.24", "recalled"),
        "utilisation_tension": Source("EN 1995-1-1", 2004, "eqs 6.17 and 6.18", "recalled"),
    }
)
K_M: Final = 0.7
"""Sharing of bending about two axes, rectangular section, 6.1.6(2)."""
BETA_C: Final = 0.2
"""Straightness factor of solid timber, eq. 6.29."""


def f_d(f_k: float, duration: str, service_class: int, gamma_M: float = GAMMA_M) -> float:
    """Return the design strength k_mod f_k/gamma_M, eq. 2.14.

    Parameters
    ----------
    f_k : float, Pa
        Characteristic strength.
    duration : str
        Of the shortest load of the combination: ``permanent``, ``long``, ``season``, ``week``,
        ``gust``.
    service_class : int
        1, 2 or 3.
    """
    one_of("service class", str(service_class), map(str, K_MOD))
    one_of("duration", duration, _CLASSES)
    return K_MOD[service_class][duration] * f_k / gamma_M


def k_h(h: float) -> float:
    """Return the size factor (0.15 m/h)^0.2, 1 to 1.3, eq. 3.1; `h` in m: depth or width."""
    return float(np.clip((0.15 / within("depth", h, 1e-3, 3, "m")) ** 0.2, 1.0, 1.3))


def lambda_rel(slenderness: Floats | float, f_c0k: float, E_005: float) -> Floats:
    """Return the relative slenderness (lambda/pi) sqrt(f_c0k/E_005), eq. 6.21."""
    root = float(np.sqrt(f_c0k / E_005))
    return within("slenderness", slenderness, 0, 1000) / np.pi * root


def k_c(lambda_rel: Floats | float, beta_c: float = BETA_C) -> Floats:
    """Return the buckling factor, eqs 6.25 to 6.29; 1 to a relative slenderness of 0.3."""
    slender = within("relative slenderness", lambda_rel, 0, 50)
    k = 0.5 * (1 + beta_c * (slender - 0.3) + np.square(slender))
    root = np.sqrt(np.maximum(np.square(k) - np.square(slender), 0))
    return np.where(slender <= 0.3, 1.0, np.minimum(1 / (k + root), 1.0))


def _two_axes(bending: tuple[Floats, Floats], f_md: tuple[float, float]) -> tuple[Floats, Floats]:
    y, z = (np.abs(sigma) / f for sigma, f in zip(bending, f_md, strict=True))
    return y + K_M * z, K_M * y + z


def utilisation_tension(
    sigma_t: Floats, bending: tuple[Floats, Floats], f_td: float, f_md: tuple[float, float]
) -> Floats:
    """Return the worse of eqs 6.17 and 6.18: tension with bending about y and z.

    Parameters
    ----------
    sigma_t : array, Pa
        Axial tensile stress, magnitude.
    bending : two arrays, Pa
        Bending stress about y and about z.
    f_td, f_md : Pa
        Design strengths; bending about y and z (they differ by k_h).
    """
    first, second = _two_axes(bending, f_md)
    return np.abs(sigma_t) / f_td + np.maximum(first, second)


def utilisation_compression(
    sigma_c: Floats,
    bending: tuple[Floats, Floats],
    f_c0d: float,
    f_md: tuple[float, float],
    k_c: tuple[Floats | float, Floats | float],
) -> Floats:
    """Return the worst of eqs 6.19, 6.20, 6.23, 6.24: compression with bending.

    Parameters
    ----------
    sigma_c : array, Pa
        Axial compressive stress, magnitude.
    bending : two arrays, Pa
        Bending stress about y and about z.
    f_c0d, f_md : Pa
        Design strengths.
    k_c : two numbers or arrays
        Buckling factors about y and z.
    """
    first, second = _two_axes(bending, f_md)
    axial: Floats = np.abs(sigma_c) / f_c0d
    buckled: Floats = np.maximum(axial / k_c[0] + first, axial / k_c[1] + second)
    stocky: Floats = np.square(axial) + np.maximum(first, second)
    return np.maximum(buckled, stocky)


def f_h_k(d: float, rho_k: float) -> float:
    """Return the embedding strength of a nail without predrilling, Pa, eq. 8.15.

    0.082 rho_k d^-0.3 in MPa with d in mm.
    """
    d_mm = 1e3 * float(within("nail", d, 1e-3, 8e-3, "m"))
    return float(0.082e6 * within("density", rho_k, 100, 1200, "kg/m3") * d_mm**-0.3)


def M_y_Rk(d: float, f_u: float = 600e6) -> float:
    """Return the yield moment of a round nail, Nm, eq. 8.14: 0.3 f_u d^2.6 in N, mm, MPa."""
    d_mm = 1e3 * float(within("nail", d, 1e-3, 8e-3, "m"))
    return float(0.3 * f_u / 1e6 * d_mm**2.6 * 1e-3)


def F_v_Rk_thin(f_h: float, t_1: float, d: float, M_y: float) -> float:
    """Return the characteristic capacity of a nail through a thin strap, N, eq. 8.9.

    min(0.4 f_h t_1 d; 1.15 sqrt(2 M_y f_h d)), without rope effect; the plate is thin to d/2.
    """
    within("penetration", t_1, 1e-3, 1, "m")
    return min(0.4 * f_h * t_1 * d, 1.15 * float(np.sqrt(2 * M_y * f_h * d)))


def F_v_Rk_thick(f_h: float, t_1: float, d: float, M_y: float) -> float:
    """Return the characteristic capacity of a nail through a thick plate, N, eq. 8.10.

    Without rope effect; the plate is thick from d on.
    """
    within("penetration", t_1, 1e-3, 1, "m")
    hinge = f_h * t_1 * d * (np.sqrt(2 + 4 * M_y / (f_h * d * t_1**2)) - 1)
    return float(min(f_h * t_1 * d, hinge, 2.3 * np.sqrt(M_y * f_h * d)))
