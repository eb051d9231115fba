"""From a kit to what the workshop makes: hub bodies and plates, drilled and flattened ends."""

from strutwright.making.ends import EndWork, end_work
from strutwright.making.plate import PlateDrawing, hub_plate
from strutwright.making.solid import HubSolid, hub_solid

__all__ = ["EndWork", "HubSolid", "PlateDrawing", "end_work", "hub_plate", "hub_solid"]
