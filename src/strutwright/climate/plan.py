"""Heat, air and use of one house: what it loses, what it breathes, where one can stand and grow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.catalogue import Cover
from strutwright.climate.air import fan_flow, stack_flow, wind_flow
from strutwright.climate.benches import BenchPlan, Entrance, bench_plan
from strutwright.climate.given import EDGE_LOSS, EVAPORATED, TRANSMITTED, Given, given_values
from strutwright.climate.heat import (
    AIR_HEAT,
    HeatLoss,
    SecondLayer,
    double_sheet,
    heat_loss,
    second_layer,
)
from strutwright.climate.heat import season_fuel as fuel_of
from strutwright.sentences import note
from strutwright.shape import Shell
from strutwright.shape.outer import Measures
from strutwright.shape.surface import face_areas
from strutwright.values import ArrayValue, Indices, Note

__all__ = ["ClimateAsked", "ClimatePlan", "Vents", "climate_plan", "summer_rise"]

SUMMER_RISE: Final = 10.0
"""K between inside and outside that the stack flow of the vents is worked out for; our choice."""
BREEZE: Final = 2.0
"""m/s, a light summer wind for the wind flow; our choice."""
JOULES: Final = 3.6e6
"""J in a kWh."""


@dataclass(frozen=True)
class ClimateAsked:
    """What the brief says of heat and air; see its sections climate and cover.

    `riser` is the mean height of the base ring above the floor, m.
    """

    inside: float | None
    outside: float | None
    air_changes: float
    degree_days: float | None
    fuel_price: float | None
    sun: float
    shade: float
    layers: int
    price: float | None
    riser: float = 0.0
    entrances: tuple[Entrance, ...] = ()


@dataclass(frozen=True, eq=False)
class Vents(ArrayValue):
    """Vents at one height: faces, open area m2, share of the floor, height of their middle m."""

    faces: Indices
    area: float
    share: float
    height: float


@dataclass(frozen=True, eq=False)
class ClimatePlan(ArrayValue):
    """Heat, air and use of a house; None where the brief says too little.

    Parameters
    ----------
    u_value : float or None, W/(m2 K)
        Of the cover as it is.
    heat : HeatLoss or None
    season_fuel : float or None, J
    second_layer : SecondLayer or None
        What two layers save against one.
    low, high : Vents
    stack, wind : float, m3/s
        Flow through the vents by warmth alone, and by a light wind.
    fan : (float, float), m3/s
        Least and most that a summer fan would move instead.
    rise, rise_fan : float, K
        Of the air inside in the summer sun with the vents' flow, and with the fan's.
    area, volume : float, m2 and m3
        Of the cover and of the air, with the walls under the base ring.
    benches : BenchPlan
    given : tuple of Given
        The values behind it, each with its source.
    notes : tuple of Note
    """

    u_value: float | None
    heat: HeatLoss | None
    season_fuel: float | None
    second_layer: SecondLayer | None
    low: Vents
    high: Vents
    stack: float
    wind: float
    fan: tuple[float, float]
    rise: float | None
    rise_fan: float
    area: float
    volume: float
    benches: BenchPlan
    given: tuple[Given, ...]
    notes: tuple[Note, ...]


def summer_rise(sun: float, floor: float, flow: float, loss: float) -> float:
    """Return how far the air inside warms above the air outside in the sun, K.

    The sun that comes in and is not spent on moisture goes out with the air and through the
    cover: rise = sun floor (1 - evaporated) transmitted / (rho c flow + U A).

    Parameters
    ----------
    sun : float, W/m2
        On the level, shading taken off.
    floor : float, m2
    flow : float, m3/s
    loss : float, W/K
        Through the cover.
    """
    gain = sun * floor * TRANSMITTED * (1 - EVAPORATED)
    return gain / (AIR_HEAT * 3600 * flow + loss)


def climate_plan(
    shell: Shell, size: Measures, skin: Cover | None, asked: ClimateAsked
) -> ClimatePlan:
    """Return heat, air and use of a house under cover `skin`.

    Walls under a base ring on legs count as covered by one layer of the same.
    """
    u = _u_value(skin, asked.layers)
    house = _House(shell, size, asked)
    heat = house.heat(u)
    fuel = saved = None
    if heat is not None and asked.degree_days is not None:
        fuel = fuel_of(heat.per_kelvin, asked.degree_days)
        saved = _second(house, skin, asked)
    low, high = (_vents(shell, size.floor_area, place) for place in ("low", "high"))
    stack = stack_flow(low.area, high.area, max(high.height - low.height, 0.0), SUMMER_RISE, 0.0)
    breeze = wind_flow(min(low.area, high.area), BREEZE)
    fan = fan_flow(size.floor_area)
    loss = (u or 0.0) * house.area
    sun = asked.sun * (1 - asked.shade)
    flow = max(stack, breeze)
    return ClimatePlan(
        u_value=u,
        heat=heat,
        season_fuel=fuel,
        second_layer=saved,
        low=low,
        high=high,
        stack=stack,
        wind=breeze,
        fan=fan,
        rise=summer_rise(sun, size.floor_area, flow, loss) if flow else None,
        rise_fan=summer_rise(sun, size.floor_area, fan[0], loss),
        area=house.area,
        volume=house.volume,
        benches=bench_plan(shell, asked.entrances, asked.riser),
        given=given_values(skin, asked.layers, u),
        notes=tuple(_notes(skin, asked, u, heat, low.area * high.area)),
    )


def _notes(
    skin: Cover | None, asked: ClimateAsked, u: float | None, heat: HeatLoss | None, both: float
) -> Iterator[Note]:
    if skin is not None and u is None:
        yield note("climate-u-unknown", layers=asked.layers, cover=skin.name)
    if heat is not None:
        yield note("climate-snow-cold")
    if heat is not None and not heat.total:
        yield note("climate-no-heating")
    if heat is not None and asked.riser > 0:
        yield note("climate-riser-closed")
    if not both:
        yield note("climate-no-stack")
    yield note("climate-no-sun-hours")


@dataclass(frozen=True)
class _House:
    shell: Shell
    size: Measures
    asked: ClimateAsked

    @property
    def around(self) -> float:
        """Length of the base ring, m."""
        ring = self.shell.hubs[self.shell.base]
        return float(np.linalg.norm(np.roll(ring, -1, axis=0) - ring, axis=1).sum())

    @property
    def area(self) -> float:
        """Of all that loses heat, m2."""
        return self.size.cover_area + self.around * self.asked.riser

    @property
    def volume(self) -> float:
        """Of the air, m3."""
        return self.size.volume + self.size.floor_area * self.asked.riser

    def heat(self, u: float | None) -> HeatLoss | None:
        """Return the loss under a cover of `u` W/(m2 K); None without temperatures."""
        asked = self.asked
        if u is None or asked.inside is None or asked.outside is None:
            return None
        rise = max(asked.inside - asked.outside, 0.0)
        edge = EDGE_LOSS * self.around
        return heat_loss(self.area, self.volume, u, rise, air_changes=asked.air_changes, edge=edge)


def _u_value(skin: Cover | None, layers: int) -> float | None:
    if skin is None or layers == 1:
        return None if skin is None else skin.transmittance
    if skin.transmittance_double is None and skin.kind == "sheet" and skin.transmittance:
        return double_sheet(skin.transmittance)
    return skin.transmittance_double


def _second(house: _House, skin: Cover | None, asked: ClimateAsked) -> SecondLayer | None:
    single, double = (house.heat(_u_value(skin, layers)) for layers in (1, 2))
    if single is None or double is None or asked.degree_days is None:
        return None
    # without both prices nothing is said of how soon it pays
    known = asked.price is not None and asked.fuel_price is not None
    price = (asked.price or 0.0) * house.area
    fuel = (asked.fuel_price or 0.0) / JOULES if known else 0.0
    return second_layer(single, double, asked.degree_days, price=price, fuel_price=fuel)


def _vents(shell: Shell, floor: float, place: str) -> Vents:
    """Return the vents whose middle lies in the lower or the upper half of the shell."""
    names = [n for n in shell.groups if n.startswith("faces.") and n.endswith(".vent")]
    faces = np.unique(np.concatenate([*(shell.groups[n] for n in names), np.empty(0, dtype=int)]))
    faces = faces.astype(np.int64)
    height = shell.hubs[shell.faces[faces], 2].mean(axis=1) if len(faces) else np.empty(0)
    middle = float(shell.hubs[:, 2].max()) / 2
    chosen = (height < middle) if place == "low" else (height >= middle)
    areas = face_areas(shell)[faces[chosen]]
    area = float(areas.sum())
    mean = float(np.average(height[chosen], weights=areas)) if area else 0.0
    return Vents(faces[chosen], area, area / floor, mean)
