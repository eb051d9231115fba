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
from strutwright.catalogue import Source, material, modulus_at, temperature_factor
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

_PIPE: Final = material("pvc-12454")
E_BY_DURATION: Final[Mapping[str, float]] = MappingProxyType(dict(_PIPE.modulus_by_duration))
"""Modulus by the longest duration of the loads that act, Pa, at 23 C."""
HDS: Final = _PIPE.strengths["working"]
"""Hydrostatic design stress, Pa (2000 psi), taken as the working stress of every duration."""
HOTTEST: Final = 60.0 if _PIPE.hottest is None else _PIPE.hottest
"""Highest temperature of use, C."""
EULER_FACTOR: Final = 3.0
"""Safety on the Euler load."""
SLENDEREST: Final = 150.0
"""Largest K L/r."""
BOW: Final = 1 / 150
"""Initial bow of a strut over its length; bowing from one-sided sun comes on top."""

SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "BOW": Source("our practice for PVC struts", None, "", "judgement"),
        "EULER_FACTOR": Source("our practice for PVC struts", None, "", "judgement"),
        "E_BY_DURATION": _PIPE.sources["modulus_by_duration"],
        "HDS": _PIPE.sources["strengths"],
        "HOTTEST": _PIPE.sources["hottest"],
        "SLENDEREST": Source("our practice for PVC struts", None, "", "judgement"),
        "modulus": _PIPE.sources["modulus_by_temperature"],
        "N_allow": Source("our practice for PVC struts", None, "", "judgement"),
        "allowable_stress": _PIPE.sources["strength_by_temperature"],
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
    return modulus_at(_PIPE, duration, _temperature(T))


def allowable_stress(T: float) -> float:
    """Return the working stress HDS derated for the temperature `T` in C, Pa."""
    return HDS * temperature_factor(_PIPE, _PIPE.strength_by_temperature, _temperature(T))


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
