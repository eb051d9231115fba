"""Groups numbers that are alike within a tolerance, whatever their order."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.values import Floats, Indices

__all__ = [
    "NUMERIC_ANGLE",
    "NUMERIC_LENGTH",
    "chained_groups",
    "complete_groups",
    "interval_groups",
    "same_rows",
]

NUMERIC_LENGTH: Final = 1e-7
"""Lengths closer than this (m) differ by rounding alone: symmetric copies of one strut."""
NUMERIC_ANGLE: Final = 1e-6
"""The same for angles, rad."""


def same_rows(columns: Floats, tolerance: float) -> Indices:
    """Return a group number for each row of (n, c) `columns`; rows of one group are alike.

    Each column splits the groups where its sorted values leave a gap above `tolerance`, so the
    result does not depend on the order of the rows, and no value lies on a bin's edge.
    """
    label = np.zeros(len(columns), dtype=np.int64)
    for column in columns.T:
        order = np.lexsort((column, label))
        value, before = column[order], label[order]
        new = (np.diff(before) != 0) | (np.diff(value) > tolerance)
        label[order] = np.concatenate([[0], np.cumsum(new)])
    return label


def interval_groups(values: Floats, tolerance: float, numeric: float) -> Indices:
    """Return the group of each of (n,) `values`, 0 the largest: as few as `tolerance` allows.

    Each group spans at most `tolerance`. Values that differ by rounding alone (`numeric`) are
    never parted. Filling from the largest down gives the least number of groups.
    """
    copies = same_rows(values[:, None], numeric)
    n_copies = int(copies.max(initial=-1)) + 1
    low, high = np.full(n_copies, np.inf), np.full(n_copies, -np.inf)
    np.minimum.at(low, copies, values)
    np.maximum.at(high, copies, values)
    group_of, group, top = np.empty(n_copies, dtype=np.int64), -1, np.inf
    for index in np.argsort(-high, kind="stable"):
        if group < 0 or top - low[index] > tolerance + numeric:
            group, top = group + 1, high[index]
        group_of[index] = group
    return group_of[copies]


def chained_groups(values: Floats, gap: float, span: float) -> Indices:
    """Return the group of each of (n,) `values`: those that follow one another within `gap`.

    A chain that spans more than `span` is parted into groups of at most `gap`, as by
    `interval_groups`. For measured values, whose errors fill the room between the true ones.
    """
    chain = same_rows(values[:, None], gap)
    group = np.zeros(len(values), dtype=np.int64)
    first = 0
    for one in range(int(chain.max(initial=-1)), -1, -1):
        mine = chain == one
        wide = np.ptp(values[mine]) > span
        inner = interval_groups(values[mine], gap, NUMERIC_LENGTH) if wide else 0
        group[mine] = first + inner
        first = int(group[mine].max()) + 1
    return group


def complete_groups(distances: Floats, tolerance: float) -> Indices:
    """Return the group of each of n things of (n, n) `distances`, none wider than `tolerance`."""
    n = len(distances)
    if n == 1:
        return np.zeros(1, dtype=np.int64)
    from scipy.cluster.hierarchy import fcluster, linkage  # heavy (0.4 s) and seldom needed

    upper = distances[np.triu_indices(n, 1)]
    return np.asarray(fcluster(linkage(upper, "complete"), tolerance, "distance") - 1, np.int64)
