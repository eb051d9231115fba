"""The cutting plan: which piece is sawn from which bar."""

from strutwright.catalogue import Bar
from strutwright.cutting.cut import cut
from strutwright.cutting.from_kit import kit_pieces, plan_cuts
from strutwright.cutting.values import Cut, CutBar, CuttingPlan, Piece, Saw

__all__ = [
    "Bar",
    "Cut",
    "CutBar",
    "CuttingPlan",
    "Piece",
    "Saw",
    "cut",
    "kit_pieces",
    "plan_cuts",
]
