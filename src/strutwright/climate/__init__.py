"""The air inside: heat, vents, fans."""

from strutwright.climate.air import (
    FAN_HIGH,
    FAN_LOW,
    faces_needed,
    fan_flow,
    stack_flow,
    vent_area,
    wind_flow,
)
from strutwright.climate.benches import BenchPlan, Entrance, bench_plan
from strutwright.climate.given import Given, given_values
from strutwright.climate.heat import (
    AIR_HEAT,
    HeatLoss,
    SecondLayer,
    double_sheet,
    heat_loss,
    season_fuel,
    second_layer,
)
from strutwright.climate.picture import bench_sheet
from strutwright.climate.plan import (
    ClimateAsked,
    ClimatePlan,
    Vents,
    climate_plan,
    summer_rise,
)

__all__ = [
    "AIR_HEAT",
    "FAN_HIGH",
    "FAN_LOW",
    "BenchPlan",
    "ClimateAsked",
    "ClimatePlan",
    "Entrance",
    "Given",
    "HeatLoss",
    "SecondLayer",
    "Vents",
    "bench_plan",
    "bench_sheet",
    "climate_plan",
    "double_sheet",
    "faces_needed",
    "fan_flow",
    "given_values",
    "heat_loss",
    "season_fuel",
    "second_layer",
    "stack_flow",
    "summer_rise",
    "vent_area",
    "wind_flow",
]
