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
from strutwright.climate.heat import (
    AIR_HEAT,
    HeatLoss,
    SecondLayer,
    heat_loss,
    season_fuel,
    second_layer,
)
from strutwright.climate.plan import (
    Benches,
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
    "Benches",
    "ClimateAsked",
    "ClimatePlan",
    "HeatLoss",
    "SecondLayer",
    "Vents",
    "climate_plan",
    "faces_needed",
    "fan_flow",
    "heat_loss",
    "season_fuel",
    "second_layer",
    "stack_flow",
    "summer_rise",
    "vent_area",
    "wind_flow",
]
