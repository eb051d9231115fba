"""The cutting plan: which piece is sawn from which bar."""

from strutwright.catalogue import Bar
from strutwright.cutting.cut import cut
from strutwright.cutting.from_kit import (
    count_kit_bars,
    count_scaled_bars,
    kit_pieces,
    plan_cuts,
)
from strutwright.cutting.plain import BarCount, count_bars
from strutwright.cutting.values import Cut, CutBar, CuttingPlan, Piece, Saw

__all__ = [
    "Bar",
    "BarCount",
    "Cut",
    "CutBar",
    "CuttingPlan",
    "Piece",
    "Saw",
    "count_bars",
    "count_kit_bars",
    "count_scaled_bars",
    "cut",
    "kit_pieces",
    "plan_cuts",
]
