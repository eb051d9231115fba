"""A whole plan made cheaper: some of its bars are cut anew, as well as their pieces allow.

Large neighbourhood search (Shaw 1998, recalled). The neighbourhood is a few bars, the wasteful ones
more often; what they hold is a small job whose patterns can all be found, so that its branch and
bound is near to exact.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from strutwright.cutting.columns import single_patterns, solve_fractional
from strutwright.cutting.costs import NEAR, Plan, cost_of, rounded_up, step_of
from strutwright.cutting.job import Job, Pattern
from strutwright.cutting.master import NONE_LEFT, Master, whole_plan
from strutwright.cutting.prove import near_patterns
from strutwright.values import Indices

__all__ = ["improved"]

ROUNDS: Final = 60
"""Neighbourhoods that are tried; work, not time, so that plans repeat."""
FRUITLESS: Final = 16
"""Of them one after the other that save nothing, after which it ends."""
SIZES: Final = (3, 4, 5, 6)
"""Bars in a neighbourhood, in turn."""
NODES: Final = 10
"""Nodes of its branch and bound."""
MOST: Final = 400
"""Patterns of a neighbourhood; one with more is passed over."""
SHARE: Final = 2e-4
"""Where costs have no common step, a plan must be cheaper by this share of its neighbourhood."""
SEED: Final = 9


def improved(job: Job, plan: Plan, bound: float, enough: float = 0.0) -> Plan:
    """Return a plan no dearer than `plan`; it ends at `bound`, or `enough` (share) above it."""
    random = np.random.default_rng(SEED)
    goal = bound * (1 + enough + NEAR)
    cost = cost_of(job, plan)
    last = 0
    for turn in range(ROUNDS):
        if cost <= goal or len(plan) < 2 or turn - last > FRUITLESS:
            break
        size = min(SIZES[turn % len(SIZES)], len(plan))
        weight = np.array([_waste(job, one) for one in plan])
        weight = weight / max(float(weight.sum()), 1e-12) + 0.5 / len(plan)
        chosen = random.choice(len(plan), size, replace=False, p=weight / weight.sum())
        some = [plan[k] for k in chosen.tolist()]
        rest = [one for k, one in enumerate(plan) if k not in set(chosen.tolist())]
        better = _cut_anew(job, some, rest)
        if better is not None:
            plan = [*rest, *better]
            cost, last = cost_of(job, plan), turn
    return plan


def _waste(job: Job, one: Pattern) -> float:
    """Return what the rest of a bar costs, by the metre of the bar."""
    sawn = float(np.dot(one.counts, job.widths))
    room = float(job.capacities[one.bar])
    return max(room - sawn, 0.0) / max(room, 1.0) * float(job.costs[one.bar])


def _cut_anew(job: Job, some: Plan, rest: Plan) -> Plan | None:
    """Return a cheaper plan of what the bars `some` hold, or None."""
    demand = np.sum([one.counts for one in some], axis=0)
    there = np.flatnonzero(demand)
    left = job.quantities.copy()
    for one in rest:
        left[job.source[one.bar]] -= 1
    small = replace(job, widths=job.widths[there], demand=demand[there],
                    quantities=np.minimum(left, int(demand.sum())))  # fmt: skip
    cost = cost_of(job, some)
    target = cost - (step_of(job) or SHARE * cost)
    master = Master(small)
    master.add(single_patterns(small))
    start = solve_fractional(small, master, lambda value: value)
    if start.missing > NONE_LEFT or rounded_up(small, start.bound) > target * (1 + NEAR):
        return None
    patterns = near_patterns(small, start, target)
    if not patterns or len(patterns) > MOST:
        return None
    found, _ = whole_plan(small, patterns, target, NODES)
    return None if found is None else [_widened(one, there, len(job.widths)) for one in found]


def _widened(one: Pattern, there: Indices, n: int) -> Pattern:
    counts = [0] * n
    for k, count in zip(there.tolist(), one.counts, strict=True):
        counts[k] = count
    return Pattern(one.bar, tuple(counts))
