"""The shape nearest to the start in which every class of struts has one length.

Near the start the lengths of all orbits fix the shape (E = 3V - 3 - B), so the k class lengths
are the only unknowns that are left: each step solves the linear system for the answer of the
shape to every class length, then chooses class lengths so that the hubs move least while every
fold stays above its floor and every size within its freedom.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.sparse import csc_array
from scipy.sparse.linalg import splu

from strutwright.shape import fewer_model as fm
from strutwright.shape.fewer_least import Limits, least, least_largest
from strutwright.shape.fewer_model import Reduced
from strutwright.values import ArrayValue, Floats, HubPoints, Indices

__all__ = [
    "DEFICIT_COST",
    "SETTLED",
    "Bounds",
    "Fit",
    "Response",
    "cost",
    "finished",
    "fit",
    "is_kept",
    "limits_of",
    "polish",
    "respond",
    "stepped",
]

MOST_STEPS: Final = 8
"""Steps of one fit; from a neighbouring fit three or four are enough."""
PATIENCE: Final = 2
"""Steps that a fit may take before it is given up as not worth its end."""
SETTLED: Final = 1e-5
"""A step below this share of the shell's size ends a fit: the next would be of its square."""
EXACT: Final = 1e-12
"""Lengths of a class agree to this share of the shell's size: far below 0.05 mm."""
FOLD_SLIP: Final = 1e-6
"""A fold may miss its floor by this much (rad) through rounding and the last step's curvature."""
SIZE_SLIP: Final = 1e-6
"""A size may miss its freedom by this share of the shell's size, for the same reason."""
LONGEST_STEP: Final = 0.15
"""Share of the shortest strut that a hub may move in one step: our choice, keeps faces upright."""
GAIN: Final = 0.002
"""A gain below this share ends a search: less than a workshop can measure."""
DEFICIT_COST: Final = 1.0
"""A fold one radian short of its floor costs the search as much as a move of this share of the
shell's size: our choice; the floor itself is held exactly at the finish."""
DENSE_MOST: Final = 60
"""Up to this many unknowns a dense solve is the faster."""


@dataclass(frozen=True, eq=False)
class Bounds(ArrayValue):
    """What a shape must keep.

    Parameters
    ----------
    fold_floor : (f,) array, rad
        Smallest fold of each hinge.
    deficit_floor : (h,) array, rad
        Smallest angle deficit of each inner hub.
    rows, most : (b, n) and (b,) arrays, m
        Sizes: rows @ q may be at most `most`.
    """

    fold_floor: Floats
    deficit_floor: Floats
    rows: Floats
    most: Floats


@dataclass(frozen=True, eq=False)
class Fit(ArrayValue):
    """Classes of struts and the shape that goes with them.

    Parameters
    ----------
    class_of : (m,) int array
        Class of each orbit of struts.
    class_lengths : (k,) array, m
    q : (n,) array, m
        Movements.
    drift : float, m
        Largest movement of a hub.
    slack : float, rad
        Smallest fold or angle deficit less its floor.
    over : float, m
        Most that a size exceeds its freedom; negative when all are kept.
    wrong : float, m
        Largest difference of a length from its class.
    """

    class_of: Indices
    class_lengths: Floats
    q: Floats
    drift: float
    slack: float
    over: float
    wrong: float


@dataclass(frozen=True, eq=False)
class Response(ArrayValue):
    """How the shape answers the lengths at a point.

    Parameters
    ----------
    offset : (n,) array, m
        Change of q that takes the present class lengths.
    by_length : (n, r) array
        Change of q for each length.
    """

    offset: Floats
    by_length: Floats


def _system(model: Reduced, hubs: HubPoints) -> csc_array:
    rows, cols, values = fm.length_slopes(model, hubs)
    keep = cols < model.n_unknowns
    shape = (len(model.struts), model.n_unknowns)
    return csc_array((values[keep], (rows[keep], cols[keep])), shape=shape)


def _least_change(slopes: csc_array, right: Floats) -> Floats:
    """Return the smallest change (n, r) that makes the lengths change by `right` (m, r)."""
    m, n = slopes.shape
    square = slopes if m == n else csc_array(slopes @ slopes.T)
    if m <= DENSE_MOST:
        solved = np.linalg.solve(square.toarray(), right)
    else:
        solved = np.asarray(splu(square).solve(right))
    return solved if m == n else np.asarray(slopes.T @ solved)


def respond(
    model: Reduced, q: Floats, class_of: Indices, class_lengths: Floats, columns: Floats
) -> Response:
    """Return the answer of the shape to lengths that change by `columns` (m, r) at `q`."""
    hubs = fm.places(model, q)
    slopes = _system(model, hubs)
    short = class_lengths[class_of] - fm.lengths(model, hubs)
    # where lengths leave the shape some freedom, that freedom takes each hub nearest to its start
    free = slopes.shape[0] != slopes.shape[1]
    target = short + slopes @ q if free else short
    answer = _least_change(slopes, np.column_stack([target, columns]))
    return Response(answer[:, 0] - q if free else answer[:, 0], answer[:, 1:])


def limits_of(model: Reduced, bounds: Bounds, q: Floats, answer: Response, *, hard: bool) -> Limits:
    """Return folds and sizes as limits on the change of class lengths."""
    hubs = fm.places(model, q)
    n_folds = len(model.hinges)
    parts = (fm.fold_slopes(model, hubs), fm.deficit_slopes(model, hubs))
    rows = np.concatenate([parts[0][0], parts[1][0] + n_folds])
    cols, values = (np.concatenate([part[k] for part in parts]) for k in (1, 2))
    keep = cols < model.n_unknowns
    shape = (n_folds + len(bounds.deficit_floor), model.n_unknowns)
    slopes = csc_array((values[keep], (rows[keep], cols[keep])), shape=shape)
    lack = FOLD_SLIP / -2 - _slack(model, bounds, hubs) - slopes @ answer.offset
    over = bounds.rows @ (q + answer.offset) - bounds.most
    weight = 2 * DEFICIT_COST * model.size
    return Limits(
        np.vstack([slopes @ answer.by_length, -bounds.rows @ answer.by_length]),
        np.concatenate([lack, over]),
        None if hard else np.concatenate([np.full(len(lack), weight), np.full(len(over), 10.0)]),
    )


def _slack(model: Reduced, bounds: Bounds, hubs: HubPoints) -> Floats:
    return np.concatenate(
        [
            fm.folds(hubs, model.hinges) - bounds.fold_floor,
            fm.deficits(model, hubs) - bounds.deficit_floor,
        ]
    )


def fit(
    model: Reduced, bounds: Bounds, start: Fit, *, hard: bool = False, worth: float = np.inf
) -> Fit | None:
    """Return the fit of the classes of `start` with the least sum of squared movements.

    worth : m, cost above which a fit that does not settle is given up.

    With `hard` every bound is kept at each step, else a breach only costs; None where no class
    lengths keep the bounds.
    """
    q, class_lengths, class_of = start.q, start.class_lengths, start.class_of
    columns = np.eye(len(class_lengths))[class_of]
    for n_steps in range(MOST_STEPS):
        answer = respond(model, q, class_of, class_lengths, columns)
        limits = limits_of(model, bounds, q, answer, hard=hard)
        x = least(answer.by_length, q + answer.offset, limits)
        if x is None:
            return None
        q, class_lengths, largest = stepped(model, q, class_lengths, answer, x)
        if largest < SETTLED * model.size:
            break
        if n_steps >= PATIENCE and (largest > worth or fm.moves(model, q).max() > 2 * worth):
            return None
    return finished(model, bounds, class_of, class_lengths, q)


def stepped(
    model: Reduced, q: Floats, class_lengths: Floats, answer: Response, x: Floats
) -> tuple[Floats, Floats, float]:
    """Return q and class lengths after a change `x` of these, cut short where it is too long.

    The third is the largest change of q before it was cut short, m.
    """
    change = answer.offset + answer.by_length @ x
    largest = float(np.abs(change).max(initial=0.0))
    longest = LONGEST_STEP * model.shortest
    share = 1.0 if largest <= longest else longest / largest
    return q + share * change, class_lengths + share * x, largest


def polish(model: Reduced, bounds: Bounds, found: Fit, steps: int, *, hard: bool = False) -> Fit:
    """Return `found` with its largest movement made least, in at most `steps` steps."""
    best = found
    columns = np.eye(len(found.class_lengths))[found.class_of]
    for _ in range(steps):
        answer = respond(model, best.q, best.class_of, best.class_lengths, columns)
        limits = limits_of(model, bounds, best.q, answer, hard=hard)
        x = least_largest(answer.by_length, best.q + answer.offset, model.owner, limits)
        if x is None:
            break
        q, class_lengths, _ = stepped(model, best.q, best.class_lengths, answer, x)
        new = finished(model, bounds, best.class_of, class_lengths, q)
        if (hard and not is_kept(model, new)) or cost(model, new) > (1 - GAIN) * cost(model, best):
            break
        best = new
    return best


def finished(
    model: Reduced, bounds: Bounds, class_of: Indices, class_lengths: Floats, q: Floats
) -> Fit:
    """Return the fit at `q` with class lengths held and the shape made exact to them."""
    wrong = np.inf
    for _ in range(5):
        hubs = fm.places(model, q)
        short = class_lengths[class_of] - fm.lengths(model, hubs)
        wrong = float(np.abs(short).max())
        if wrong < EXACT * model.size or wrong > model.shortest:
            break
        q = q + _least_change(_system(model, hubs), short[:, None])[:, 0]
    slack = float(_slack(model, bounds, hubs).min(initial=np.inf))
    over = float((bounds.rows @ q - bounds.most).max(initial=-np.inf))
    drift = float(fm.moves(model, q).max())
    return Fit(class_of, class_lengths, q, drift, slack, over, wrong)


def is_kept(model: Reduced, found: Fit) -> bool:
    """Return True when lengths are exact and every bound is kept."""
    exact = found.wrong < 10 * EXACT * model.size
    return exact and found.slack > -FOLD_SLIP and found.over < SIZE_SLIP * model.size


def cost(model: Reduced, found: Fit) -> float:
    """Return what a fit costs the search, m: its drift and, dearer, what it breaks."""
    if not found.wrong < 10 * EXACT * model.size:
        return np.inf
    deficit = max(0.0, -found.slack - FOLD_SLIP)
    return found.drift + DEFICIT_COST * model.size * deficit + 10 * max(0.0, found.over)
