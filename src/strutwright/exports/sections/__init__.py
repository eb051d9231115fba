"""Sections of kit.json, one module each: the form of the section and what fills it."""

from strutwright.exports.sections.climate import ClimatePart, climate_section
from strutwright.exports.sections.cover import CoverPart, cover_section

__all__ = ["ClimatePart", "CoverPart", "climate_section", "cover_section"]
