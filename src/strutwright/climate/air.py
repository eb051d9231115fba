"""Air through vents and fans."""

from __future__ import annotations

import math
from typing import Final

from strutwright.errors import InputError

__all__ = [
    "DISCHARGE",
    "EFFECTIVENESS",
    "FAN_HIGH",
    "FAN_LOW",
    "VENT_SHARE",
    "faces_needed",
    "fan_flow",
    "stack_flow",
    "vent_area",
    "wind_flow",
]

CUBIC_FOOT_PER_MINUTE: Final = 0.3048**3 / 60
"""m3/s in one cfm."""
FAN_LOW: Final = 8 * CUBIC_FOOT_PER_MINUTE / 0.3048**2
FAN_HIGH: Final = 10 * CUBIC_FOOT_PER_MINUTE / 0.3048**2
"""m3/s per m2 of floor: 8 to 10 cfm per square foot.

Source: University of Massachusetts extension, greenhouse ventilation, read.
"""
GRAVITY: Final = 9.81
"""m/s2."""
DISCHARGE: Final = 0.65
"""Discharge coefficient of a vent. Source: ASHRAE Handbook, Fundamentals, recalled."""
EFFECTIVENESS: Final = 0.5
"""Of an opening in the wind, the low end for wind square to it. Source: the same, recalled."""
VENT_SHARE: Final = 0.15
"""Of the floor, low and high each. Source: ASABE, in a trade journal, read second-hand."""
ZERO_CELSIUS: Final = 273.15
"""K."""


def vent_area(floor: float, share: float) -> float:
    """Return the vent area (m2) asked for by a `share` of the `floor` (m2), low and high each.

    Roof vents equal side vents, each 15 to 20 % of the floor. Source: ASABE, in a trade
    journal (greenhousemag gm0815), read second-hand.
    """
    return floor * share


def faces_needed(area: float, face: float) -> int:
    """Return how many faces of `face` (m2) give at least `area` (m2)."""
    return math.ceil(area / face - 1e-9)


def fan_flow(floor: float) -> tuple[float, float]:
    """Return the least and most summer fan flow for a `floor` (m2), m3/s."""
    return FAN_LOW * floor, FAN_HIGH * floor


def stack_flow(low: float, high: float, height: float, inside: float, outside: float) -> float:
    """Return the flow by warmth alone between low and high vents, m3/s.

    Q = Cd A* sqrt(2 g H dT / T), with 1/A*2 = 1/low2 + 1/high2 and T the mean temperature.

    Parameters
    ----------
    low, high : float, m2
        Open area.
    height : float, m
        Between their middles.
    inside, outside : float, C

    Source: ASHRAE Handbook, Fundamentals, ventilation by stack effect, recalled.
    """
    if min(low, high, height) < 0:
        raise InputError(
            "climate-value", "a vent area or height is below zero", "climate", "check the vents"
        )
    if not low or not high or inside <= outside:
        return 0.0
    effective = 1 / math.hypot(1 / low, 1 / high)
    mean = (inside + outside) / 2 + ZERO_CELSIUS
    return DISCHARGE * effective * math.sqrt(2 * GRAVITY * height * (inside - outside) / mean)


def wind_flow(area: float, speed: float, effectiveness: float = EFFECTIVENESS) -> float:
    """Return the flow by wind through an inlet of `area` (m2) at `speed` (m/s), m3/s.

    Q = Cv A v. `effectiveness` 0.5 to 0.6 for wind square to the opening, 0.25 to 0.35 on the
    slant. Source: ASHRAE Handbook, Fundamentals, ventilation by wind, recalled.
    """
    return effectiveness * area * speed
