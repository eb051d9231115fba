"""The line of an arch: circle, ellipse, parabola or two arcs, in equal shares of its length."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.values import ArrayValue, Floats

__all__ = ["LOWEST", "ArchLine", "arch_line"]

LOWEST: Final = {"circle": 0.134, "ellipse": 0.15, "parabola": 0.1, "pointed": 0.5}
"""Least rise over width of each profile: our choice; a flatter arch is a snap-through risk. A
pointed arch of two quarter circles is the half circle, 0.5."""
HIGHEST: Final = {"circle": 0.866, "ellipse": 1.5, "parabola": 1.5, "pointed": 1.5}
"""Largest rise over width: our choice; 0.866 is an arc of 240 degrees, whose foot leans inwards
by 30 degrees."""
SAMPLES: Final = 4096
"""Points at which a profile without a closed length is sampled: error below 1e-7 of the width."""


@dataclass(frozen=True, eq=False)
class ArchLine(ArrayValue):
    """Half of an arch, from the crown to the base, sampled along its length.

    Parameters
    ----------
    profile : str
        ``circle``, ``ellipse``, ``parabola`` or ``pointed``.
    width, rise : float, m
    share : (n,) array
        Share of the half length from the crown, 0 to 1.
    out, height : (n,) array, m
        Distance from the middle plane and height above the base at each share.
    half_length : float, m
        Length from the crown to the base.
    radius : float or None, m
        Radius of a circular arch (of each arc of a pointed one).
    """

    profile: str
    width: float
    rise: float
    share: Floats
    out: Floats
    height: Floats
    half_length: float
    radius: float | None

    def at(self, share: Floats) -> tuple[Floats, Floats]:
        """Return distance from the middle plane and height, m, at shares of the half length."""
        share = np.asarray(share, dtype=np.float64)
        if self.profile == "circle" and self.radius is not None:
            angle = share * self.half_length / self.radius
            out = self.radius * np.sin(angle)
            height = self.rise - self.radius * (1 - np.cos(angle))
            at_base = share == 1.0
            return np.where(at_base, self.width / 2, out), np.where(at_base, 0.0, height)
        return np.interp(share, self.share, self.out), np.interp(share, self.share, self.height)

    def chord(self, gaps: int) -> float:
        """Return the mean chord, m, when the whole arch has `gaps` equal steps."""
        along = np.linspace(-1, 1, gaps + 1)
        out, height = self.at(np.abs(along))
        return float(np.hypot(np.diff(np.sign(along) * out), np.diff(height)).mean())


def arch_line(profile: str, width: float, rise: float | None) -> ArchLine:
    """Return the arch of `width` and `rise` (m); without a rise, half the width.

    Raises
    ------
    InputError
        ``shape-profile``, ``size-width``, ``size-rise``.
    """
    if profile not in LOWEST:
        what = f'profile "{profile}" is not one of {", ".join(LOWEST)}'
        raise InputError("shape-profile", what, "shape.profile", "name one of these")
    if not (np.isfinite(width) and width > 0):
        what = f"width {width} m is not a positive length"
        raise InputError("size-width", what, "size.width", "give a width above zero")
    if rise is None:
        rise = width / 2 if profile != "pointed" else 0.6 * width
    low, high = LOWEST[profile], HIGHEST[profile]
    if not (np.isfinite(rise) and low * width * (1 - 1e-9) <= rise <= high * width * (1 + 1e-9)):
        what = (
            f"rise {rise:.4g} m is outside {low * width:.4g} m to {high * width:.4g} m, "
            f"what a {profile} arch of width {width:.4g} m can have"
        )
        raise InputError("size-rise", what, "size.rise", "change the rise, width or profile")
    out, height, radius = _drawn(profile, width, rise)
    length = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(out), np.diff(height)))])
    half = float(length[-1])
    if profile == "circle" and radius is not None:
        half = radius * _half_angle(width, rise)
    return ArchLine(profile, width, rise, length / length[-1], out, height, half, radius)


def _half_angle(width: float, rise: float) -> float:
    """Return half the angle of the arc through base and crown, rad: tan(angle/2) = 2 rise/width."""
    return float(2 * np.arctan2(2 * rise, width))


def _drawn(profile: str, width: float, rise: float) -> tuple[Floats, Floats, float | None]:
    """Return points (out, height) from the crown to the base, m, and the radius if there is one."""
    half, share = width / 2, np.linspace(0, 1, SAMPLES)
    radius: float | None = None
    if profile == "circle":
        radius = (half**2 + rise**2) / (2 * rise)
        angle = share * _half_angle(width, rise)
        out, height = radius * np.sin(angle), rise - radius * (1 - np.cos(angle))
    elif profile == "ellipse":
        out, height = half * np.sin(share * np.pi / 2), rise * np.cos(share * np.pi / 2)
    elif profile == "parabola":
        out, height = half * share, rise * (1 - share**2)
    else:
        # each arc stands upright on its base; its centre lies on the base line, beyond the middle
        radius = (half**2 + rise**2) / width
        top = np.arctan2(rise, radius - half)
        angle = top + (0 - top) * share
        out, height = half - radius + radius * np.cos(angle), radius * np.sin(angle)
        out[0] = 0.0
    out[-1], height[-1], height[0] = half, 0.0, rise
    return out, height, radius
