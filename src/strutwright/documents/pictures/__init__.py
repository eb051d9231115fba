"""Pictures of a shell and its parts, as sheets."""

from strutwright.documents.pictures.as_built import AsBuilt, as_built, marked
from strutwright.documents.pictures.hub_card import Spoke, hub_card
from strutwright.documents.pictures.marking import marking
from strutwright.documents.pictures.of_kit import (
    hub_at,
    hub_type_card,
    hub_type_thumb,
    kit_signs,
)
from strutwright.documents.pictures.ring import RingSigns, base_ring
from strutwright.documents.pictures.signs import TypeSign, band_words, neat_scale, signs
from strutwright.documents.pictures.views import View, view, view_labels

__all__ = [
    "AsBuilt",
    "RingSigns",
    "Spoke",
    "TypeSign",
    "View",
    "as_built",
    "band_words",
    "base_ring",
    "hub_at",
    "hub_card",
    "hub_type_card",
    "hub_type_thumb",
    "kit_signs",
    "marked",
    "marking",
    "neat_scale",
    "signs",
    "view",
    "view_labels",
]
