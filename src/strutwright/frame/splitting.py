"""A good first guess of what lifts, slides and hangs slack where simple trial sets go round."""

from __future__ import annotations

import numpy as np

from strutwright.frame.trial import OPEN, PRESSED, SLIDING, Pushes, Trial, unit_rows
from strutwright.values import Floats

__all__ = ["guess"]

ROUNDS = 6000
"""Most rounds; the guess is then as good as it got, and the exact search judges it."""

STILL = 1e-11
"""Change of the unknowns in a round, as a share of their size, at which they have settled."""


def guess(pushes: Pushes) -> Trial:
    """Return the trial set towards which alternating projections go.

    Elastic energy on one side, the conditions of contact on the other, each met in turn; the
    bound of friction follows the push. Source: alternating direction method of multipliers,
    Boyd et al., Foundations and Trends in Machine Learning 3 (2011), section 3 (recalled).
    """
    use = np.flatnonzero(pushes.movable)
    stiffness = pushes.change[np.ix_(use, use)]
    values, vectors = np.linalg.eigh(0.5 * (stiffness + stiffness.T))
    values = np.maximum(values, 0.0)
    solid = values[values > 1e-9 * values.max(initial=0.0)]
    weight = float(np.sqrt(solid.min() * solid.max())) if len(solid) else 1.0
    start = pushes.start[use]
    z = np.zeros(len(pushes.start))
    w = np.zeros(len(pushes.start))
    for number in range(ROUNDS):
        inner = vectors.T @ (weight * (z - w)[use] - start)
        y = np.zeros_like(z)
        y[use] = vectors @ (inner / (values + weight))
        mixed = 1.6 * y + (1.0 - 1.6) * z  # over-relaxed, section 3.4.3
        before = z
        z = _allowed(pushes, mixed + w, weight)
        w = np.where(pushes.movable, w + mixed - z, w)
        if number % 50 == 49:
            moved = weight * float(np.linalg.norm(z - before))
            apart = weight * float(np.linalg.norm(y - z))
            size = weight * float(np.linalg.norm(w))
            if max(moved, apart) <= STILL * size:
                break
            factor = 2.0 if apart > 10.0 * moved else 0.5 if moved > 10.0 * apart else 1.0
            weight, w = weight * factor, w / factor
    return _as_trial(pushes, z)


def _allowed(pushes: Pushes, wished: Floats, weight: float) -> Floats:
    """Return the nearest movements that the contacts and ties allow."""
    count = len(pushes.friction)
    out = np.maximum(wished, 0.0)
    parts, given = out[: 3 * count].reshape(count, 3), wished[: 3 * count].reshape(count, 3)
    fixed = ~pushes.movable[: 3 * count : 3]
    push = np.where(fixed, pushes.start[: 3 * count : 3], -weight * np.minimum(given[:, 0], 0.0))
    push = np.maximum(push, 0.0)
    with np.errstate(invalid="ignore"):
        most = np.where(push > 0.0, pushes.friction * push, 0.0)
    size = np.linalg.norm(given[:, 1:], axis=1)
    left = np.maximum(weight * size - most, 0.0)
    share = np.divide(left, weight * size, out=np.zeros_like(size), where=size > 0.0)
    parts[:, 1:] = share[:, None] * given[:, 1:]
    return np.where(pushes.movable, out, 0.0)


def _as_trial(pushes: Pushes, z: Floats) -> Trial:
    """Return which contacts moved, and how."""
    count = len(pushes.friction)
    parts = z[: 3 * count].reshape(count, 3)
    slides = (parts[:, 1:] != 0.0).any(axis=1)
    contact = np.where(parts[:, 0] > 0.0, OPEN, np.where(slides, SLIDING, PRESSED))
    return Trial(contact.astype(np.int64), z[3 * count :] > 0.0, unit_rows(parts[:, 1:]))
