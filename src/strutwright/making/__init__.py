"""From a kit to what the workshop makes: hub bodies, plates, strut ends; how well it all fits."""

from strutwright.making.arms import Arm, Plate, Slit, plates_of
from strutwright.making.ends import EndWork, end_work
from strutwright.making.form import WALL, Fixings, HubForm, Spoke, Stake, hub_form
from strutwright.making.plate import PlateDrawing, foot_strap, hub_plates, lug
from strutwright.making.solid import HubSolid, hub_solids, socket_sizes
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
    "WALL",
    "Arm",
    "Craft",
    "EndWork",
    "Fixings",
    "HubForm",
    "HubSolid",
    "Plate",
    "PlateDrawing",
    "Sampled",
    "Slit",
    "Spoke",
    "Stake",
    "Swap",
    "Tolerances",
    "end_curve",
    "end_work",
    "foot_strap",
    "hub_form",
    "hub_plates",
    "hub_solids",
    "lug",
    "plates_of",
    "sampled",
    "socket_sizes",
    "tolerances_of",
]
