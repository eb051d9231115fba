"""Data with its source beside every number."""

from strutwright.catalogue.anchors import Anchor, anchor, anchor_ids
from strutwright.catalogue.carriers import Carrier, carrier, carrier_ids
from strutwright.catalogue.connectors import Connector, FastenerItem, connector, connector_ids
from strutwright.catalogue.covers import Cover, cover, cover_ids
from strutwright.catalogue.label_sheets import LabelSheet, label_sheet, label_sheet_ids, usual_sheet
from strutwright.catalogue.load import CATALOGUE_VERSION
from strutwright.catalogue.materials import (
    DURATIONS,
    Material,
    material,
    materials,
    modulus_at,
    temperature_factor,
)
from strutwright.catalogue.sections import Section, rectangle, rod, tube
from strutwright.catalogue.soils import Soil, find_soil, soil_ids
from strutwright.catalogue.source import Source
from strutwright.catalogue.stock import Bar, Stock, stock, stock_ids

__all__ = [
    "CATALOGUE_VERSION",
    "DURATIONS",
    "Anchor",
    "Bar",
    "Carrier",
    "Connector",
    "Cover",
    "FastenerItem",
    "LabelSheet",
    "Material",
    "Section",
    "Soil",
    "Source",
    "Stock",
    "anchor",
    "anchor_ids",
    "carrier",
    "carrier_ids",
    "connector",
    "connector_ids",
    "cover",
    "cover_ids",
    "find_soil",
    "label_sheet",
    "label_sheet_ids",
    "material",
    "materials",
    "modulus_at",
    "rectangle",
    "rod",
    "soil_ids",
    "stock",
    "stock_ids",
    "temperature_factor",
    "tube",
    "usual_sheet",
]
