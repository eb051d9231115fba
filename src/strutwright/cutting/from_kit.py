"""`plan_cuts`: the cutting plan of a kit."""

from __future__ import annotations

from strutwright.brief import Brief
from strutwright.catalogue import Bar
from strutwright.cutting.cut import cut
from strutwright.cutting.values import CuttingPlan, Piece, Saw
from strutwright.parts import Kit
from strutwright.progress import SILENT, Progress, step

__all__ = ["kit_pieces", "plan_cuts"]


def kit_pieces(kit: Kit) -> tuple[Piece, ...]:
    """Return the pieces that the struts of `kit` are made of."""
    return tuple(
        Piece(piece.label, piece.length, piece.quantity)
        for kind in kit.strut_types
        for piece in kind.pieces
    )


def plan_cuts(kit: Kit, brief: Brief, progress: Progress = SILENT) -> CuttingPlan:
    """Return the cutting plan of `kit` on its stock's bars with the saw of `brief`.

    Raises
    ------
    InputError
        ``piece-too-long`` or ``bars-too-few``.
    """
    step(progress, "cut plan", 0.0)
    bars = [Bar(b.length, b.price, b.quantity, kit.stock.id) for b in kit.stock.bars]
    plan = cut(kit_pieces(kit), bars, Saw(brief.struts.kerf, brief.struts.end_trim))
    step(progress, "cut plan", 1.0)
    return plan
