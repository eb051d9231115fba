"""What whole bars cost, and what costs there can be."""

from __future__ import annotations

from math import ceil, isfinite
from typing import Final

import numpy as np

from strutwright.cutting.job import Job, Pattern

__all__ = ["NEAR", "Plan", "cost_of", "costs_alike", "rounded_up", "step_of"]

NEAR: Final = 1e-6
"""Amounts this close to a whole number are one; costs this close are equal (as a share)."""
ROUNDING: Final = 1e-8
"""The linear programs are solved to this share."""

Plan = list[Pattern]
"""The bars, each with its pattern."""


def cost_of(job: Job, plan: Plan) -> float:
    """Return the cost of the bars of `plan`."""
    return sum(job.cost(one) for one in plan)


def costs_alike(job: Job) -> bool:
    """Return whether every kind of bar costs the same."""
    return len(set(job.costs.tolist())) == 1


def step_of(job: Job) -> float:
    """Return the common measure of all costs that whole bars can have; 0 where there is none.

    There is one where all bars cost the same, or all prices are whole thousandths.
    """
    if job.rates.any() or not job.costs.all():
        return 0.0
    if costs_alike(job):
        return float(job.costs[0])
    thousandths = [round(cost * 1000) for cost in job.costs.tolist()]
    apart = max(abs(c * 1000 - n) for c, n in zip(job.costs, thousandths, strict=True))
    return 0.0 if apart > NEAR else int(np.gcd.reduce(thousandths)) / 1000


def rounded_up(job: Job, bound: float) -> float:
    """Return `bound` raised to the next cost that whole bars can have."""
    each = step_of(job)
    if not each or not isfinite(bound):
        return bound
    steps = bound / each
    # what rounding may have added to the bound must not lift it over a step
    return max(bound, ceil(steps - NEAR - ROUNDING * steps) * each)
