"""`plan_cuts`: the cutting plan of a kit."""

from __future__ import annotations

from strutwright.brief import Brief
from strutwright.catalogue import Bar
from strutwright.cutting.cut import cut
from strutwright.cutting.plain import BarCount, count_bars
from strutwright.cutting.values import CuttingPlan, Piece, Saw
from strutwright.parts import Kit, n_pieces
from strutwright.progress import SILENT, Progress, step

__all__ = ["count_kit_bars", "count_scaled_bars", "kit_pieces", "plan_cuts"]


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
    plan = cut(kit_pieces(kit), _bars(kit), Saw(brief.struts.kerf, brief.struts.end_trim))
    step(progress, "cut plan", 1.0)
    return plan


def count_kit_bars(kit: Kit, brief: Brief) -> BarCount:
    """Return the bars that `kit` takes by one plain plan, to compare kits.

    Raises
    ------
    InputError
        ``piece-too-long`` or ``bars-too-few``.
    """
    saw = Saw(brief.struts.kerf, brief.struts.end_trim)
    return count_bars(kit_pieces(kit), _bars(kit), saw)


def count_scaled_bars(
    kit: Kit, brief: Brief, scale: float, longest_piece: float | None
) -> BarCount:
    """Return the bars that `kit` would take if its shell were `scale` times as large.

    Joints keep their size; struts longer than `longest_piece` (m) are split anew.

    Raises
    ------
    InputError
        ``cutting-value``, ``piece-too-long`` or ``bars-too-few``.
    """
    pieces = []
    for kind in kit.strut_types:
        sawn = kind.node_length * scale - (kind.node_length - kind.cut_length)
        n = n_pieces(sawn, kind.role, longest_piece)
        pieces.append(Piece(kind.label, sawn / n, kind.quantity * n))
    saw = Saw(brief.struts.kerf, brief.struts.end_trim)
    return count_bars(pieces, _bars(kit), saw)


def _bars(kit: Kit) -> list[Bar]:
    return [Bar(b.length, b.price, b.quantity, kit.stock.id) for b in kit.stock.bars]
