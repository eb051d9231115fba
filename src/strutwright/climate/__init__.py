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

__all__ = [
    "AIR_HEAT",
    "FAN_HIGH",
    "FAN_LOW",
    "HeatLoss",
    "SecondLayer",
    "faces_needed",
    "fan_flow",
    "heat_loss",
    "season_fuel",
    "second_layer",
    "stack_flow",
    "vent_area",
    "wind_flow",
]
