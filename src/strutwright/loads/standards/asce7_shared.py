"""Clauses that ASCE 7-16 and 7-22 have in common; each edition's module names those it takes.

Symbols as printed: K_z, K_zt, K_e, C_p, C_s. SI throughout. Positive pressure acts onto the
surface. What differs between the editions (directionality, terrain constants, importance,
combinations) is not here.
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
    "C_E",
    "GC_PI",
    "G_RIGID",
    "K_D",
    "LEAST_HEIGHT",
    "LEAST_SUCTION",
    "SOURCES",
    "C_p_arch",
    "C_p_arch_along",
    "C_s",
    "K_e",
    "K_zt",
    "p_unbalanced",
    "sector_share",
]

LEAST_HEIGHT: Final = 4.572
"""Height below which K_z stays constant, m: 15 ft, which the SI table rounds to 4.6 m."""
G_RIGID: Final = 0.85
"""Gust-effect factor of a rigid structure, 26.11.1."""
K_D: Final[Mapping[str, float]] = MappingProxyType(
    {"main system": 0.85, "arched roof": 0.85, "circular dome": 1.0}
)
"""Directionality factor, Table 26.6-1."""
GC_PI: Final[Mapping[str, float]] = MappingProxyType(
    {"enclosed": 0.18, "partially enclosed": 0.55, "partially open": 0.18, "open": 0.0}
)
"""Internal pressure coefficient, both signs, Table 26.13-1."""
LEAST_SUCTION: Final = -0.18
"""Second value of C_p on flat roofs, Fig. 27.3-1: least suction, with snow or suction inside."""
C_E: Final[Mapping[str, Mapping[str, float]]] = MappingProxyType(
    {
        "B": MappingProxyType({"fully": 0.9, "partially": 1.0, "sheltered": 1.2}),
        "C": MappingProxyType({"fully": 0.9, "partially": 1.0, "sheltered": 1.1}),
        "D": MappingProxyType({"fully": 0.8, "partially": 0.9, "sheltered": 1.0}),
    }
)
"""Snow exposure factor by terrain and exposure of the roof, Table 7.3-1."""

_TITLE = "ASCE 7-16 and 7-22"
_XC = "as in the xcfem/xc repository, ASCE7 wind and snow modules"
SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "C_E": Source(_TITLE, None, f"Table 7.3-1, {_XC}", "read"),
        "GC_PI": Source(_TITLE, None, "Table 26.13-1", "recalled"),
        "G_RIGID": Source(_TITLE, None, "26.11.1", "recalled"),
        "K_D": Source(_TITLE, None, "Table 26.6-1 (circular dome 1.0 read, others recalled)"),
        "LEAST_SUCTION": Source(_TITLE, None, "Fig. 27.3-1", "recalled"),
        "LEAST_HEIGHT": Source(_TITLE, None, f"Table 26.10-1, note 1, {_XC}", "read"),
        "C_p_arch": Source(_TITLE, None, "Fig. 27.3-3", "recalled"),
        "C_p_arch_along": Source(_TITLE, None, "Fig. 27.3-1, wind parallel to the ridge"),
        "C_s": Source(_TITLE, None, "Fig. 7.4-1", "recalled"),
        "K_e": Source(_TITLE, None, f"Table 26.9-1, note 2, {_XC}", "read"),
        "K_zt": Source(_TITLE, None, f"26.8.2, Fig. 26.8-1, {_XC} (B, D recalled)", "recalled"),
        "p_unbalanced": Source(_TITLE, None, "7.6.2 and Fig. 7.4-2", "recalled"),
        "sector_share": Source(_TITLE, None, "7.6.3", "recalled"),
    }
)

# Fig. 26.8-1: K1 at H/Lh = 0.2 to 0.5, exposure C; decay upwards; spread upwind and downwind.
_H_OVER_L: Final = np.array([0.20, 0.25, 0.30, 0.35, 0.40, 0.45, 0.50])
_HILLS: Final[Mapping[str, tuple[tuple[float, ...], float, float, float]]] = MappingProxyType(
    {
        "ridge": ((0.29, 0.36, 0.43, 0.51, 0.58, 0.65, 0.72), 3.0, 1.5, 1.5),
        "escarpment": ((0.17, 0.21, 0.26, 0.30, 0.34, 0.38, 0.43), 2.5, 1.5, 4.0),
        "hill": ((0.21, 0.26, 0.32, 0.37, 0.42, 0.47, 0.53), 4.0, 1.5, 1.5),
    }
)
# Fig. 26.8-1, parameters for speed-up: K1/(H/Lh) by exposure; the table is that of C, rounded.
_K1_SLOPE: Final[Mapping[str, Mapping[str, float]]] = MappingProxyType(
    {
        "ridge": MappingProxyType({"B": 1.30, "C": 1.45, "D": 1.55}),
        "escarpment": MappingProxyType({"B": 0.75, "C": 0.85, "D": 0.95}),
        "hill": MappingProxyType({"B": 0.95, "C": 1.05, "D": 1.15}),
    }
)
# Fig. 27.3-1, wind parallel to the ridge: C_p to h/2, h, 2 h and beyond, at h/L <= 0.5 and >= 1.
_ALONG: Final = ((-0.9, -0.9, -0.5, -0.3), (-1.3, -0.7, -0.7, -0.7))
# Fig. 7.4-1: slope to which C_s stays 1, degrees, by kind of surface and thermal factor.
_FLAT_TO: Final[Mapping[bool, tuple[float, float, float]]] = MappingProxyType(
    {True: (5.0, 10.0, 15.0), False: (30.0, 37.5, 45.0)}
)


def K_e(z_ground: Floats | float) -> Floats:
    """Return the ground elevation factor K_e = exp(-0.000119 z_g), Table 26.9-1 note 2.

    Parameters
    ----------
    z_ground : float or array, m
        Altitude of the site above sea level.
    """
    return np.exp(-0.000119 * within("ground elevation", z_ground, -500, 6000, "m"))


def K_zt(hill: str, H: float, L_h: float, *, x: float, z: float, exposure: str = "C") -> float:
    """Return the topographic factor K_zt = (1 + K1 K2 K3)^2, 26.8.2 and Fig. 26.8-1.

    Parameters
    ----------
    hill : str
        ``ridge``, ``escarpment`` or ``hill`` (axisymmetric).
    H, L_h : float, m
        Height of the hill; distance upwind of the crest to half that height. Above
        H/L_h = 0.5 the figure takes 0.5 for K1 and 2 H for L_h; below 0.2 the factor is 1.
    x, z : float, m
        Distance from the crest, negative upwind; height above ground at the site.
    exposure : str
        ``B``, ``C`` (that of the figure's table) or ``D``.
    """
    table, gamma, upwind, downwind = _HILLS[one_of("hill", hill, _HILLS)]
    within("height of the hill", H, 0, 5000, "m")
    within("half length of the hill", L_h, 1e-9, 50000, "m")
    within("height", z, 0, 600, "m")
    within("distance from the crest", x, unit="m")
    if H / L_h < _H_OVER_L[0]:
        return 1.0
    slopes = _K1_SLOPE[hill]
    share = slopes[one_of("exposure", exposure, slopes)] / slopes["C"]
    K1 = share * float(np.interp(H / L_h, _H_OVER_L, table))
    length = max(L_h, 2 * H)
    mu = downwind if x > 0 else upwind
    K2 = max(0.0, 1 - abs(x) / (mu * length))
    K3 = float(np.exp(-gamma * z / length))
    return float((1 + K1 * K2 * K3) ** 2)


def C_p_arch(r: float, *, from_ground: bool) -> Floats:
    """Return C_p of an arched roof, wind normal to its axis, Fig. 27.3-3.

    Parameters
    ----------
    r : float
        Rise over span, above 0 to 0.6.
    from_ground : bool
        True when the arch springs from the ground, False when it stands on walls.

    Returns
    -------
    (n, 3) array
        Windward quarter, centre half, leeward quarter; two rows where the figure asks for
        both (on walls, 0.2 <= r < 0.3), else one.
    """
    within("rise over span", r, 1e-9, 0.6)
    if from_ground:
        windward = [1.4 * r]
    elif r < 0.2:
        windward = [-0.9]
    elif r < 0.3:
        windward = [1.5 * r - 0.3, 6 * r - 2.1]
    else:
        windward = [2.75 * r - 0.7]
    return np.array([[first, -0.7 - r, -0.5] for first in windward])


def C_p_arch_along(distance: Floats | float, h: float, L: float = np.inf) -> Floats:
    """Return C_p of a roof with wind along its axis, as a flat roof, Fig. 27.3-1.

    h/L <= 0.5: -0.9 to h, -0.5 to 2 h, -0.3 beyond. h/L >= 1: -1.3 to h/2, -0.7 beyond, without
    the reduction for large areas. Straight between. `LEAST_SUCTION` is the figure's second value.

    Parameters
    ----------
    distance : float or array, m
        From the windward end.
    h : float, m
        Mean roof height.
    L : float, m
        Length of the roof along the wind.
    """
    far = within("distance", distance, -1e-6, unit="m") / within("height", h, 1e-9, 200, "m")
    share = float(np.interp(h / within("length", L, 1e-9, np.inf, "m"), [0.5, 1.0], [0.0, 1.0]))
    at = [(1 - share) * long + share * short for long, short in zip(*_ALONG, strict=True)]
    return np.select([far <= 0.5, far <= 1, far <= 2], at[:3], default=at[3])


def C_s(theta: Floats | float, C_t: float, *, slippery: bool = False) -> Floats:
    """Return the slope factor C_s, Fig. 7.4-1; between C_t 1.0, 1.1 and 1.2 interpolated.

    Parameters
    ----------
    theta : float or array, rad
        Slope of the roof.
    C_t : float
        Thermal factor.
    slippery : bool
        True only for a smooth surface from which snow can fall clear.
    """
    slope = np.degrees(within("slope", theta, 0, np.pi, "rad"))
    within("thermal factor C_t", C_t, 0.8, 1.4)
    start = float(np.interp(C_t, [1.0, 1.1, 1.2], _FLAT_TO[slippery]))
    return np.clip(1 - (slope - start) / (70 - start), 0, 1)


def p_unbalanced(
    theta: Floats | float,
    p_f: float,
    C_e: float,
    C_t: float,
    *,
    slippery: bool = False,
    eave: float = np.pi / 2,
    abutting: bool = False,
) -> Floats:
    """Return the unbalanced snow of the leeward half of a curved roof, Pa, 7.6.2, Fig. 7.4-2.

    From 0.5 p_f at the crown to 2 p_f C_s/C_e where the slope is 30 degrees, or at the eave where
    it is flatter (case 1), straight in plan (sin theta on a circle); beyond, 2 p_f C_s/C_e with
    C_s of the local slope, which is not less than the figure's straight line to the eave; nothing
    above 70 degrees. Where the ground abuts the eave, it does not fall beyond 30 degrees.

    Parameters
    ----------
    theta : float or array, rad
        Local slope.
    p_f : float, Pa
        Flat roof snow load.
    C_e, C_t : float
        Exposure and thermal factors.
    slippery : bool
        As in `C_s`.
    eave : float, rad
        Slope of the roof at its eave.
    abutting : bool
        True where the ground or another roof lies within 3 ft (0.91 m) of the eave.
    """
    slope = within("slope", theta, 0, np.pi, "rad")
    within("flat roof snow", p_f, 0, 50e3, "Pa")
    within("exposure factor C_e", C_e, 0.5, 1.5)
    turn = min(float(within("slope at the eave", eave, 1e-6, np.pi, "rad")), np.pi / 6)
    peak = 2 * p_f * float(C_s(turn, C_t, slippery=slippery)) / C_e
    along = np.sin(np.minimum(slope, turn)) / np.sin(turn)
    crown: Floats = 0.5 * p_f + (peak - 0.5 * p_f) * along
    if abutting or eave <= np.pi / 6:
        return crown
    outer = 2 * p_f * C_s(slope, C_t, slippery=slippery) / C_e
    return np.where(slope <= turn, crown, outer)


def sector_share(azimuth: Floats | float) -> Floats:
    """Return the share of the unbalanced snow that a dome carries at `azimuth`, 7.6.3.

    1 over the downwind 90 degrees, falling straight to 0 over 22.5 degrees on either side.

    Parameters
    ----------
    azimuth : float or array, rad
        Plan angle from the downwind direction.
    """
    angle = within("azimuth", azimuth, unit="rad")
    off: Floats = np.abs(np.degrees(np.angle(np.exp(1j * angle))))
    return np.minimum(np.maximum((67.5 - off) / 22.5, 0), 1)
