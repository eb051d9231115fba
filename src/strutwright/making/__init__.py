"""From a kit to what the workshop makes: hub bodies, plates, strut ends; how well it all fits."""

from strutwright.making.ends import EndWork, end_work
from strutwright.making.plate import PlateDrawing, hub_plate
from strutwright.making.solid import HubSolid, hub_solid, socket_sizes
from strutwright.making.tolerances import (
    Craft,
    Sampled,
    Swap,
    Tolerances,
    sampled,
    tolerances_of,
)
from strutwright.making.wrap import end_curve

__all__ = [
    "Craft",
    "EndWork",
    "HubSolid",
    "PlateDrawing",
    "Sampled",
    "Swap",
    "Tolerances",
    "end_curve",
    "end_work",
    "hub_plate",
    "hub_solid",
    "sampled",
    "socket_sizes",
    "tolerances_of",
]
