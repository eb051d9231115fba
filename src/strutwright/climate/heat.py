"""Heat that a shell loses, the heater it asks for, and what a second layer saves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from strutwright.errors import InputError

__all__ = [
    "AIR_HEAT",
    "HEATER_MARGIN",
    "HeatLoss",
    "SecondLayer",
    "double_sheet",
    "heat_loss",
    "season_fuel",
    "second_layer",
]

AIR_HEAT: Final = 0.335
"""Wh/(m3 K): 1.2 kg/m3 x 1005 J/(kg K) / 3600 s.

Source: University of Georgia extension form of the heat-loss equation, read; product computed.
"""
HEATER_MARGIN: Final = 1.2
"""Heater output over design loss: our choice, for a cold start and for wind."""
SURFACES: Final = 0.17
"""m2 K/W of the air at both faces of a wall. Source: EN ISO 6946, recalled."""
AIR_LAYER: Final = 0.16
"""m2 K/W of still air 25 mm thick or more, heat flowing up. Source: EN ISO 6946, recalled."""
HOURS: Final = 24.0
"""Hours of a degree day."""


@dataclass(frozen=True)
class HeatLoss:
    """Steady heat loss at the design temperatures.

    Parameters
    ----------
    through_cover, by_air, at_edge, total : float, W
    per_kelvin : float, W/K
    heater : float, W
        Output asked of the heater, margin included.
    """

    through_cover: float
    by_air: float
    at_edge: float
    total: float
    per_kelvin: float
    heater: float


def heat_loss(
    area: float,
    volume: float,
    u_value: float,
    rise: float,
    *,
    air_changes: float = 1.0,
    edge: float = 0.0,
) -> HeatLoss:
    """Return the heat loss Q = U A dT + 0.335 n V dT + edge dT.

    Parameters
    ----------
    area : float, m2
        Cover.
    volume : float, m3
    u_value : float, W/(m2 K)
    rise : float, K
        Inside minus outside temperature.
    air_changes : float, 1/h
    edge : float, W/K
        Loss along the ground at the base, perimeter times about 1.4 W/(m K); 0 leaves it out.

    Raises
    ------
    InputError
        ``climate-value``: a value below zero, or no temperature rise to heat for.
    """
    wrong = {
        "cover area": area, "volume": volume, "U value": u_value, "air changes": air_changes,
        "edge loss": edge, "temperature rise": rise,
    }  # fmt: skip
    for name, value in wrong.items():
        if not value >= 0:
            raise InputError(
                "climate-value", f"{name} {value:g} is below zero", "climate", "check [climate]"
            )
    cover, air = u_value * area * rise, AIR_HEAT * air_changes * volume * rise
    ground = edge * rise
    total = cover + air + ground
    per_kelvin = u_value * area + AIR_HEAT * air_changes * volume + edge
    return HeatLoss(cover, air, ground, total, per_kelvin, HEATER_MARGIN * total)


def double_sheet(single: float) -> float:
    """Return the U value of two sheets with air between from that of one, W/(m2 K).

    Resistances in series: 1/U2 = 2/U - 0.17 + 0.16. Not for film, which lets heat rays through.
    """
    return 1 / (2 / single - SURFACES + AIR_LAYER)


def season_fuel(loss_per_kelvin: float, degree_days: float, efficiency: float = 1.0) -> float:
    """Return the heat to be bought for a season, J.

    Parameters
    ----------
    loss_per_kelvin : float, W/K
    degree_days : float, K d
        Of the site for the inside temperature; given by the user.
    efficiency : float
        Of the heater, 0 to 1.
    """
    if not (0 < efficiency <= 1) or degree_days < 0:
        raise InputError(
            "climate-value",
            f"efficiency {efficiency:g} with {degree_days:g} degree days",
            "climate",
            "give an efficiency above 0 up to 1, and degree days of zero or more",
        )
    return loss_per_kelvin * degree_days * HOURS * 3600 / efficiency


@dataclass(frozen=True)
class SecondLayer:
    """What a second layer of cover saves.

    Parameters
    ----------
    share : float
        Of the single layer's loss, 0 to 1.
    saved : float, J
        In a season.
    seasons_to_pay : float or None
        Its price over the fuel saved in a season; None when nothing is saved.
    """

    share: float
    saved: float
    seasons_to_pay: float | None


def second_layer(
    single: HeatLoss, double: HeatLoss, degree_days: float, *, price: float, fuel_price: float
) -> SecondLayer:
    """Return what a second layer saves against its price.

    Parameters
    ----------
    single, double : HeatLoss
    degree_days : float, K d
    price : float
        Of the second layer, in the currency of the brief.
    fuel_price : float
        Per J of heat, heater efficiency included.
    """
    saved = season_fuel(single.per_kelvin - double.per_kelvin, degree_days)
    money = saved * fuel_price
    share = 1 - double.per_kelvin / single.per_kelvin if single.per_kelvin else 0.0
    return SecondLayer(share, saved, price / money if money > 0 else None)
