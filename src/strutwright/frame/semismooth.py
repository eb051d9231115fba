"""A first guess of what lifts, slides and hangs slack by Newton's method, from a similar load."""

from __future__ import annotations

import numpy as np

from strutwright.frame.trial import OPEN, PRESSED, SLIDING, Pushes, Trial, unit_rows
from strutwright.values import Floats, Indices

__all__ = ["newton_guess"]

ROUNDS = 25
"""Most rounds; a guess that has not settled by then is given up."""

STILL = 1e-10
"""Share of the largest force by which the conditions may be missed."""

EYE = np.eye(2)

HALVINGS = 6
"""Times that a step which makes matters worse is halved."""


def newton_guess(pushes: Pushes, start: Floats) -> Trial | None:
    """Return the trial set that Newton's method settles on from movements `start`, or None.

    The conditions of contact and friction as equations that are smooth in pieces: a push is
    max(0, push - r lift), friction the nearest point to friction - r slide within its bound, r
    any stiffness above zero: the mean of the frame's on a logarithmic scale, and ten times that.
    Source: Alart and Curnier, Computer Methods in Applied Mechanics and Engineering 92 (1991)
    353 (recalled).
    """
    use = np.flatnonzero(pushes.movable)
    values = np.linalg.eigvalsh(pushes.change[np.ix_(use, use)])
    solid = values[values > 1e-9 * values.max(initial=0.0)]
    if len(solid) == 0:
        return None
    middle = float(np.sqrt(solid.min() * solid.max()))
    for r in (middle, 10.0 * middle):
        found = _settled(pushes, start, np.full(len(pushes.start), r))
        if found is not None:
            return found
    return None


def _settled(pushes: Pushes, start: Floats, r: Floats) -> Trial | None:
    size = float(np.abs(pushes.start).max(initial=0.0)) * STILL
    y = np.where(pushes.movable, start, 0.0)
    missing, slope = _conditions(pushes, y, r)
    for _ in range(ROUNDS):
        if float(np.abs(missing).max()) <= size:
            return _as_trial(pushes, y, r)
        try:
            way = np.linalg.solve(slope, -missing)
        except np.linalg.LinAlgError:
            return None
        if not np.isfinite(way).all():
            return None
        before = float(np.linalg.norm(missing))
        for halving in range(HALVINGS):
            trial = y + 0.5**halving * way
            missing, slope = _conditions(pushes, trial, r)
            if float(np.linalg.norm(missing)) < before:
                break
        y = trial
    return None


def _conditions(pushes: Pushes, y: Floats, r: Floats) -> tuple[Floats, Floats]:
    """Return what each condition misses, N, and its slope over the movements."""
    count = len(pushes.friction)
    q = pushes.start + pushes.change @ y
    missing, slope = q.copy(), pushes.change.copy()
    one_way = np.ones(len(q), dtype=bool)
    one_way[: 3 * count] = np.arange(3 * count) % 3 == 0
    _hold(missing, slope, np.flatnonzero(one_way & (q - r * y > 0.0)), (r, y))
    normal = 3 * np.arange(count)
    movable = pushes.movable[normal]
    push = q[normal] - np.where(movable, r[normal] * y[normal], 0.0)
    drag = (q - r * y)[: 3 * count].reshape(count, 3)[:, 1:]
    size = np.linalg.norm(drag, axis=1)
    most = pushes.friction * np.maximum(push, 0.0)
    sticks = np.flatnonzero((push > 0.0) & (size <= most))
    _hold(missing, slope, np.concatenate([3 * sticks + 1, 3 * sticks + 2]), (r, y))
    for k in np.flatnonzero((push > 0.0) & (size > most)):
        rows = 3 * k + np.array([1, 2])
        way, share = drag[k] / size[k], most[k] / size[k]
        turning = share * (EYE - way[:, None] * way)
        missing[rows] -= most[k] * way
        lever = pushes.friction[k] * way
        slope[rows] -= turning @ pushes.change[rows] + lever[:, None] * pushes.change[3 * k]
        slope[rows[:, None], rows] += turning * r[rows]
        if movable[k]:
            slope[rows, 3 * k] += lever * r[3 * k]
    still = np.flatnonzero(~pushes.movable)
    _hold(missing, slope, still, (np.ones(len(r)), np.zeros(len(y))))
    return missing, slope


def _hold(missing: Floats, slope: Floats, rows: Indices, at: tuple[Floats, Floats]) -> None:
    """Set the conditions of `rows` to no movement: r y."""
    r, y = at
    missing[rows], slope[rows] = r[rows] * y[rows], 0.0
    slope[rows, rows] = r[rows]


def _as_trial(pushes: Pushes, y: Floats, r: Floats) -> Trial:
    """Return the states at movements that meet the conditions."""
    count = len(pushes.friction)
    q = pushes.start + pushes.change @ y
    small = STILL * float(np.abs(pushes.start).max(initial=0.0))
    slack = (q - r * y)[3 * count :] < -small
    parts, drag = y[: 3 * count].reshape(count, 3), (q - r * y)[: 3 * count].reshape(count, 3)
    push = np.where(pushes.movable[: 3 * count : 3], drag[:, 0], q[: 3 * count : 3])
    with np.errstate(invalid="ignore"):
        slides = np.hypot(drag[:, 1], drag[:, 2]) > pushes.friction * push
    contact = np.where(push <= 0.0, OPEN, np.where(slides, SLIDING, PRESSED))
    return Trial(contact.astype(np.int64), slack, unit_rows(parts[:, 1:]))
