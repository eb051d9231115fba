"""Every file that a user writes: the brief, and how to start one."""

from strutwright.brief.end_tests import end_tests_of, parse_end_tests
from strutwright.brief.levels import Level, levels_of, parse_levels
from strutwright.brief.old_kit import OldKit, read_old_kit
from strutwright.brief.rack import RACK_COLUMNS, Rack, parse_rack, read_rack
from strutwright.brief.read import parse_brief, read_brief
from strutwright.brief.readings import (
    Known,
    Reading,
    Readings,
    parse_readings,
    read_readings,
)
from strutwright.brief.reference import brief_reference
from strutwright.brief.schema_file import schema
from strutwright.brief.sections import (
    Bar,
    Climate,
    ConnectorTable,
    Cover,
    Crew,
    Delivery,
    Freedom,
    Hubs,
    HubTest,
    Loads,
    Opening,
    Price,
    Project,
    Shape,
    Site,
    Size,
    StockTable,
    Struts,
    Survey,
    Wind,
)
from strutwright.brief.template import starter_brief, write_starter
from strutwright.brief.values import Brief, as_table

__all__ = [
    "RACK_COLUMNS",
    "Bar",
    "Brief",
    "Climate",
    "ConnectorTable",
    "Cover",
    "Crew",
    "Delivery",
    "Freedom",
    "HubTest",
    "Hubs",
    "Known",
    "Level",
    "Loads",
    "OldKit",
    "Opening",
    "Price",
    "Project",
    "Rack",
    "Reading",
    "Readings",
    "Shape",
    "Site",
    "Size",
    "StockTable",
    "Struts",
    "Survey",
    "Wind",
    "as_table",
    "brief_reference",
    "end_tests_of",
    "levels_of",
    "parse_brief",
    "parse_end_tests",
    "parse_levels",
    "parse_rack",
    "parse_readings",
    "read_brief",
    "read_old_kit",
    "read_rack",
    "read_readings",
    "schema",
    "starter_brief",
    "write_starter",
]
