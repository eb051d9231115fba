"""`count_bars`: bars that pieces take by one plain plan, to compare many jobs at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from strutwright.catalogue import Bar
from strutwright.cutting.costs import cost_of
from strutwright.cutting.cut import prepare, too_few
from strutwright.cutting.greedy import first_fit
from strutwright.cutting.values import Piece, Saw

__all__ = ["BarCount", "count_bars"]


@dataclass(frozen=True)
class BarCount:
    """Bars that a job takes by first-fit decreasing.

    Parameters
    ----------
    bars : int
    bought, used : float, m
        In bars; in pieces.
    cost : float
        Sum of the prices, or the metres bought where a price is missing.
    """

    bars: int
    bought: float
    used: float
    cost: float


def count_bars(pieces: Sequence[Piece], bars: Sequence[Bar], saw: Saw) -> BarCount:
    """Return the bars that first-fit decreasing takes for `pieces`.

    The plan that is sawn is never dearer, mostly by a few per cent cheaper: this one is for
    comparing many jobs by one measure.

    Raises
    ------
    InputError
        As `cut`.
    """
    wanted = [piece for piece in pieces if piece.quantity]
    if not wanted:
        return BarCount(0, 0.0, 0.0, 0.0)
    asked = prepare(wanted, bars, saw)
    job = asked.job
    plan = first_fit(job)
    if plan is None:
        raise too_few(wanted, bars)
    return BarCount(
        bars=len(plan),
        bought=sum(asked.parts[job.source[one.bar]].length for one in plan),
        used=sum(piece.length * piece.quantity for piece in wanted),
        cost=cost_of(job, plan),
    )
