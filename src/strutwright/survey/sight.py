"""What the readings see of a shape: their values at it, and how they change with it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from strutwright.survey.observe import Measure
from strutwright.values import ArrayValue, Floats, HubPoints, Indices

__all__ = ["Sight", "sight_of", "sight_of_pairs"]


@dataclass(frozen=True, eq=False)
class Sight(ArrayValue):
    """Readings as the diagnosis needs them.

    Parameters
    ----------
    first, second : (n,) int array
        Hubs of each distance; of a height the hub twice.
    values, sigmas : (n,) array, m
    """

    first: Indices
    second: Indices
    values: Floats
    sigmas: Floats

    def predict(self, shape: HubPoints) -> Floats:
        """Return what each of the n readings would be at `shape` (H, 3), or at many (N, H, 3)."""
        step = shape[..., self.second, :] - shape[..., self.first, :]
        reach = np.sqrt((step**2).sum(axis=-1))
        return np.where(self.first == self.second, shape[..., self.first, 2], reach)

    def rows(self, shape: HubPoints) -> Floats:
        """Return the (n, 3H) change of the readings with the hubs."""
        n = len(self.first)
        found = np.zeros((n, 3 * len(shape)))
        step = shape[self.second] - shape[self.first]
        is_height = self.first == self.second
        reach = np.where(is_height, 1.0, np.sqrt((step**2).sum(axis=1)))
        unit = step / reach[:, None]
        rows = np.arange(n)
        for axis in range(3):
            found[rows, 3 * self.second + axis] += unit[:, axis]
            found[rows, 3 * self.first + axis] -= unit[:, axis]
        found[rows[is_height], 3 * self.first[is_height] + 2] = 1.0
        return found


def sight_of(measures: Sequence[Measure], ground: float) -> Sight:
    """Return `measures`; heights are above `ground`, m."""
    return Sight(
        np.array([one.hubs[0] for one in measures], dtype=np.int64),
        np.array([one.hubs[-1] for one in measures], dtype=np.int64),
        np.array([one.value + (ground if one.kind == "height" else 0.0) for one in measures]),
        np.array([one.sigma for one in measures], dtype=float),
    )


def sight_of_pairs(pairs: Indices, shape: HubPoints, sigma: float) -> Sight:
    """Return distances between `pairs` (n, 2) as they would be read at `shape`."""
    bare = Sight(pairs[:, 0], pairs[:, 1], np.zeros(len(pairs)), np.full(len(pairs), sigma))
    return Sight(bare.first, bare.second, bare.predict(shape), bare.sigmas)
