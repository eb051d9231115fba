"""Which readings tell hypotheses apart best: one after the other, the best first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np
from scipy.special import ndtr

from strutwright.values import Floats, Indices

__all__ = ["Chooser", "mistaken", "pairs_within"]

HARDEST: Final = 4000
"""Pairs of hypotheses that one choice looks at: those that are still hardest to tell apart."""


class Chooser:
    """Readings chosen so far, and what all others would still add.

    Parameters
    ----------
    expected : (N, C) array, m
        What each of C possible readings would be under each of N hypotheses.
    covariance : (C, C) array, m2
        Of the readings, without their own noise: struts, base heights.
    noise : float, m
        Standard deviation of one reading.
    """

    def __init__(self, expected: Floats, covariance: Floats, noise: float) -> None:
        self.left = expected - expected[:1]
        self.covariance = covariance + np.diag(np.full(len(covariance), noise**2))
        self.first, self.second = np.triu_indices(len(expected), 1)
        self.apart = np.zeros(len(self.first))
        self.chosen: list[int] = []

    def choose(self) -> int:
        """Take the reading that leaves the least confusion, and return its index.

        Confusion is the sum of exp(-d2 / 8) over the pairs of hypotheses that are hardest to
        tell apart, d the distance of their readings in standard deviations (Bhattacharyya's
        bound of the error of telling one from the other).
        """
        hard = self._hardest()
        variance = np.diag(self.covariance).copy()
        variance[self.chosen] = np.inf
        best, least = -1, np.inf
        step = max(1, 4_000_000 // max(len(hard), 1))
        for start in range(0, len(variance), step):
            part = slice(start, start + step)
            gap = self.left[self.first[hard], part] - self.left[self.second[hard], part]
            d2 = self.apart[hard, None] + gap**2 / variance[part]
            confusion = np.exp(-d2 / 8).sum(axis=0)
            confusion[np.isinf(variance[part])] = np.inf
            k = int(np.argmin(confusion))
            if confusion[k] < least - 1e-12:
                best, least = start + k, float(confusion[k])
        self.take(best)
        return best

    def take(self, index: int) -> None:
        """Count the reading `index` as taken: what it tells is taken out of all others."""
        own = self.covariance[index, index]
        gain = self.covariance[:, index] / own
        seen = self.left[:, index].copy()
        self.apart += (seen[self.first] - seen[self.second]) ** 2 / own
        self.left = self.left - np.outer(seen, gain)
        self.covariance = self.covariance - own * np.outer(gain, gain)
        self.chosen.append(index)

    def _hardest(self) -> Indices:
        if len(self.apart) <= HARDEST:
            return np.arange(len(self.apart))
        return np.argpartition(self.apart, HARDEST)[:HARDEST]

    def distances(self) -> Floats:
        """Return the (N, N) squared distances of the hypotheses in standard deviations."""
        n = len(self.left)
        table = np.zeros((n, n))
        table[self.first, self.second] = self.apart
        return table + table.T


def mistaken(distances: Floats) -> Floats:
    """Return for each of N hypotheses a bound of the probability that another looks likelier.

    The union bound: the sum over the others of the normal tail beyond half their distance.
    """
    tails = ndtr(-np.sqrt(distances) / 2)
    np.fill_diagonal(tails, 0.0)
    bound: Floats = np.minimum(tails.sum(axis=1), 1.0)
    return bound


def pairs_within(points: Floats, reach: float) -> Iterator[tuple[int, int]]:
    """Yield all pairs of hubs (H, 3) not higher than `reach`."""
    low = np.flatnonzero(points[:, 2] <= reach)
    for place, first in enumerate(low):
        for second in low[place + 1 :]:
            yield int(first), int(second)
