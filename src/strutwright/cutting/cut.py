"""`cut`: pieces out of bars, at the least cost."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Sequence

import numpy as np

from strutwright.catalogue import Bar
from strutwright.cutting.job import Job, Pattern, make_job
from strutwright.cutting.values import Cut, CutBar, CuttingPlan, Piece, Saw
from strutwright.cutting.whole import NEAR, cost_of, solve_whole
from strutwright.errors import InputError
from strutwright.values import Indices, Note

__all__ = ["cut", "job_of", "too_few"]


def cut(pieces: Sequence[Piece], bars: Sequence[Bar], saw: Saw | None = None) -> CuttingPlan:
    """Return a plan that saws `pieces` out of `bars` at the least cost found.

    n pieces of a bar take their lengths, n - 1 kerfs and the end trim. The cost is money where
    every bar has a price, else metres. The plan says what it could not be beaten by, and whether
    that is proven.

    Raises
    ------
    InputError
        ``piece-too-long``, ``bars-too-few``, or ``cutting-value``: a length or quantity is not
        positive, or kerf or trim is negative.
    """
    saw = saw or Saw()
    _check_values(pieces, bars, saw)
    wanted = [piece for piece in pieces if piece.quantity]
    if not wanted:
        return CuttingPlan((), 0.0, 0.0, proven=True, used=0.0, bought=0.0)
    job, width_of, by_price = job_of(wanted, bars, saw)
    plan, bound = solve_whole(job)
    if plan is None:
        raise too_few(wanted, bars)
    cost = cost_of(job, plan)
    sawn = _sawn(_without_surplus(job, plan), wanted, width_of, bars, saw)
    return CuttingPlan(
        bars=sawn,
        cost=cost,
        bound=min(bound, cost),
        proven=cost <= bound * (1 + NEAR),
        used=sum(piece.length * piece.quantity for piece in wanted),
        bought=sum(bar.length for bar in sawn),
        by_price=by_price,
        notes=_notes(bars, by_price=by_price),
    )


def job_of(pieces: Sequence[Piece], bars: Sequence[Bar], saw: Saw) -> tuple[Job, Indices, bool]:
    """Return the job, the width of each piece, and whether its costs are money."""
    _check_values(pieces, bars, saw)
    prices = [bar.price for bar in bars if bar.price is not None]
    by_price = len(prices) == len(bars) and min(prices) > 0
    costs = prices if by_price else [bar.length for bar in bars]
    job, width_of = make_job(pieces, bars, saw, costs)
    return job, width_of, by_price


def _notes(bars: Sequence[Bar], *, by_price: bool) -> tuple[Note, ...]:
    if by_price or all(bar.price is None for bar in bars):
        return ()
    text = "Not every bar has a price above zero: the cutting plan saves metres of bar, not money."
    return (Note("bar-price-missing", text),)


def _check_values(pieces: Sequence[Piece], bars: Sequence[Bar], saw: Saw) -> None:
    def refuse(what: str) -> None:
        raise InputError("cutting-value", what, "struts.bars", "give a value above zero")

    if not bars:
        refuse("there is no bar to cut from")
    for what, saw_value in (("kerf", saw.kerf), ("end trim", saw.end_trim)):
        if not 0 <= saw_value < np.inf:
            refuse(f"the {what} is {saw_value} m")
    for piece in pieces:
        if not 0 < piece.length < np.inf or piece.quantity < 0:
            refuse(f"piece {piece.label} is {piece.quantity} x {piece.length} m")
    for bar in bars:
        if not 0 < bar.length < np.inf or (bar.quantity is not None and bar.quantity < 0):
            refuse(f"a bar is {bar.quantity} x {bar.length} m")


def too_few(pieces: Sequence[Piece], bars: Sequence[Bar]) -> InputError:
    """Return the error of bars that do not hold all pieces."""
    have = sum(bar.length * (bar.quantity or 0) for bar in bars)
    need = sum(piece.length * piece.quantity for piece in pieces)
    return InputError(
        "bars-too-few",
        f"the bars at hand ({have:.2f} m) do not hold all pieces ({need:.2f} m and the cuts)",
        "struts.bars",
        "give more bars, or a bar length without a quantity",
    )


def _without_surplus(job: Job, plan: list[Pattern]) -> list[Pattern]:
    """Return the plan with no piece more than is wanted; the fullest bars keep theirs."""
    left = job.demand.copy()
    kept = []
    for one in sorted(plan, key=lambda p: (p.bar, tuple(-n for n in p.counts))):
        counts = np.minimum(one.counts, left)
        left -= counts
        if counts.any():
            kept.append(Pattern(one.bar, tuple(counts.tolist())))
    return kept


def _sawn(
    plan: list[Pattern],
    pieces: Sequence[Piece],
    width_of: Indices,
    bars: Sequence[Bar],
    saw: Saw,
) -> tuple[CutBar, ...]:
    """Return the bars with their labelled pieces, the longest piece of each bar first."""
    waiting: dict[int, deque[Cut]] = defaultdict(deque)
    for piece, width in zip(pieces, width_of.tolist(), strict=True):
        waiting[width].extend([Cut(piece.label, piece.length)] * piece.quantity)
    sawn = []
    for one in plan:
        bar = bars[one.bar]
        cuts = tuple(waiting[i].popleft() for i, n in enumerate(one.counts) for _ in range(n))
        rest = bar.length - saw.end_trim - sum(c.length for c in cuts) - len(cuts) * saw.kerf
        sawn.append(CutBar(bar.stock, bar.length, cuts, max(rest, 0.0), bar.price))
    return tuple(sawn)
