"""One step along a path: along an arc, or to a given load factor."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse.linalg import SuperLU

from strutwright.frame.equilibrium import Balance, Shape, System, advance, balance
from strutwright.frame.inertia import factorise, negative_pivots
from strutwright.values import Floats

__all__ = ["Point", "arc_step", "critical_shape", "load_step", "start_point"]

ROUNDS = 12
"""Newton rounds before a step is taken back and shortened."""

BALANCED = 1e-9
"""Imbalance, as a share of the load, that counts as none."""

STRAIGHT = 0.7
"""Least cosine between the step as foreseen and as found: beyond, the step may have left for
another branch and is shortened (our choice)."""


@dataclass(frozen=True, eq=False)
class Point:
    """A point of balance.

    Parameters
    ----------
    shape : Shape
    factor : float
        Load factor.
    factors : SuperLU
        Of the tangent.
    push, reach : (n,) array
        Force that a unit of load factor adds, and its displacement by the tangent.
    negative : int
        Negative eigenvalues of the tangent.
    gone : (n,) array
        Step that led here; zero at the start.
    arc : float, m
        Its length.
    rounds : int
        Newton rounds it took.
    """

    shape: Shape
    factor: float
    factors: SuperLU
    push: Floats
    reach: Floats
    negative: int
    gone: Floats
    arc: float
    rounds: int

    def arc_of(self, change: float, system: System) -> float:
        """Return the length of a straight step by `change` of the load factor."""
        return abs(change) * float(np.linalg.norm(self.reach * system.slides))

    def speed(self, system: System) -> float:
        """Return the largest move of a freedom for a unit of arc."""
        reach = self.reach * system.slides
        return float(np.abs(reach).max() / np.linalg.norm(reach))


def _point(
    system: System, state: tuple[Shape, float, Balance], gone: Floats, rounds: int
) -> Point | None:
    """Return the point of balance `state`, or None where the tangent is exactly singular."""
    shape, load_factor, now = state
    try:
        factors = factorise(now.tangent)
    except RuntimeError:
        return None
    reach = factors.solve(now.push)
    arc = float(np.linalg.norm(gone * system.slides))
    negative = negative_pivots(now.tangent, factors)
    return Point(shape, load_factor, factors, now.push, reach, negative, gone, arc, rounds)


def start_point(system: System, shape: Shape) -> Point:
    """Return the first point, at load factor 0."""
    now = balance(system, shape, 0.0)
    point = _point(system, (shape, 0.0, now), np.zeros(len(system.load)), 0)
    if point is None or not np.linalg.norm(point.reach * system.slides) > 0.0:
        msg = "the load moves nothing: there is no path to follow"
        raise ValueError(msg)
    return point


def _missing(system: System, load_factor: float, now: Balance) -> tuple[Floats, bool]:
    """Return the imbalance and whether it counts as none."""
    outer = load_factor * system.load + system.constant
    missing = outer - now.inner
    scale = max(float(np.linalg.norm(outer)), 1e-3 * float(np.linalg.norm(now.push)))
    return missing, float(np.linalg.norm(missing)) <= BALANCED * scale + system.rounding


def _change_on_arc(
    system: System, gone: Floats, back: Floats, reach: Floats, arc: float
) -> float | None:
    """Return the change of load factor that keeps the step's length, or None where none does.

    Source: cylindrical arc length, Crisfield, Computers & Structures 13 (1981) 55.
    """
    w = system.slides
    there = gone + back
    a = float((w * reach) @ reach)
    b = 2.0 * float((w * reach) @ there)
    c = float((w * there) @ there) - arc**2
    inside = b * b - 4.0 * a * c
    if inside < 0.0:
        return None
    roots = [(-b + sense * np.sqrt(inside)) / (2.0 * a) for sense in (1.0, -1.0)]
    onward = [float((w * gone) @ (there + root * reach)) for root in roots]
    return float(roots[int(np.argmax(onward))])


def arc_step(system: System, start: Point, arc: float, heading: float | None) -> Point | None:
    """Return the next point at distance `arc` along the path, or None when none was found.

    Parameters
    ----------
    heading : float or None
        Sense of the first step of all: towards this load factor.
    """
    w = system.slides
    change = arc / float(np.linalg.norm(start.reach * w))
    if start.gone.any():
        change *= 1.0 if float((w * start.gone) @ start.reach) >= 0.0 else -1.0
    elif heading is not None and heading < 0.0:
        change = -change
    gone = change * start.reach
    foreseen, load_factor = gone, start.factor + change
    shape = advance(system, start.shape, gone)
    for number in range(1, ROUNDS + 1):
        now = balance(system, shape, load_factor)
        missing, done = _missing(system, load_factor, now)
        if not np.isfinite(missing).all():
            return None
        if done:
            cosine = float((w * gone) @ foreseen) / arc**2
            state = (shape, load_factor, now)
            return _point(system, state, gone, number) if cosine > STRAIGHT else None
        try:
            factors = factorise(now.tangent)
        except RuntimeError:
            return None
        both = factors.solve(np.column_stack([missing, now.push]))
        more = _change_on_arc(system, gone, both[:, 0], both[:, 1], arc)
        if more is None:
            return None
        change_of_shape = both[:, 0] + more * both[:, 1]
        gone, load_factor = gone + change_of_shape, load_factor + more
        shape = advance(system, shape, change_of_shape)
    return None


def load_step(system: System, start: Point, load_factor: float) -> Point | None:
    """Return the point at `load_factor` reached from `start`, or None when none was found."""
    gone = (load_factor - start.factor) * start.reach
    foreseen, shape = gone, advance(system, start.shape, gone)
    for number in range(1, ROUNDS + 1):
        now = balance(system, shape, load_factor)
        missing, done = _missing(system, load_factor, now)
        if not np.isfinite(missing).all():
            return None
        if done:
            w = system.slides
            cosine = float((w * gone) @ foreseen)
            cosine /= float(np.linalg.norm(w * gone) * np.linalg.norm(w * foreseen))
            state = (shape, load_factor, now)
            return _point(system, state, gone, number) if cosine > STRAIGHT else None
        try:
            change = factorise(now.tangent).solve(missing)
        except RuntimeError:
            return None
        gone, shape = gone + change, advance(system, shape, change)
    return None


def critical_shape(point: Point) -> Floats:
    """Return (n,) the shape that the nearly singular tangent of `point` resists least."""
    shape = np.asarray(np.cos(1.0 + np.sqrt(2.0) * np.arange(len(point.reach))))
    for _ in range(6):
        shape = point.factors.solve(shape)
        shape /= np.linalg.norm(shape)
    return shape
