"""Anchors in the ground: friction, helices, plates, ballast, footings, stakes.

Estimates for a first choice; a pull test on the site is worth more than all of them. Sizes in m,
forces in N, soil in Pa and N/m3. An inclined (guyed) pull is never a vertical uplift.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import numpy as np

from strutwright.bounds import one_of, within
from strutwright.catalogue import Source

__all__ = [
    "BALLAST_SHARE",
    "CONCRETE",
    "FS_FRICTION",
    "FS_HELIX",
    "HUD_OVERLOAD",
    "HUD_WORKING",
    "SLIDING",
    "SOURCES",
    "K_t",
    "Q_friction_clay",
    "Q_friction_sand",
    "Q_helix",
    "Q_plate_clay",
    "Q_plate_sand",
    "anchors_needed",
    "footing_weight",
    "hud_test_load",
    "lateral_broms_clay",
    "lateral_broms_sand",
    "stake_inclined",
]

HUD_WORKING: Final = 14.01e3
"""Working load of a ground anchor by the HUD rule, N (3150 lbf)."""
HUD_OVERLOAD: Final = 1.5
"""Overload that an anchor must be tested to."""
FS_FRICTION: Final = 3.0
"""Safety on shaft friction."""
FS_HELIX: Final = 2.0
"""Safety on a helix proved by torque."""
BALLAST_SHARE: Final[Mapping[str, float]] = MappingProxyType({"en": 0.9, "asce": 0.6})
"""Share of a weight that may be counted against uplift."""
SLIDING: Final[Mapping[str, float]] = MappingProxyType({"plastic or wet": 0.3, "concrete": 0.45})
"""Friction coefficient on soil."""
CONCRETE: Final = 23.5e3
"""Weight of plain concrete, N/m3."""

_HUD = "Minn. R. 1350.2900, 24 CFR 3285.402"
SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "BALLAST_SHARE": Source("EN 1990 EQU, ASCE 7 0.6D", None, "", "recalled"),
        "CONCRETE": Source("plain concrete", None, "", "computed"),
        "FS_FRICTION": Source("foundation practice", None, "", "recalled"),
        "FS_HELIX": Source("Hubbell helical anchor manual", None, "", "read"),
        "HUD_OVERLOAD": Source(_HUD, None, "", "read"),
        "HUD_WORKING": Source(_HUD, None, "", "read"),
        "K_t": Source("Hoyt and Clemence", 1989, "via FSI manual", "read"),
        "Q_friction_clay": Source("alpha method", None, "", "recalled"),
        "Q_friction_sand": Source("beta method", None, "", "recalled"),
        "Q_helix": Source("Hoyt and Clemence", 1989, "Q_u = K_t T", "read"),
        "Q_plate_clay": Source("plate anchor, A 9 c_u", None, "", "recalled"),
        "Q_plate_sand": Source("plate anchor, A q' N_q", None, "", "recalled"),
        "SLIDING": Source("foundation practice", None, "", "recalled"),
        "anchors_needed": Source("one anchor missing", None, "", "judgement"),
        "footing_weight": Source("weight of a cylinder", None, "", "computed"),
        "hud_test_load": Source(_HUD, None, "", "read"),
        "lateral_broms_clay": Source("Broms", 1964, "short free pile, cohesive", "recalled"),
        "lateral_broms_sand": Source("Broms", 1964, "short free pile, cohesionless", "recalled"),
        "stake_inclined": Source("InTents 2009 on the IFAI study", 2009, "lawn, 4.4 kN", "read"),
    }
)
_LAWN_PULL: Final = 4448.0


def hud_test_load(working: float = HUD_WORKING) -> float:
    """Return the load an anchor must be tested to, in the unit of `working`: 1.5 times it."""
    return HUD_OVERLOAD * working


def Q_friction_clay(d: float, L: float, c_u: float, alpha: float = 0.5, top: float = 0.3) -> float:
    """Return the ultimate vertical pull of a shaft in clay, N: pi d (L - top) alpha c_u.

    Parameters
    ----------
    d, L : float, m
        Diameter and embedded length.
    c_u : float, Pa
        Undrained shear strength.
    alpha : float
        Adhesion, 0.5 to 1 (1 in soft clay).
    top : float, m
        Length at the top that is left out.
    """
    within("diameter", d, 1e-3, 2, "m")
    within("length", L, 0, 20, "m")
    within("c_u", c_u, 0, 500e3, "Pa")
    within("alpha", alpha, 0.1, 1)
    return float(np.pi * d * max(L - top, 0.0) * alpha * c_u)


def Q_friction_sand(
    d: float, L: float, gamma: float, phi: float, *, K: float = 0.7, delta_share: float = 0.7
) -> float:
    """Return the ultimate vertical pull of a shaft in sand, N: pi d L K (gamma L/2) tan(delta).

    `phi` in rad; delta is 0.7 phi.
    """
    within("diameter", d, 1e-3, 2, "m")
    within("length", L, 0, 20, "m")
    within("friction angle", phi, 0, 0.9, "rad")
    return float(np.pi * d * L * K * (gamma * L / 2) * np.tan(delta_share * phi))


def K_t(shaft: str) -> float:
    """Return the torque factor of a helical anchor, 1/m: 33 for bar and round below 3.5 in."""
    table = {"square bar": 10 / 0.3048, "round": 10 / 0.3048, "round 3.5 in": 7 / 0.3048}
    return table[one_of("shaft", shaft, table)]


def Q_helix(K_t: float, T: float) -> float:
    """Return the ultimate pull of a helical anchor, N, from its installing torque `T` in Nm."""
    return K_t * float(within("torque", T, 0, 50e3, "Nm"))


def Q_plate_clay(A: float, c_u: float) -> float:
    """Return the ultimate pull of a buried plate in clay, N: 9 c_u A, from 5 diameters down."""
    return 9 * float(within("c_u", c_u, 0, 500e3, "Pa")) * float(within("area", A, 0, 10, "m2"))


def Q_plate_sand(A: float, q: float, N_q: float) -> float:
    """Return the ultimate pull of a buried plate in sand, N: A q' N_q, from 5 diameters down."""
    return float(within("area", A, 0, 10, "m2")) * q * float(within("N_q", N_q, 0, 500))


def lateral_broms_sand(gamma: float, d: float, L: float, phi: float, e: float) -> float:
    """Return the ultimate side load of a short free stake in sand, N.

    0.5 gamma d L^3 K_p/(e + L), K_p = tan^2(45 deg + phi/2); `e` is the height of the load.
    """
    within("length", L, 1e-3, 20, "m")
    within("height of the load", e, 0, 20, "m")
    passive = np.tan(np.pi / 4 + float(within("friction angle", phi, 0, 0.9, "rad")) / 2) ** 2
    return float(0.5 * gamma * d * L**3 * passive / (e + L))


def lateral_broms_clay(c_u: float, d: float, L: float, e: float) -> float:
    """Return the ultimate side load of a short free stake in clay, N.

    9 c_u d acts below 1.5 d. With f = H/(9 c_u d) and g the length below the turning point of
    the moment: L = 1.5 d + f + g and H (e + 1.5 d + f/2) = 2.25 c_u d g^2.
    """
    within("c_u", c_u, 0, 500e3, "Pa")
    within("height of the load", e, 0, 20, "m")
    free = float(within("length", L, 1e-3, 20, "m")) - 1.5 * d
    if free <= 0 or c_u == 0:
        return 0.0
    low, high = 0.0, free
    for _ in range(80):
        f = (low + high) / 2
        turning = 9 * f * (e + 1.5 * d + f / 2) - 2.25 * (free - f) ** 2
        low, high = (f, high) if turning < 0 else (low, f)
    return 9 * c_u * d * low


def stake_inclined(*, wet: bool = True) -> float:
    """Return the working inclined pull of a 25 x 915 mm stake in lawn, N.

    4.4 kN measured, half of it in saturated soil, over a safety of 2: 1.1 kN. It is not a
    vertical uplift.
    """
    return _LAWN_PULL * (0.5 if wet else 1.0) / 2


def footing_weight(D: float, depth: float, gamma: float = CONCRETE) -> float:
    """Return the weight of a cylindrical footing, N."""
    within("diameter", D, 0, 5, "m")
    within("depth", depth, 0, 10, "m")
    return float(gamma * np.pi * D**2 / 4 * depth)


def anchors_needed(uplift: float, capacity: float) -> int:
    """Return the number of anchors at a hub: ceil(uplift/capacity), and one that may be missing.

    None where there is no uplift.
    """
    within("capacity of an anchor", capacity, 1e-9, unit="N")
    pull = float(within("uplift", uplift, unit="N"))
    return 0 if pull <= 0 else int(np.ceil(pull / capacity * (1 - 1e-12))) + 1
