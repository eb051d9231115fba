"""GB 50009-2012: shape coefficients of wind (Table 8.3.1) and snow (Table 7.2.1).

Taken as a closed-form field of the dome beside the arcs of other standards, and as a
cross-check. Positive onto the surface.
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
    "SOURCES",
    "mu_r_arch",
    "mu_r_arch_uneven",
    "mu_s_arch",
    "mu_s_dome",
]

_READ = "as in github longyu8101/GB50009"
SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "mu_r_arch": Source("GB 50009", 2012, f"Table 7.2.1, item 3, {_READ}", "read"),
        "mu_r_arch_uneven": Source("GB 50009", 2012, f"Table 7.2.1, item 3, {_READ}", "read"),
        "mu_s_arch": Source("GB 50009", 2012, f"Table 8.3.1, items 3 and 4, {_READ}", "read"),
        "mu_s_dome": Source("GB 50009", 2012, f"Table 8.3.1, item 36, {_READ}", "read"),
    }
)


def mu_s_dome(phi: Floats | float, psi: Floats | float, f_over_l: float) -> Floats:
    """Return the coefficient of a dome, Table 8.3.1 item 36.

    f/l > 1/4: 0.5 sin^2(phi) sin(psi) - cos^2(phi); f/l <= 1/4: -cos^2(phi).

    Parameters
    ----------
    phi : float or array, rad
        Angle from the vertical axis at the centre of the sphere.
    psi : float or array, rad
        Plan angle, +pi/2 pointing to windward.
    f_over_l : float
        Rise over span.
    """
    within("f/l", f_over_l, 1e-9, 1)
    up = np.cos(within("phi", phi, 0, np.pi, "rad"))
    if f_over_l <= 0.25:
        return -np.square(up) + 0 * np.asarray(psi, dtype=np.float64)
    windward = np.sin(within("psi", psi, unit="rad"))
    return 0.5 * (1 - np.square(up)) * windward - np.square(up)


def mu_s_arch(f_over_l: float, *, from_ground: bool) -> Floats:
    """Return the coefficients (3,) of an arched roof: windward quarter, centre, leeward.

    From the ground (item 3): +0.1, +0.2, +0.6 at f/l 0.1, 0.2, 0.5. On walls (item 4): -0.8, 0,
    +0.6, where a windward value smaller than 0.1 is taken as 0.1 with its sign. Straight between.

    Parameters
    ----------
    f_over_l : float
        Rise over span, 0.1 to 0.5.
    from_ground : bool
        True when the arch springs from the ground.
    """
    ratio = float(within("f/l", f_over_l, 0.1, 0.5))
    values = [0.1, 0.2, 0.6] if from_ground else [-0.8, 0.0, 0.6]
    windward = float(np.interp(ratio, [0.1, 0.2, 0.5], values))
    if not from_ground and abs(windward) < 0.1:
        windward = -0.1 if windward < 0 else 0.1
    return np.array([windward, -0.8, -0.5])


def mu_r_arch(l: float, f: float) -> float:  # noqa: E741 - symbol as printed
    """Return the uniform snow coefficient l/(8 f) of an arch, in 0.4 to 1.0; `l`, `f` in m."""
    span, rise = float(within("span", l, 1e-9, unit="m")), float(within("rise", f, 1e-9, unit="m"))
    return float(np.clip(span / (8 * rise), 0.4, 1.0))


def mu_r_arch_uneven(f_over_l: float) -> tuple[float, float]:
    """Return the peaks (windward, leeward) of uneven snow: half of and 0.2 + 10 f/l <= 2.0."""
    peak = min(2.0, 0.2 + 10 * float(within("f/l", f_over_l, 0, 5)))
    return peak / 2, peak
