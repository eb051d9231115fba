"""kit.json, section climate: heat, air, and where one can stand and grow."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field

from strutwright.climate import ClimatePlan

__all__ = ["ClimatePart", "climate_section"]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid")


class HeatPart(_Part):
    """Heat loss at the design temperatures, W; per kelvin W/K."""

    through_cover: float
    by_air: float
    at_edge: float
    total: float
    per_kelvin: float


class VentPart(_Part):
    """Vents at one height: faces, open area m2, share of the floor, height m."""

    faces: list[int]
    area: float
    share: float
    height: float


class VentsPart(_Part):
    """Vents low and high, and what flows through them, m3/s."""

    low: VentPart
    high: VentPart
    stack: float = Field(description="by warmth alone, 10 K")
    wind: float = Field(description="by a wind of 2 m/s")


class FanPart(_Part):
    """Summer fan instead of vents, m3/s."""

    least: float
    most: float


class SecondLayerPart(_Part):
    """What a second layer saves: share of the loss, J a season, seasons to pay for it."""

    share: float
    saved: float
    seasons_to_pay: float | None


class BenchesPart(_Part):
    """Benches 0.9 m deep and the paths to them, m and m2; outlines in plan."""

    wall: float = Field(description="m of bench along the wall, doors left free")
    middle: float = Field(description="m of bench within the paths")
    bench_area: float
    path_area: float
    standing: float = Field(description="share of the paths over which one can stand upright")
    benches: list[list[tuple[float, float]]] = Field(description="holes run clockwise")
    paths: list[list[tuple[float, float]]]


class GivenPart(_Part):
    """A value that the brief does not give, with its source."""

    name: str
    value: float
    unit: str
    source: str
    how: str = Field(description="read, recalled, computed, tested or judgement")
    second_hand: bool


class ClimatePart(_Part):
    """Heat and air; None where the brief says too little."""

    heat_loss: HeatPart | None
    heater: float | None = Field(description="W, margin included")
    season_fuel: float | None = Field(description="J")
    second_layer: SecondLayerPart | None
    vents: VentsPart
    fan: FanPart
    summer_rise: float | None = Field(description="K, with the vents")
    summer_rise_fan: float = Field(description="K, with the least fan")
    area: float = Field(description="m2 that loses heat: cover, and walls under the base ring")
    volume: float = Field(description="m3 of air")
    headroom: list[tuple[float, float]] = Field(description="height m, floor m2 with that much")
    bench: float = Field(description="m of bench along the wall")
    benches: BenchesPart
    values: list[GivenPart]


def climate_section(plan: ClimatePlan) -> dict[str, Any]:
    """Return the section."""
    heat = plan.heat
    return {
        "heat_loss": {
            name: getattr(heat, name)
            for name in ("through_cover", "by_air", "at_edge", "total", "per_kelvin")
        }
        if heat
        else None,
        "heater": heat.heater if heat else None,
        "season_fuel": plan.season_fuel,
        "second_layer": vars(plan.second_layer) if plan.second_layer else None,
        "vents": {
            **{
                place: {
                    "faces": vents.faces.tolist(),
                    "area": vents.area,
                    "share": vents.share,
                    "height": vents.height,
                }
                for place, vents in (("low", plan.low), ("high", plan.high))
            },
            "stack": plan.stack,
            "wind": plan.wind,
        },
        "fan": {"least": plan.fan[0], "most": plan.fan[1]},
        "summer_rise": plan.rise,
        "summer_rise_fan": plan.rise_fan,
        "area": plan.area,
        "volume": plan.volume,
        "headroom": list(plan.benches.floor),
        "bench": plan.benches.wall,
        "benches": {
            "wall": plan.benches.wall,
            "middle": plan.benches.middle,
            "bench_area": plan.benches.bench_area,
            "path_area": plan.benches.path_area,
            "standing": plan.benches.standing,
            "benches": [ring.tolist() for ring in plan.benches.benches],
            "paths": [ring.tolist() for ring in plan.benches.paths],
        },
        "values": [
            {
                "name": one.name,
                "value": one.value,
                "unit": one.unit,
                "source": str(one.source),
                "how": one.source.how,
                "second_hand": one.second_hand,
            }
            for one in plan.given
        ],
    }
