"""The ground: setting out, slopes, anchors."""

from strutwright.site.anchor_values import (
    AnchorPlan,
    Asked,
    GroundTie,
    HubAnchors,
    Option,
    Weight,
)
from strutwright.site.anchors import plan_anchors
from strutwright.site.holding import Holding, NoHoldError, holding
from strutwright.site.setting_out import Peg, PegRow, SettingOut, Span, set_out, skew_of
from strutwright.site.staking import staking_order
from strutwright.site.tape import (
    crossing_ellipse,
    sag_correction,
    skew_from_diagonals,
    slope_correction,
    temperature_correction,
)
from strutwright.site.terrain import Leg, Terrain, legs_of, terrain_of

__all__ = [
    "AnchorPlan",
    "Asked",
    "GroundTie",
    "Holding",
    "HubAnchors",
    "Leg",
    "NoHoldError",
    "Option",
    "Peg",
    "PegRow",
    "SettingOut",
    "Span",
    "Terrain",
    "Weight",
    "crossing_ellipse",
    "holding",
    "legs_of",
    "plan_anchors",
    "sag_correction",
    "set_out",
    "skew_from_diagonals",
    "skew_of",
    "slope_correction",
    "staking_order",
    "temperature_correction",
    "terrain_of",
]
