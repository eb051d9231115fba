"""The ground: setting out, slopes, anchors."""

from strutwright.site.setting_out import Peg, PegRow, SettingOut, Span, set_out
from strutwright.site.tape import (
    crossing_ellipse,
    sag_correction,
    skew_from_diagonals,
    slope_correction,
    temperature_correction,
)

__all__ = [
    "Peg",
    "PegRow",
    "SettingOut",
    "Span",
    "crossing_ellipse",
    "sag_correction",
    "set_out",
    "skew_from_diagonals",
    "slope_correction",
    "temperature_correction",
]
