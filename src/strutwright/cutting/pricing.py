"""The best pattern for given values of the widths: a bounded knapsack, exact."""

from __future__ import annotations

import numpy as np

from strutwright.values import Floats, Indices

__all__ = ["best_patterns"]

TOLERANCE = 1e-11
"""A pattern counts as better when it gains more than this: below, it is rounding."""


def best_patterns(
    values: Floats, widths: Indices, most: Indices, capacities: Indices
) -> list[tuple[float, tuple[int, ...]]]:
    """Return for each of `capacities` the largest total value of a pattern, and its counts.

    At most `most` of each width. Exact for whole `widths` and `capacities`: dynamic programming
    over all lengths up to the largest capacity.
    """
    top = int(capacities.max())
    best = np.zeros(top + 1)
    taken = []
    for index in np.flatnonzero(values > TOLERANCE).tolist():
        width, left = int(widths[index]), min(int(most[index]), top // int(widths[index]))
        n = 1
        while left > 0:
            n = min(n, left)
            span = n * width
            gain = best[: top + 1 - span] + n * values[index]
            better = gain > best[span:] + TOLERANCE
            np.copyto(best[span:], gain, where=better)
            taken.append((index, n, span, better))
            left -= n
            n *= 2
    found = []
    for capacity in capacities.tolist():
        counts, place = [0] * len(widths), capacity
        for index, n, span, better in reversed(taken):
            if place >= span and better[place - span]:
                counts[index] += n
                place -= span
        value = float(np.dot(counts, values))
        found.append((value, tuple(counts)))
    return found
