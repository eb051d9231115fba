"""Small dense least-squares problems with limits, and least largest movement by reweighting."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.optimize import nnls

from strutwright.values import Floats, Indices

__all__ = ["POWERS", "Limits", "largest_moves", "least", "least_largest"]

POWERS: Final = (4, 8, 16, 32)
"""Norms that lead from least squares to least largest movement: our choice."""
REPEATS: Final = 3
"""Reweighted steps in each norm."""
LEAST_WEIGHT: Final = 1e-4
"""No hub weighs less than this share of the one that moves most, so that all stay in the sum."""
RIDGE: Final = 1e-12
"""Share by which the diagonal of normal equations is raised, so that they are never singular."""
ROUNDS: Final = 6
"""Times that limits may be added to a least-squares problem before it is left as it is."""
NO_POINT: Final = 1e-10
"""Residual of the dual problem below which the limits contradict one another."""


@dataclass(frozen=True, eq=False)
class Limits:
    """Limits rows @ x >= least; with `weights` a breach only costs (weight x breach) squared."""

    rows: Floats
    least: Floats
    weights: Floats | None


def least(rows: Floats, start: Floats, limits: Limits) -> Floats | None:
    """Return x of least |start + rows x| within `limits`; None where hard limits leave no x."""
    if limits.weights is None:
        return _least_hard(rows, start, limits)
    gram, right = rows.T @ rows, -(rows.T @ start)
    x = np.linalg.solve(_raised(gram), right)
    broken = np.zeros(len(limits.least), dtype=bool)
    for _ in range(ROUNDS):
        now = limits.rows @ x < limits.least
        if (now == broken).all():
            break
        broken = now
        heavy = limits.weights[broken, None] * limits.rows[broken]
        lack = limits.weights[broken] * limits.least[broken]
        x = np.linalg.solve(_raised(gram + heavy.T @ heavy), right + heavy.T @ lack)
    return np.asarray(x, dtype=np.float64)


def _least_hard(rows: Floats, start: Floats, limits: Limits) -> Floats | None:
    """Return x of least |start + rows x| with limits kept, or None.

    Limits are taken in as they are found broken. Source: Lawson and Hanson, Solving Least Squares
    Problems, ch. 23 (LSI turned into least distance, solved by NNLS), recalled.
    """
    factor = np.linalg.cholesky(_raised(rows.T @ rows))
    shift = np.linalg.solve(factor, rows.T @ start)
    turned = np.linalg.solve(factor, limits.rows.T).T
    floor = limits.least + turned @ shift
    taken = floor > 0
    z = np.zeros(len(shift))
    for _ in range(10 * ROUNDS):
        if not taken.any():
            break
        found = _least_distance(turned[taken], floor[taken])
        if found is None:
            return None
        z = found
        slip = NO_POINT * np.abs(floor).max(initial=0.0)
        more = (turned @ z < floor - slip) & ~taken
        if not more.any():
            break
        taken |= more
    return np.asarray(np.linalg.solve(factor.T, z - shift))


def _raised(gram: Floats) -> Floats:
    raised = gram.copy()
    diagonal = np.diag_indices_from(raised)
    raised[diagonal] += RIDGE * raised[diagonal].max()
    return raised


def _least_distance(rows: Floats, floor: Floats) -> Floats | None:
    """Return the shortest z with rows z >= floor; None where there is none."""
    scale = np.abs(floor).max()
    e = np.vstack([rows.T, floor[None] / scale])
    f = np.zeros(len(e))
    f[-1] = 1.0
    try:
        u, _ = nnls(e, f)
    except RuntimeError:  # it cycled: as good as no point for a search that has other candidates
        return None
    residual = e @ u - f
    if abs(residual[-1]) < NO_POINT:
        return None
    return np.asarray(-residual[:-1] / residual[-1] * scale)


def largest_moves(owner: Indices, q: Floats) -> Floats:
    """Return the (n,) movement of the hub of each unknown, m."""
    return np.asarray(np.sqrt(np.bincount(owner, q * q))[owner])


def least_largest(rows: Floats, start: Floats, owner: Indices, limits: Limits) -> Floats | None:
    """Return x for which the largest movement of a hub in start + rows x is least, or None.

    By reweighted least squares through rising norms, each step shortened by (norm - 1), which
    makes it Newton's step; the best x met on the way is returned.
    """
    x = least(rows, start, limits)
    if x is None:
        return None
    best, most = x, _judged(rows, start, owner, limits, x)
    for power in POWERS:
        for _ in range(REPEATS):
            moved = largest_moves(owner, start + rows @ x)
            share = moved / max(moved.max(), 1e-300)
            weight = np.maximum(share ** ((power - 2) / 2), LEAST_WEIGHT)
            new = least(rows * weight[:, None], start * weight, limits)
            if new is None:
                return best
            x = x + (new - x) / (power - 1)
            now = _judged(rows, start, owner, limits, x)
            if now < most:
                best, most = x, now
    return best


def _judged(rows: Floats, start: Floats, owner: Indices, limits: Limits, x: Floats) -> float:
    largest = float(largest_moves(owner, start + rows @ x).max(initial=0.0))
    if limits.weights is None:
        return largest
    lack = limits.weights * (limits.least - limits.rows @ x)
    return largest + float(lack.max(initial=0.0)) / 2
