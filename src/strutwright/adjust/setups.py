"""Directions read with an unknown zero: each setup's zero is taken out of its rows."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.sparse import csr_array

from strutwright.adjust.network import Observation, Stencil
from strutwright.values import Floats

__all__ = ["Weighed"]


class Weighed:
    """Observations with values and weights, as rows of a least-squares problem.

    The zero of a setup is the weighted mean of what its directions leave; taking that mean out of
    rows and misclosures gives the same coordinates as carrying it along as an unknown (Schreiber's
    elimination, recalled).

    Parameters
    ----------
    observations : sequence of Observation
    stencil : Stencil
        Of the same observations.
    """

    def __init__(self, observations: Sequence[Observation], stencil: Stencil) -> None:
        self.stencil = stencil
        self.values = np.array([one.value for one in observations])
        self.weight = 1.0 / np.array([one.sigma for one in observations])
        setups: dict[tuple[int, str], int] = {}
        found = [
            (row, setups.setdefault((one.ends[0], one.setup), len(setups)))
            for row, one in enumerate(observations)
            if one.kind == "direction"
        ]
        rows, which = np.array(found, dtype=np.int64).reshape(-1, 2).T
        self.rows, self.which, self.n_setups = rows, which, len(setups)
        sums = np.sqrt(np.bincount(which, self.weight[rows] ** 2, self.n_setups))
        entries = self.weight[rows] / sums[which]
        shape = (len(self.values), self.n_setups)
        self.zeros = csr_array((entries, (rows, which)), shape=shape)

    def orientations(self, points: Floats) -> Floats:
        """Return the (k,) bearing of every setup's zero, rad in [0, 2 pi)."""
        rest = (self.stencil.observed(points) - self.values)[self.rows]
        squares = self.weight[self.rows] ** 2
        across = np.bincount(self.which, squares * np.sin(rest), self.n_setups)
        along = np.bincount(self.which, squares * np.cos(rest), self.n_setups)
        first = np.arctan2(across, along)
        left = _wrapped(rest - first[self.which])
        share = np.bincount(self.which, squares * left, self.n_setups)
        found: Floats = first + share / np.bincount(self.which, squares, self.n_setups)
        return found % (2 * np.pi)

    def misclosure(self, points: Floats) -> Floats:
        """Return the (n,) observations less what they would read at `points`."""
        seen = self.stencil.observed(points)
        seen[self.rows] -= self.orientations(points)[self.which]
        off: Floats = self.values - seen
        angular = self.stencil.angular
        off[angular] = _wrapped(off[angular])
        return off

    def design(self, points: Floats) -> csr_array:
        """Return the (n, P*D) weighted rows at `points`, zeros of setups taken out."""
        rows = csr_array(self.stencil.jacobian(points).multiply(self.weight[:, None]))
        if not self.n_setups:
            return rows
        return csr_array(rows - self.zeros @ (self.zeros.T @ rows))

    def leverage(self) -> Floats:
        """Return the (n,) share of each observation in the zero of its setup."""
        return np.asarray(self.zeros.multiply(self.zeros).sum(axis=1)).ravel()


def _wrapped(angles: Floats) -> Floats:
    """Return `angles` in (-pi, pi]."""
    found: Floats = np.pi - (np.pi - angles) % (2 * np.pi)
    return found
