"""What a tape reads and what it should: slope, temperature, sag, crossing angle."""

from __future__ import annotations

import numpy as np

from strutwright.values import Floats

__all__ = [
    "crossing_ellipse",
    "sag_correction",
    "skew_from_diagonals",
    "slope_correction",
    "temperature_correction",
]


def slope_correction(slope_length: Floats | float, height: Floats | float) -> Floats:
    """Return slope length minus level length, m, for a tape held along a slope.

    Exact form of h2/(2 L) + h4/(8 L3). Source: en.wikipedia.org, Tape correction (surveying), read.

    Parameters
    ----------
    slope_length, height : float or array, m
        Length along the ground, and the height between its ends.
    """
    length = np.asarray(slope_length, dtype=float)
    level: Floats = np.sqrt(length**2 - np.asarray(height, dtype=float) ** 2)
    return length - level


def temperature_correction(length: float, rise: float, expansion: float) -> float:
    """Return what a tape or strut of `length` (m) grows by, m, for a temperature `rise` (K).

    `expansion` in 1/K: 11.6e-6 for a steel tape.
    """
    return expansion * length * rise


def sag_correction(length: float, weight: float, pull: float) -> float:
    """Return by how much a freely hanging tape reads too long, m: w2 L3 / (24 P2).

    Parameters
    ----------
    length : float, m
    weight : float, N/m
    pull : float, N

    Source: the standard parabola formula, recalled.
    """
    return weight**2 * length**3 / (24 * pull**2)


def crossing_ellipse(sigma: float, angle: Floats | float) -> tuple[Floats, Floats]:
    """Return semi-major and semi-minor axis (m) of a point taped from two pegs.

    a = s / sqrt(1 - |cos g|), b = s / sqrt(1 + |cos g|), from the inverse of A^T A.

    Parameters
    ----------
    sigma : float, m
        Standard deviation of each of the two distances.
    angle : float or array, rad
        Angle at which the tapes cross.
    """
    cosine = np.abs(np.cos(np.asarray(angle, dtype=float)))
    with np.errstate(divide="ignore"):
        return sigma / np.sqrt(1 - cosine), sigma / np.sqrt(1 + cosine)


def skew_from_diagonals(length: float, width: float, slide: float) -> float:
    """Return the difference of the diagonals, m, when one long side has slid by `slide` (m)."""
    return float(np.hypot(length + slide, width) - np.hypot(length - slide, width))
