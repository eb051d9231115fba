"""From the fractional plan to whole bars."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from itertools import islice
from math import floor, inf
from typing import Final

import numpy as np

from strutwright.cutting.columns import Fractional, single_patterns, solve_fractional
from strutwright.cutting.costs import NEAR, Plan, cost_of, costs_alike, rounded_up
from strutwright.cutting.greedy import first_fit
from strutwright.cutting.improve import improved
from strutwright.cutting.job import Job, Pattern
from strutwright.cutting.master import NONE_LEFT, Master, whole_amounts
from strutwright.cutting.prove import prove
from strutwright.values import Floats, Indices

__all__ = ["solve_whole"]

MOST_NODES: Final = 200
"""Nodes of the branch and bound over the patterns found; work, not time, so plans repeat."""
MOST_PASSED: Final = 4
"""Bars that a dive passes over; more are dives into what is unlikely."""
ENOUGH: Final = 0.003
"""Where bars cost differently, a plan this near to its bound (a share) is not searched further."""
MOST_TRIES: Final = 250
"""Fractional plans that dives may work out; work, as above."""


def solve_whole(job: Job) -> tuple[Plan | None, float]:
    """Return the cheapest plan found and a cost below which there is none.

    The plan is None where the bars are too few. First-fit decreasing; rounding of the fractional
    plan, worked out anew after each fixed bar; where bars cost differently, some of them cut anew
    as long as that is cheaper; then proof, or branch and bound over all patterns met.
    """
    master = Master(job)
    master.add(single_patterns(job))
    fractional = solve_fractional(job, master, partial(rounded_up, job))
    if fractional.missing > NONE_LEFT:
        return None, fractional.bound
    bound = rounded_up(job, fractional.bound)
    best = first_fit(job)
    if not _reached(job, best, bound):
        worst = inf if best is None else cost_of(job, best)
        best = _cheaper(job, best, _dive(job, fractional, master, (worst, bound)))
    if best is not None and not costs_alike(job):
        best = improved(job, best, bound, ENOUGH)
    if not _reached(job, best, bound):
        cost = None if best is None else cost_of(job, best)
        found, bound = prove(job, cost, bound, list(master.patterns))
        best = _cheaper(job, best, found)
    if not _reached(job, best, bound if costs_alike(job) else bound * (1 + ENOUGH)):
        best = _cheaper(job, best, _branch(job, tuple(master.patterns)))
    return best, bound


def _reached(job: Job, plan: Plan | None, bound: float) -> bool:
    return plan is not None and cost_of(job, plan) <= bound * (1 + NEAR)


def _cheaper(job: Job, one: Plan | None, other: Plan | None) -> Plan | None:
    if one is None or other is None:
        return other if one is None else one
    return other if cost_of(job, other) < cost_of(job, one) else one


def _left(job: Job, plan: Plan) -> Job:
    """Return what is still to be cut when `plan` is."""
    demand, quantities = job.demand.copy(), job.quantities.copy()
    for one in plan:
        demand -= np.minimum(one.counts, demand)
        quantities[job.source[one.bar]] -= 1
    return replace(job, demand=demand, quantities=quantities)


@dataclass
class _Search:
    """Dives for a plan cheaper than `best`, down to `bound`.

    `tries` is how many fractional plans may still be worked out, `plan` the cheapest so far.
    """

    job: Job
    master: Master
    best: float
    bound: float
    tries: int
    plan: Plan | None = None

    @property
    def is_over(self) -> bool:
        return self.best <= self.bound * (1 + NEAR)

    def is_cheaper(self, cost: float) -> bool:
        return cost < self.best - NEAR * abs(self.best)


def _dive(job: Job, start: Fractional, master: Master, costs: tuple[float, float]) -> Plan | None:
    """Return a plan cheaper than ``costs[0]`` by fixing bars of the fractional plan, or None.

    `master` learns patterns on the way. Where a dive does not reach the bound ``costs[1]``, others
    follow that pass over the bars it chose first: limited discrepancy search, Harvey and Ginsberg
    1995, within column generation as Sadykov and others do (recalled). Where bars cost
    differently the bound is rarely met: there is one dive.
    """
    search = _Search(job, master, *costs, MOST_TRIES)
    for passes in range(MOST_PASSED + 1 if costs_alike(job) else 1):
        _descend(search, job, [], start, passes)
    return search.plan


def _descend(search: _Search, left: Job, plan: Plan, at: Fractional, passes: int) -> None:
    """Fix bars of the fractional plan `at` of `left` until all is cut or cannot be cheap enough.

    `passes` is how often on the way the bar that would be fixed is passed over.
    """
    passed: set[Pattern] = set()
    patterns = tuple(search.master.patterns)
    for n in range(passes + 1):
        fixed = _fixed(left, patterns, at.amounts, passed)
        if not fixed or search.is_over:
            return
        rest, now = _left(left, fixed), [*plan, *fixed]
        spent = cost_of(search.job, now)
        if not rest.demand.any():
            if search.is_cheaper(spent):
                search.plan, search.best = now, spent
        elif (below := _fractional(search, rest)) and search.is_cheaper(
            spent + _least(rest, below)
        ):
            _descend(search, rest, now, below, passes - n)
        passed.update(fixed)


def _fractional(search: _Search, left: Job) -> Fractional | None:
    """Return the fractional plan of what is `left`; None where bars or tries run out."""
    if search.tries <= 0:
        return None
    search.tries -= 1
    known = [_trimmed(one, left.demand) for one in (*search.master.patterns,)]
    search.master.add([one for one in known if any(one.counts)])
    search.master.ask(left)
    found = solve_fractional(left, search.master)
    return None if found.missing > NONE_LEFT else found


def _least(left: Job, at: Fractional) -> float:
    """Return what whole bars for what is `left` cost at least, by the patterns met so far."""
    return rounded_up(left, float(at.values @ left.demand + at.scarcity @ left.quantities))


def _fixed(left: Job, patterns: tuple[Pattern, ...], amounts: Floats, passed: set[Pattern]) -> Plan:
    """Return the whole part of the fractional plan, or the bar that is nearest to a whole one.

    Bars of `passed` are passed over.
    """
    order = [k for k in np.argsort(-amounts, kind="stable").tolist() if patterns[k] not in passed]
    room = left.quantities.copy()
    fixed: Plan = []
    for index in order:
        one = patterns[index]
        for _ in range(floor(amounts[index] + NEAR)):
            if room[left.source[one.bar]]:
                fixed.append(one)
                room[left.source[one.bar]] -= 1
    if fixed:
        return fixed
    near = [patterns[k] for k in order if amounts[k] > NEAR]
    return list(islice((one for one in near if room[left.source[one.bar]]), 1))


def _trimmed(one: Pattern, demand: Indices) -> Pattern:
    return Pattern(one.bar, tuple(np.minimum(one.counts, demand).tolist()))


def _branch(job: Job, pool: tuple[Pattern, ...]) -> Plan | None:
    """Return the cheapest plan of the patterns in `pool` that branch and bound finds."""
    amounts = whole_amounts(job, pool, MOST_NODES)
    if amounts is None:
        return None
    return [one for one, n in zip(pool, amounts, strict=True) for _ in range(n)]
