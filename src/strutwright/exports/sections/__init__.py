"""Sections of kit.json, one module each: the form of the section and what fills it."""

from strutwright.exports.sections.climate import ClimatePart, climate_section
from strutwright.exports.sections.cover import CoverPart, cover_section
from strutwright.exports.sections.loads import LoadsPart, loads_section
from strutwright.exports.sections.packing import PackingPart, packing_section
from strutwright.exports.sections.price import PricePart, price_section
from strutwright.exports.sections.sequence import SequencePart, sequence_section
from strutwright.exports.sections.site import SitePart, site_section
from strutwright.exports.sections.stability import StabilityPart, stability_section
from strutwright.exports.sections.structure import StructurePart, structure_section
from strutwright.exports.sections.tolerances import TolerancesPart, tolerances_section

__all__ = [
    "ClimatePart",
    "CoverPart",
    "LoadsPart",
    "PackingPart",
    "PricePart",
    "SequencePart",
    "SitePart",
    "StabilityPart",
    "StructurePart",
    "TolerancesPart",
    "climate_section",
    "cover_section",
    "loads_section",
    "packing_section",
    "price_section",
    "sequence_section",
    "site_section",
    "stability_section",
    "structure_section",
    "tolerances_section",
]
