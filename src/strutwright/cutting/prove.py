"""The second prover: every pattern that a cheaper plan could hold, then a whole-number program.

A plan that costs no more than a target holds no pattern whose reduced cost is above the target
less the cost of the fractional plan. Where these patterns are few they are all found, and the
program over them is exact. Column enumeration; Baldacci, Christofides and Mingozzi, Mathematical
Programming 115 (2008) 351-385 (recalled).
"""

from __future__ import annotations

from math import ceil
from typing import Final

import numpy as np

from strutwright.cutting.columns import Fractional, solve_fractional
from strutwright.cutting.costs import NEAR, Plan, costs_alike, rounded_up, step_of
from strutwright.cutting.job import Job, Pattern
from strutwright.cutting.master import NONE_LEFT, Master, whole_plan
from strutwright.values import Floats

__all__ = ["near_patterns", "prove"]

MOST_PATTERNS: Final = 50_000
"""Patterns of a proof; more make no small job."""
FEW_PATTERNS: Final = 800
"""The same where bars cost differently: such programs branch for minutes on more."""
MOST_CELLS: Final = 20_000_000
"""Widths times steps of a bar that the search for them may tabulate: 160 MB."""
MOST_NODES: Final = 1000
"""Nodes of a proof's branch and bound; work, not time, so that plans repeat."""
MOST_COLUMNS: Final = 150_000
"""Nodes times patterns of such a program where bars cost differently: some seconds."""
SHARES: Final = (1.0, 0.5, 0.25, 0.1)
"""Shares of the gap that are tried, the whole first: each has fewer patterns."""


def prove(
    job: Job, best: float | None, bound: float, known: list[Pattern]
) -> tuple[Plan | None, float]:
    """Return a plan cheaper than `best` where there is one, and a bound not below `bound`.

    Parameters
    ----------
    job : Job
    best : float or None
        Cost of the best plan so far; None where there is none.
    bound : float
        No plan costs less.
    known : list of Pattern
        Patterns met so far, from which the fractional plan starts.
    """
    master = Master(job)
    master.add(known)
    start = solve_fractional(job, master, lambda cost: cost)
    cost = float(start.values @ job.demand + start.scarcity @ job.quantities)
    if start.missing > NONE_LEFT or best is None or start.bound < cost * (1 - NEAR / 10):
        return None, bound
    bound = max(bound, rounded_up(job, start.bound))
    for target in _targets(job, best, bound):
        patterns = near_patterns(job, start, target)
        if patterns is None:
            continue
        plan, least = whole_plan(job, patterns, target, _nodes(job, len(patterns)))
        # dearer plans may hold other patterns: the program says nothing above the target
        least = rounded_up(job, least) if least <= target else target + step_of(job)
        return plan, max(bound, least)
    return None, bound


def _nodes(job: Job, patterns: int) -> int:
    """Return how many nodes a proof over so many patterns may take."""
    return MOST_NODES if costs_alike(job) else min(MOST_NODES, MOST_COLUMNS // max(patterns, 1))


def _targets(job: Job, best: float, bound: float) -> list[float]:
    """Return costs below `best` that a plan could have, the dearest first."""
    each = step_of(job)
    if not each:
        return [bound + share * (best - bound) for share in SHARES]
    steps = round((best - bound) / each)
    every = {ceil(share * steps) - 1 for share in SHARES}
    return [bound + n * each for n in sorted(every, reverse=True) if n >= 0]


def near_patterns(job: Job, start: Fractional, target: float) -> list[Pattern] | None:
    """Return the patterns of plans that cost `target` or less, None where they are too many."""
    if len(job.widths) * int(job.capacities.max()) > MOST_CELLS:
        return None
    gap = target - start.bound + NEAR * max(target, 1.0)
    prices = job.costs - start.scarcity[job.source]
    most = MOST_PATTERNS if costs_alike(job) else FEW_PATTERNS
    found: list[Pattern] = []
    for rate in np.unique(job.rates).tolist():
        worth = start.values - rate * job.widths
        tables = _tables(job, worth)
        for kind in np.flatnonzero((job.rates == rate) & (job.there > 0)).tolist():
            if job.capacities[kind] < 0:
                continue
            floor = float(prices[kind]) - gap
            room = most - len(found)
            counts = _above(job, worth, tables, int(job.capacities[kind]), (floor, room))
            if counts is None:
                return None
            found += [Pattern(kind, one) for one in counts]
    return found


def _tables(job: Job, worth: Floats) -> Floats:
    """Return the (m + 1, c + 1) most that the widths from each on are worth in each room."""
    top = int(job.capacities.max())
    tables = np.zeros((len(worth) + 1, top + 1))
    for index in range(len(worth) - 1, -1, -1):
        tables[index] = tables[index + 1]
        best = tables[index]
        width = int(job.widths[index])
        left, n = min(int(job.demand[index]), top // width), 1
        while left > 0 and worth[index] > 0:
            n = min(n, left)
            gain = best[: top + 1 - n * width] + n * worth[index]
            best[n * width :] = np.maximum(best[n * width :], gain)
            left, n = left - n, n * 2
    return tables


def _above(
    job: Job, worth: Floats, tables: Floats, capacity: int, limits: tuple[float, int]
) -> list[tuple[int, ...]] | None:
    """Return every pattern worth at least ``limits[0]``; None for more than ``limits[1]``.

    Where a rest is worth nothing a pattern is left out that has room for a piece more: a plan
    stays one when pieces are added.
    """
    floor, most = limits
    widths, demand = job.widths.tolist(), job.demand.tolist()
    values, m = worth.tolist(), len(worth)
    found: list[tuple[int, ...]] = []
    stack: list[tuple[int, int, float, tuple[int, ...]]] = [(0, capacity, 0.0, ())]
    while stack:
        index, room, value, counts = stack.pop()
        if index == m:
            found.append(counts)
            if len(found) > most:
                return None
            continue
        for n in range(min(demand[index], room // widths[index]) + 1):
            rest, now = room - n * widths[index], value + n * values[index]
            if now + tables[index + 1, rest] >= floor:
                stack.append((index + 1, rest, now, (*counts, n)))
    return found
