"""`cut`: pieces out of bars, at the least cost."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from strutwright.catalogue import Bar
from strutwright.cutting.costs import NEAR
from strutwright.cutting.job import Job, Pattern, make_job
from strutwright.cutting.values import Cut, CutBar, CuttingPlan, Piece, Saw
from strutwright.cutting.whole import solve_whole
from strutwright.cutting.zones import Part, usable_parts
from strutwright.errors import InputError
from strutwright.sentences import note
from strutwright.values import Indices, Note

__all__ = ["Asked", "cut", "prepare", "too_few"]


def cut(pieces: Sequence[Piece], bars: Sequence[Bar], saw: Saw | None = None) -> CuttingPlan:
    """Return a plan that saws `pieces` out of `bars` at the least cost found.

    n pieces of a bar take their lengths, n - 1 kerfs and the end trim. The cost is money where
    every bar has a price, less what offcuts that are kept are worth; else metres. The plan says
    what it could not be beaten by, and whether that is proven.

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
    asked = prepare(wanted, bars, saw)
    plan, bound = solve_whole(asked.job)
    if plan is None:
        raise too_few(wanted, bars)
    by_price, sawn = asked.by_price, _sawn(asked, _without_surplus(asked.job, plan), wanted)
    cost = sum((bar.price or 0.0) - bar.worth if by_price else bar.length for bar in sawn)
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


@dataclass(frozen=True)
class Asked:
    """A job with what it was made from.

    Parameters
    ----------
    job : Job
    width_of : (n,) int array
        Width of each piece.
    parts : list of Part
        Parts of bars, in the order of the job's bars.
    saw : Saw
    by_price : bool
        True where the costs of the job are money.
    """

    job: Job
    width_of: Indices
    parts: list[Part]
    saw: Saw
    by_price: bool


def prepare(pieces: Sequence[Piece], bars: Sequence[Bar], saw: Saw) -> Asked:
    """Return the job of `pieces` and `bars`; where it is not money that counts, nothing is kept."""
    _check_values(pieces, bars, saw)
    by_price = all(bar.price is not None for bar in bars) and any(bar.price for bar in bars)
    parts = usable_parts(bars, by_price=by_price)
    if by_price:
        _check_worth(parts, saw)
    else:
        saw = replace(saw, keep_value=0.0)
    costs = [part.price if part.price is not None else part.length for part in parts]
    job, width_of = make_job(pieces, parts, saw, costs)
    return Asked(job, width_of, parts, saw, by_price)


def _check_worth(parts: Sequence[Part], saw: Saw) -> None:
    """Raise InputError where an offcut would be worth more than the bar that it comes from."""
    for part in parts:
        if part.price and saw.keep_value * part.length >= part.price:
            raise InputError(
                "cutting-value",
                f"a metre of offcut is worth {saw.keep_value:g}, more than a metre of the "
                f"{part.length:.3f} m bar costs",
                "keep value",
                "give a value below the price of a metre",
            )


def _notes(bars: Sequence[Bar], *, by_price: bool) -> tuple[Note, ...]:
    if by_price or all(bar.price is None for bar in bars):
        return ()
    return (note("bar-price-missing"),)


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
        if bar.price is not None and not 0 <= bar.price < np.inf:
            refuse(f"a bar costs {bar.price}")
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


def _sawn(asked: Asked, plan: list[Pattern], pieces: Sequence[Piece]) -> tuple[CutBar, ...]:
    """Return the bars with their labelled pieces, the longest piece of each bar first."""
    saw = asked.saw
    waiting: dict[int, deque[Cut]] = defaultdict(deque)
    for piece, width in zip(pieces, asked.width_of.tolist(), strict=True):
        waiting[width].extend([Cut(piece.label, piece.length)] * piece.quantity)
    sawn = []
    for one in plan:
        part = asked.parts[asked.job.source[one.bar]]
        cuts = tuple(waiting[i].popleft() for i, n in enumerate(one.counts) for _ in range(n))
        taken = saw.end_trim + sum(c.length for c in cuts) + len(cuts) * saw.kerf
        rest = max(part.length - taken, 0.0)
        is_kept = saw.keep is not None and rest >= saw.keep
        sawn.append(
            CutBar(
                part.stock,
                part.length,
                cuts,
                rest,
                part.price,
                part.name,
                part.start + saw.end_trim,
                saw.keep_value * rest if is_kept else 0.0,
                saw.kerf,
            )
        )
    return tuple(sawn)
