"""The plane that fits height readings best, with blunders found."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import scipy.linalg

from strutwright.adjust.solve import CRITICAL, DETECTABLE
from strutwright.errors import InputError
from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["Plane", "detectable_height", "fit_plane", "readings_needed"]

LEAST_READINGS: Final = 4
"""Three readings fix a plane and leave nothing to check it by."""


@dataclass(frozen=True, eq=False)
class Plane(ArrayValue):
    """z = a + b x + c y through height readings.

    Parameters
    ----------
    coefficients : (3,) array
        a (m), b, c (m/m).
    covariance : (3, 3) array
    residuals : (n,) array, m
        Plane minus reading, for every reading, those put aside included.
    redundancy : (n,) array
        Redundancy numbers among those used; 0 for those put aside.
    blunders : (k,) int array
        Readings put aside, in the order in which they were found.
    ambiguous : bool
        True when the last blunder could as well have been another reading.
    sigma : float, m
        Standard deviation of one reading that the test used.
    s0 : float
        Residual spread over `sigma`, of the readings used.
    """

    coefficients: Floats
    covariance: Floats
    residuals: Floats
    redundancy: Floats
    blunders: Indices
    ambiguous: bool
    sigma: float
    s0: float

    def height(self, xy: Floats) -> Floats:
        """Return the height of the plane at the (n, 2) points `xy`, m."""
        return np.column_stack([np.ones(len(xy)), xy]) @ self.coefficients

    def height_sigma(self, xy: Floats) -> Floats:
        """Return the standard deviation of `height` at the (n, 2) points `xy`, m."""
        rows = np.column_stack([np.ones(len(xy)), xy])
        variance: Floats = np.einsum("ij,jk,ik->i", rows, self.covariance, rows)
        return np.sqrt(variance)


def fit_plane(xy: Floats, z: Floats, sigma: float) -> Plane:
    """Return the best plane through heights `z` (n,) at `xy` (n, 2), blunders put aside.

    Data snooping: the reading with the largest standardised residual is put aside while it
    passes the critical value and enough readings are left to check the rest.

    Raises
    ------
    InputError
        ``levels-too-few``: fewer than four readings, or all on one line.
    """
    if len(z) < LEAST_READINGS or _flat_rank(xy) < 3:
        raise InputError(
            "levels-too-few",
            f"{len(z)} height readings do not fix and check a plane",
            "site.levels",
            "take five or more readings that are not on one line",
        )
    used = np.arange(len(z))
    put_aside: list[int] = []
    ambiguous = False
    while True:
        coefficients, cofactor, redundancy = _solve(xy[used], z[used])
        v = np.column_stack([np.ones(len(used)), xy[used]]) @ coefficients - z[used]
        with np.errstate(divide="ignore", invalid="ignore"):
            w = np.where(redundancy > 1e-9, np.abs(v) / (sigma * np.sqrt(redundancy)), 0.0)
        worst = int(np.argmax(w))
        left = np.delete(used, worst)
        if w[worst] <= CRITICAL or len(left) < LEAST_READINGS or _flat_rank(xy[left]) < 3:
            break
        ambiguous = bool((w > w[worst] * (1 - 1e-6)).sum() > 1)
        put_aside.append(int(used[worst]))
        used = left
    rows = np.column_stack([np.ones(len(z)), xy])
    all_redundancy = np.zeros(len(z))
    all_redundancy[used] = redundancy
    freedom = len(used) - 3
    return Plane(
        coefficients=coefficients,
        covariance=cofactor * sigma**2,
        residuals=rows @ coefficients - z,
        redundancy=all_redundancy,
        blunders=np.array(put_aside, dtype=np.int64),
        ambiguous=ambiguous,
        sigma=sigma,
        s0=float(np.sqrt((v**2).sum() / freedom) / sigma) if freedom else float("nan"),
    )


def _flat_rank(xy: Floats) -> int:
    rows = np.column_stack([np.ones(len(xy)), xy - xy.mean(axis=0)])
    return int(np.linalg.matrix_rank(rows, tol=1e-6 * np.abs(rows).max() * len(rows)))


def _solve(xy: Floats, z: Floats) -> tuple[Floats, Floats, Floats]:
    rows = np.column_stack([np.ones(len(z)), xy])
    q, r = scipy.linalg.qr(rows, mode="economic")
    inverse = scipy.linalg.solve_triangular(r, np.eye(3))
    return inverse @ (q.T @ z), inverse @ inverse.T, 1.0 - (q**2).sum(axis=1)


def readings_needed(at: Floats, sigma: float, wanted: float) -> int:
    """Return how many readings, spread evenly round the ring, hold every height within `wanted`.

    Heights at the (n, 2) points `at` come from the plane through m readings spread evenly round
    a ring of their mean square radius; 95 % then lie within 1.96 standard deviations. For
    readings evenly on a circle of radius R the variance at radius r is sigma2/m (1 + 2 r2/R2).

    Parameters
    ----------
    at : (n, 2) array, m
    sigma : float, m
        One reading.
    wanted : float, m
    """
    centred = at - at.mean(axis=0)
    reach = np.hypot(*centred.T)
    ring = float(np.sqrt((reach**2).mean()))
    share = 1 + 2 * (float(reach.max()) / ring) ** 2
    return max(LEAST_READINGS + 1, int(np.ceil(share * (1.959964 * sigma / wanted) ** 2)))


def detectable_height(plane: Plane) -> Floats:
    """Return the smallest blunder (m) that would be found in each (n,) reading; inf if none."""
    with np.errstate(divide="ignore"):
        return np.where(
            plane.redundancy > 1e-9, DETECTABLE * plane.sigma / np.sqrt(plane.redundancy), np.inf
        )
