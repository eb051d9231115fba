"""How many times too large forces are, where a rule's own number beyond 1 does not say so.

Moments that grow as 1/(1 - N/N_cr) have no number from the Euler load on. Forces that are scaled
down together reach the limit at one share of themselves: its inverse is told instead.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from strutwright.values import Floats

__all__ = ["multiple_by_trial", "multiple_of"]

HALVINGS: Final = 40
"""Rounds of halving in `multiple_by_trial`: the share is then known to 1e-12."""


def multiple_of(utilisation: Floats, *sums: tuple[Floats, Floats, Floats]) -> Floats:
    """Return the utilisation, and above 1 the multiple of what a strut carries.

    Forces growing in proportion reach the limit at the share s of themselves at which
    s a + s b/(1 - s c) = 1, so that 1/s = ((a + b + c) + sqrt((a + b + c)^2 - 4 a c))/2: it is 1
    where the rule's number is 1, and finite beyond the Euler load. Source: exact.

    Parameters
    ----------
    utilisation : (S,) array
        By the rule.
    sums : tuples of (S,) arrays a, b, c
        Axial and first-order bending shares of the resistance, and N/N_cr; the worst counts.
    """
    several = [(a + b + c, a * c) for a, b, c in sums]
    worst = np.max([(s + np.sqrt(np.maximum(s**2 - 4 * ac, 0.0))) / 2 for s, ac in several], axis=0)
    told: Floats = np.where(utilisation > 1.0, np.maximum(worst, 1.0), utilisation)
    return told


def multiple_by_trial(rule: Callable[[Floats], Floats], utilisation: Floats) -> Floats:
    """Return the same for a rule that is no linear sum, by halving.

    Parameters
    ----------
    rule : callable
        (S,) utilisations under (S,) shares of the forces.
    utilisation : (S,) array
        Under all of them.
    """
    over = utilisation > 1.0
    if not over.any():
        return utilisation
    low, high = np.zeros(len(over)), np.ones(len(over))
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        too_much = rule(middle) > 1.0
        low, high = np.where(too_much, low, middle), np.where(too_much, middle, high)
    told: Floats = np.where(over, 1.0 / high, utilisation)
    return told
