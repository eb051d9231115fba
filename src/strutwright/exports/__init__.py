"""From a kit to files for other programs: one module for each format, and their registry."""

from strutwright.exports.comma import csv_bytes, cut_plan_csv, parts_csv
from strutwright.exports.hubs import hub_files
from strutwright.exports.kit_json import kit_data, kit_json, parts_data, shell_data
from strutwright.exports.kit_schema import KIT_SCHEMA_VERSION, kit_schema
from strutwright.exports.parts_xlsx import parts_xlsx
from strutwright.exports.patterns import pattern_files
from strutwright.exports.registry import FORMATS, Order, export, label_of
from strutwright.exports.setting_out import setting_out_csv
from strutwright.exports.shell_dxf import shell_dxf
from strutwright.exports.shell_glb import shell_glb
from strutwright.exports.survey_json import surveyed_data
from strutwright.exports.tables import CutBar, CutPiece, Table

__all__ = [
    "FORMATS",
    "KIT_SCHEMA_VERSION",
    "CutBar",
    "CutPiece",
    "Order",
    "Table",
    "csv_bytes",
    "cut_plan_csv",
    "export",
    "hub_files",
    "kit_data",
    "kit_json",
    "kit_schema",
    "label_of",
    "parts_csv",
    "parts_data",
    "parts_xlsx",
    "pattern_files",
    "setting_out_csv",
    "shell_data",
    "shell_dxf",
    "shell_glb",
    "surveyed_data",
]
