"""From the fractional plan to whole bars."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from itertools import islice
from math import floor
from typing import Final

import numpy as np

from strutwright.cutting.columns import Fractional, single_patterns, solve_fractional
from strutwright.cutting.costs import NEAR, Plan, cost_of, rounded_up
from strutwright.cutting.greedy import first_fit
from strutwright.cutting.job import Job, Pattern
from strutwright.cutting.master import NONE_LEFT, Master, whole_amounts
from strutwright.cutting.prove import prove
from strutwright.values import Floats, Indices

__all__ = ["solve_whole"]

MOST_NODES: Final = 200
"""Nodes of the branch and bound over the patterns found; work, not time, so plans repeat."""


def solve_whole(job: Job) -> tuple[Plan | None, float]:
    """Return the cheapest plan found and a cost below which there is none.

    The plan is None where the bars are too few. First-fit decreasing; rounding of the fractional
    plan, worked out anew after each fixed bar; then branch and bound over all patterns met.
    """
    master = Master(job)
    master.add(single_patterns(job))
    fractional = solve_fractional(job, master, partial(rounded_up, job))
    if fractional.missing > NONE_LEFT:
        return None, fractional.bound
    bound = rounded_up(job, fractional.bound)
    best = first_fit(job)
    if not _reached(job, best, bound):
        best = _cheaper(job, best, _dive(job, fractional, master))
    if not _reached(job, best, bound):
        cost = None if best is None else cost_of(job, best)
        found, bound = prove(job, cost, bound, list(master.patterns))
        best = _cheaper(job, best, found)
    if not _reached(job, best, bound):
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


def _dive(job: Job, start: Fractional, master: Master) -> Plan | None:
    """Return a plan by fixing bars of the fractional plan; `master` learns patterns on the way."""
    plan: Plan = []
    current, left = start, job
    while True:
        fixed = _fixed(left, tuple(master.patterns), current.amounts)
        plan += fixed
        left = _left(left, fixed)
        if not left.demand.any() or not fixed:
            return None if left.demand.any() else plan
        known = [_trimmed(one, left.demand) for one in (*master.patterns,)]
        master.add([one for one in known if any(one.counts)])
        master.ask(left)
        current = solve_fractional(left, master)
        if current.missing > NONE_LEFT:
            return None


def _fixed(left: Job, patterns: tuple[Pattern, ...], amounts: Floats) -> Plan:
    """Return the whole part of the fractional plan, or the bar that is nearest to a whole one."""
    order = np.argsort(-amounts, kind="stable").tolist()
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
