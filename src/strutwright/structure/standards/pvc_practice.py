"""PVC pipe as a strut: stated practice, by allowable stress. There is no code for it.

Modulus falls with the duration of the load and with temperature, strength with temperature.
N_allow = min(pi^2 E(t, T) I/(K L)^2/3, HDS(T) A); N/N_allow + M/(HDS(T) W) <= 1; K L/r <= 150;
an initial bow of L/150 belongs to every strut. Stresses in Pa, sizes in m, forces in N.
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
    "BOW",
    "EULER_FACTOR",
    "E_BY_DURATION",
    "HDS",
    "HOTTEST",
    "SLENDEREST",
    "SOURCES",
    "N_allow",
    "allowable_stress",
    "modulus",
    "utilisation",
]

E_BY_DURATION: Final[Mapping[str, float]] = MappingProxyType(
    {"gust": 2760e6, "week": 2000e6, "season": 1500e6, "long": 965e6, "permanent": 965e6}
)
"""Modulus by the longest duration of the loads that act, Pa, at 23 C."""
HDS: Final = 13.79e6
"""Hydrostatic design stress, Pa (2000 psi), taken as the working stress of every duration."""
HOTTEST: Final = 60.0
"""Highest temperature of use, C."""
EULER_FACTOR: Final = 3.0
"""Safety on the Euler load."""
SLENDEREST: Final = 150.0
"""Largest K L/r."""
BOW: Final = 1 / 150
"""Initial bow of a strut over its length; bowing from one-sided sun comes on top."""
_T_STRESS: Final = np.array([23.0, 27, 32, 38, 43, 49, 54, 60])
_F_STRESS: Final = np.array([1.00, 0.88, 0.75, 0.62, 0.50, 0.40, 0.30, 0.22])
_T_E: Final = np.array([23.0, 32, 38, 43, 49, 54, 60])
_F_E: Final = np.array([1.00, 0.93, 0.88, 0.84, 0.79, 0.75, 0.70])

SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "BOW": Source("our practice for PVC struts", None, "", "judgement"),
        "EULER_FACTOR": Source("our practice for PVC struts", None, "", "judgement"),
        "E_BY_DURATION": Source(
            "AASHTO LRFD Table 12.12.3.3-1 (50 years), Moser (short), between by judgement"
        ),
        "HDS": Source("ASTM D1784/D2837, PPI TR-4", None, "PVC 1120", "recalled"),
        "HOTTEST": Source("lawsupply.com PVC pipe data", None, "", "read"),
        "SLENDEREST": Source("our practice for PVC struts", None, "", "judgement"),
        "modulus": Source(
            "Uni-Bell handbook of PVC pipe", None, "modulus and temperature", "recalled"
        ),
        "N_allow": Source("our practice for PVC struts", None, "", "judgement"),
        "allowable_stress": Source("ASTM D1785 family", None, "pressure derating", "recalled"),
        "utilisation": Source("our practice for PVC struts", None, "", "judgement"),
    }
)


def _temperature(T: float) -> float:
    if not np.isfinite(T) or T > HOTTEST or T < -40:
        raise InputError(
            "pvc-temperature",
            f"PVC at {T:.4g} C, not in -40 to {HOTTEST:.4g} C",
            "site.temperature",
            "take another material, or shade the frame",
        )
    return float(T)


def modulus(duration: str, T: float) -> float:
    """Return the modulus for a duration and a temperature, Pa.

    Parameters
    ----------
    duration : str
        Longest of the loads that act: ``permanent``, ``long``, ``season``, ``week``, ``gust``.
    T : float, C
        Of the pipe; below 23 C nothing is gained.
    """
    one_of("duration", duration, E_BY_DURATION)
    return E_BY_DURATION[duration] * float(np.interp(_temperature(T), _T_E, _F_E))


def allowable_stress(T: float) -> float:
    """Return the working stress HDS derated for the temperature `T` in C, Pa."""
    return HDS * float(np.interp(_temperature(T), _T_STRESS, _F_STRESS))


def N_allow(A: float, inertia: float, KL: Floats | float, duration: str, T: float) -> Floats:
    """Return the allowable compression, N.

    Parameters
    ----------
    A, inertia : float, m2, m4
        Area and second moment of area.
    KL : float or array, m
        Buckling length; K L/r above `SLENDEREST` is a check of its own that fails.
    duration, T
        As in `modulus`.
    """
    length = within("buckling length", KL, 1e-6, 50, "m")
    second = within("second moment", inertia, 1e-15, 1, "m4")
    euler = np.pi**2 * modulus(duration, T) * second / np.square(length) / EULER_FACTOR
    return np.minimum(euler, allowable_stress(T) * A)


def utilisation(N: Floats, M: Floats, N_allow: Floats | float, M_allow: float) -> Floats:
    """Return N/N_allow + M/(HDS W).

    Parameters
    ----------
    N, M : array, N, Nm
        Axial force; resultant second-order moment, bow included.
    N_allow, M_allow : N, Nm
        In tension allowable stress times the area; allowable stress times the modulus.
    """
    return np.abs(N) / N_allow + np.abs(M) / M_allow
