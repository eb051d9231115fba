"""Heat, air and use of one house: what it loses, what it breathes, where one can stand and grow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.catalogue import Cover
from strutwright.climate.air import FAN_LOW, fan_flow, stack_flow, wind_flow
from strutwright.climate.heat import AIR_HEAT, HeatLoss, SecondLayer, heat_loss, second_layer
from strutwright.climate.heat import season_fuel as fuel_of
from strutwright.shape import Shell
from strutwright.shape.headroom import contours, headroom_area
from strutwright.shape.outer import Measures
from strutwright.shape.surface import face_areas
from strutwright.values import ArrayValue, Floats, Indices, Note

__all__ = ["Benches", "ClimateAsked", "ClimatePlan", "Vents", "climate_plan", "summer_rise"]

EDGE_LOSS: Final = 1.4
"""W/(m K) along the base. Source: greenhouse practice, recalled."""
SUMMER_RISE: Final = 10.0
"""K between inside and outside that the stack flow of the vents is worked out for; our choice."""
BREEZE: Final = 2.0
"""m/s, a light summer wind for the wind flow; our choice."""
TRANSMITTED: Final = 0.75
"""Share of the sun that a clean cover lets in. Source: greenhouse practice, recalled."""
EVAPORATED: Final = 0.5
"""Share of it that plants turn into moisture. Source: greenhouse practice, recalled."""
HEADROOMS: Final = (1.2, 1.6, 1.9)
"""m: reach over a bench, stoop, stand."""
BENCH_HEADROOM: Final = 1.2
"""m of height at the back of a bench 0.8 m high; our choice."""
BENCH_DEPTH: Final = 0.9
"""m, reached from one side; our choice."""
JOULES: Final = 3.6e6
"""J in a kWh."""


@dataclass(frozen=True)
class ClimateAsked:
    """What the brief says of heat and air; see its sections climate and cover."""

    inside: float | None
    outside: float | None
    air_changes: float
    degree_days: float | None
    fuel_price: float | None
    sun: float
    shade: float
    layers: int
    price: float | None


@dataclass(frozen=True, eq=False)
class Vents(ArrayValue):
    """Vents at one height: faces, open area m2, share of the floor, height of their middle m."""

    faces: Indices
    area: float
    share: float
    height: float


@dataclass(frozen=True)
class Benches:
    """Where one can stand and grow.

    Parameters
    ----------
    floor : tuple of (float, float)
        Height m, and floor m2 over which there is at least that much.
    bench : float, m
        Run of a bench along the wall where the cover is high enough behind it, doors included.
    bench_area : float, m2
    """

    floor: tuple[tuple[float, float], ...]
    bench: float
    bench_area: float


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
    benches : Benches
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
    benches: Benches
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
    """Return heat, air and use of a house under cover `skin`."""
    notes: list[Note] = []
    u = _u_value(skin, asked.layers)
    if skin is not None and u is None:
        text = f"no U value is known for {asked.layers} layer(s) of {skin.name}"
        notes.append(Note("climate-u-unknown", text))
    heat = _heat(shell, size, u, asked)
    fuel = saved = None
    if heat is not None and asked.degree_days is not None:
        fuel = fuel_of(heat.per_kelvin, asked.degree_days)
        saved = _second(shell, size, skin, asked)
    if heat is not None:
        text = (
            "A heated house sheds snow sooner, and the loads do not count on it: the heater may "
            "fail in the night that the snow falls"
        )
        notes.append(Note("climate-snow-cold", text))
    low, high = (_vents(shell, size.floor_area, place) for place in ("low", "high"))
    stack = stack_flow(low.area, high.area, max(high.height - low.height, 0.0), SUMMER_RISE, 0.0)
    breeze = wind_flow(min(low.area, high.area), BREEZE)
    if not (low.area and high.area):
        text = "Without vents both low and high no air flows by warmth: give both, or use a fan"
        notes.append(Note("climate-no-stack", text))
    fan = fan_flow(size.floor_area)
    loss = (u or 0.0) * size.cover_area
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
        rise_fan=summer_rise(sun, size.floor_area, FAN_LOW * size.floor_area, loss),
        benches=_benches(shell),
        notes=tuple(notes),
    )


def _u_value(skin: Cover | None, layers: int) -> float | None:
    if skin is None:
        return None
    return skin.transmittance if layers == 1 else skin.transmittance_double


def _heat(shell: Shell, size: Measures, u: float | None, asked: ClimateAsked) -> HeatLoss | None:
    if u is None or asked.inside is None or asked.outside is None:
        return None
    around = shell.hubs[shell.base]
    steps = np.roll(around, -1, axis=0) - around
    edge = EDGE_LOSS * float(np.linalg.norm(steps, axis=1).sum())
    rise = max(asked.inside - asked.outside, 0.0)
    return heat_loss(
        size.cover_area, size.volume, u, rise, air_changes=asked.air_changes, edge=edge
    )


def _second(
    shell: Shell, size: Measures, skin: Cover | None, asked: ClimateAsked
) -> SecondLayer | None:
    if skin is None or None in (skin.transmittance, skin.transmittance_double):
        return None
    single, double = (
        _heat(shell, size, u, asked) for u in (skin.transmittance, skin.transmittance_double)
    )
    if single is None or double is None or asked.degree_days is None:
        return None
    # without both prices nothing is said of how soon it pays
    known = asked.price is not None and asked.fuel_price is not None
    price = (asked.price or 0.0) * size.cover_area
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


def _benches(shell: Shell) -> Benches:
    floor = tuple((h, headroom_area(shell, h)) for h in HEADROOMS)
    lines = contours(shell, BENCH_HEADROOM)
    run = _closed_length(lines)
    return Benches(floor, run, run * BENCH_DEPTH)


def _closed_length(lines: Sequence[Floats]) -> float:
    steps = [np.roll(line, -1, axis=0) - line for line in lines]
    return float(sum(np.linalg.norm(step, axis=1).sum() for step in steps))
