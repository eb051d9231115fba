"""`pool_cuts`: one cutting plan over the kits of several briefs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from strutwright.brief import Brief, Rack
from strutwright.catalogue import Bar
from strutwright.cutting import CuttingPlan, Piece, Saw, cut, kit_pieces
from strutwright.parts import Kit, make_kit
from strutwright.progress import SILENT, Progress, step
from strutwright.sentences import note
from strutwright.shape import make_shell
from strutwright.values import Note

__all__ = ["PooledPlan", "pool_cuts"]


@dataclass(frozen=True)
class PooledPlan:
    """The cutting plan of one stock over all kits that are made of it.

    Parameters
    ----------
    stock : str
    kits : tuple of str
        Names of the kits, in the order of the briefs.
    plan : CuttingPlan
        Labels are ``2-A`` for type A of the second brief; without the number for one brief.
    notes : tuple of Note
    """

    stock: str
    kits: tuple[str, ...]
    plan: CuttingPlan
    notes: tuple[Note, ...] = ()


def pool_cuts(
    briefs: Sequence[Brief],
    rack: Rack | None = None,
    *,
    keep: float | None = None,
    keep_value: float = 0.0,
    progress: Progress = SILENT,
) -> tuple[PooledPlan, ...]:
    """Return a cutting plan for each stock that the kits of `briefs` are made of.

    Parameters
    ----------
    briefs : sequence of Brief
    rack : Rack or None
        What there is to cut from; None takes the bars of the briefs. Where it has only so many
        bars of a stock, those of the briefs are bought for the rest.
    keep : float or None, m
        A rest at least this long goes back to the rack.
    keep_value : float
        What a metre of it is worth.
    progress : Progress

    Raises
    ------
    InputError
        A brief cannot be built; ``piece-too-long``; ``bars-too-few``.
    """
    wanted: dict[str, list[tuple[int, Brief, Kit]]] = {}
    for number, brief in enumerate(briefs, start=1):
        step(progress, "kits", (number - 1) / len(briefs))
        kit = make_kit(make_shell(brief, progress), brief, progress)
        wanted.setdefault(kit.stock.id, []).append((number, brief, kit))
    plans = []
    for stock, kits in wanted.items():
        step(progress, f"cut plan {stock}", 0.0)
        pieces = [
            Piece(f"{number}-{p.label}" if len(briefs) > 1 else p.label, p.length, p.quantity)
            for number, _, kit in kits
            for p in kit_pieces(kit)
        ]
        saw, notes = _saw([brief for _, brief, _ in kits], keep, keep_value)
        bars = _bars(stock, [kit for _, _, kit in kits], rack)
        plan = cut(pieces, bars, saw)
        names = tuple(brief.project.name for _, brief, _ in kits)
        plans.append(PooledPlan(stock, names, plan, (*notes, *plan.notes)))
    return tuple(plans)


def _saw(
    briefs: Sequence[Brief], keep: float | None, keep_value: float
) -> tuple[Saw, tuple[Note, ...]]:
    """Return the saw of all `briefs`: the widest cut and the longest trim."""
    kerfs = {brief.struts.kerf for brief in briefs}
    trims = {brief.struts.end_trim for brief in briefs}
    saw = Saw(max(kerfs), max(trims), keep, keep_value)
    if len(kerfs) == len(trims) == 1:
        return saw, ()
    return saw, (note("saw-differs", kerf=saw.kerf, trim=saw.end_trim),)


def _bars(stock: str, kits: Sequence[Kit], rack: Rack | None) -> list[Bar]:
    at_hand = [] if rack is None else list(rack.of(stock))
    if any(bar.quantity is None for bar in at_hand):
        return at_hand
    sold = dict.fromkeys(bar for kit in kits for bar in kit.stock.bars)
    return at_hand + [Bar(bar.length, bar.price, bar.quantity, stock) for bar in sold]
