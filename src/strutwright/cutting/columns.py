"""Column generation: the fractional cutting plan, a lower bound, and the patterns it needs.

Gilmore and Gomory, A linear programming approach to the cutting-stock problem, Operations
Research 9 (1961) 849-859; the bound is that of Farley, Operations Research 38 (1990) 922-923
(both recalled).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from strutwright.cutting.job import Job, Pattern
from strutwright.cutting.master import Master
from strutwright.cutting.pricing import best_patterns
from strutwright.values import Floats

__all__ = ["Fractional", "single_patterns", "solve_fractional"]

MOST_ROUNDS: Final = 2000
"""Rounds of column generation; a job that needs more has its bound from the best one."""
GRIDS: Final = (4000, 40_000)
"""Steps of the coarse grids on which patterns are looked for first, the coarsest one first."""
FREE: Final = 1e-9
"""A bar that costs nothing counts as this, so that what it holds can be divided by it."""
CONVERGED: Final = 1e-9
"""A pattern that improves the plan by a smaller share than this is none."""


@dataclass(frozen=True)
class Fractional:
    """A fractional plan.

    Parameters
    ----------
    amounts : (n,) array
        How often each pattern of the master is cut.
    bound : float
        No plan costs less.
    missing : float
        Pieces that cannot be cut since bars are too few.
    values : (m,) array
        What a piece of each width is worth in the plan.
    scarcity : (b,) array
        What one bar more would change the cost by: zero or below.
    """

    amounts: Floats
    bound: float
    missing: float
    values: Floats
    scarcity: Floats


def single_patterns(job: Job) -> list[Pattern]:
    """Return the patterns of one width alone, as many as fit."""
    found = []
    for bar, room in enumerate(job.capacities.tolist()):
        for index, width in enumerate(job.widths.tolist()):
            n = min(room // width, int(job.demand[index]))
            if n > 0 and job.there[bar]:
                counts = [0] * len(job.widths)
                counts[index] = n
                found.append(Pattern(bar, tuple(counts)))
    return found


def solve_fractional(
    job: Job, master: Master, rounded_up: Callable[[float], float] | None = None
) -> Fractional:
    """Return the best fractional plan of `job`; `master` asks for it and learns the patterns.

    Parameters
    ----------
    rounded_up : function or None
        Lifts a bound to the next cost that whole bars can have; the search ends as soon as the
        bound so lifted cannot rise. None asks for no bound: it ends on the finest grid.
    """
    bound = 0.0
    grids = [grid for steps in GRIDS if (grid := _coarse(job, steps)) is not None]
    for _ in range(MOST_ROUNDS):
        amounts, missing, values, scarcity = master.solve()
        new: list[Pattern] = []
        for grid in grids:
            new = _improving(job, grid, values, scarcity)[0]
            new = [one for one in new if one not in master.patterns]
            if new:
                break
        if not new and rounded_up is None and len(grids) == len(GRIDS):
            break
        if not new:
            new, ratio = _improving(job, job, values, scarcity)
            new = [one for one in new if one not in master.patterns]
            reached = float(values @ job.demand) / max(1.0, ratio)
            bound = max(bound, reached + float(scarcity @ job.quantities))
            cost = float(values @ job.demand + scarcity @ job.quantities)
            if not new or (rounded_up and rounded_up(bound) >= rounded_up(cost)):
                break
        master.add(new)
    return Fractional(amounts, bound, missing, values, scarcity)


def _improving(
    job: Job, measured: Job, values: Floats, scarcity: Floats
) -> tuple[list[Pattern], float]:
    """Return the patterns that improve the plan, and the largest value per cost of any pattern."""
    found, largest = [], 0.0
    prices = job.costs - scarcity[job.source]
    for bar, (value, counts) in enumerate(_best_of_kinds(job, measured, values)):
        ratio = value / max(float(prices[bar]), FREE) if job.there[bar] else 0.0
        largest = max(largest, ratio)
        if ratio > 1 + CONVERGED:
            found.append(Pattern(bar, counts))
    return found, largest


def _best_of_kinds(job: Job, measured: Job, values: Floats) -> list[tuple[float, tuple[int, ...]]]:
    """Return the best pattern of each kind of bar, less what its sawn steps cost."""
    best: dict[int, tuple[float, tuple[int, ...]]] = {}
    for rate in np.unique(job.rates).tolist():
        kinds = np.flatnonzero((job.rates == rate) & (measured.capacities >= 0))
        if not len(kinds):
            continue
        worth = values - rate * job.widths
        every = best_patterns(worth, measured.widths, job.demand, measured.capacities[kinds])
        best.update(zip(kinds.tolist(), every, strict=True))
    none = (0.0, (0,) * len(job.widths))
    return [best.get(kind, none) for kind in range(len(job.costs))]


def _coarse(job: Job, steps: int) -> Job | None:
    """Return the job on a grid of `steps`, widths up, so that its patterns fit; None if finer."""
    step = int(job.capacities.max()) // steps
    if step < 2:
        return None
    return replace(job, widths=-(-job.widths // step), capacities=job.capacities // step)
