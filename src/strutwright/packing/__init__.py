"""Parcels: which piece travels in which parcel."""

from strutwright.packing.pack import pack, room_of
from strutwright.packing.values import Content, Item, PackingPlan, Parcel, Room

__all__ = ["Content", "Item", "PackingPlan", "Parcel", "Room", "pack", "room_of"]
