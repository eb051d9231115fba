"""From sinks under a proof load to how stiff the joints of the built shell are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.special import chdtrc

from strutwright.brief import Reading
from strutwright.parts import Kit
from strutwright.sentences import note
from strutwright.survey.joints import JointRange, Joints, JointSinks, joint_range, sink_table
from strutwright.survey.proof import SINK_SIGMA
from strutwright.survey.settings import REFERENCE
from strutwright.values import ArrayValue, Floats, Note

__all__ = ["Calibration", "Sunk", "calibrate"]

FINE: Final = (41, 801)
"""Joints that are tried: against turning, along the strut."""
LIKELY: Final = 3.84
"""Rise of the squared misfit at the ends of a 95 % band. Source: chi-square, 1 freedom."""
MISFIT: Final = 0.01
"""Sinks that are less likely than this under any one stiffness do not belong together. Ours."""


@dataclass(frozen=True)
class Sunk:
    """A sink that was read, that of the ground taken off, and the one of the best joints, m."""

    reading: Reading
    value: float
    sigma: float
    fitted: float


@dataclass(frozen=True, eq=False)
class Calibration(ArrayValue):
    """How stiff the joints of a built shell are, as its sinks say.

    Parameters
    ----------
    soft, best, stiff : Joints
        Ends of the 95 % band, each of turning and of give along the strut by itself, and the best.
    supposed : JointRange
        What the design may have.
    sunk : tuple of Sunk
    chance : float
        Probability of sinks that fit one kind of joint as badly as these.
    verdict : str
        ``within`` what was supposed, ``softer`` than all of it or ``stiffer``.
    tells_turning : bool
        False where the sinks leave all stiffnesses against turning as they were.
    notes : tuple of Note
    """

    soft: Joints
    best: Joints
    stiff: Joints
    supposed: JointRange
    sunk: tuple[Sunk, ...]
    chance: float
    verdict: str
    tells_turning: bool
    notes: tuple[Note, ...] = ()


def calibrate(kit: Kit, readings: Sequence[Reading]) -> Calibration | None:
    """Return how stiff the joints of `kit` are, from readings of kind ``sink``; None without any.

    All joints alike; the shell answers in proportion to the load, its base held: sinks of base
    hubs under the same load are taken off the others' as the ground's own.

    Raises
    ------
    ResultError
        ``mechanism``: the kit can move without resistance.
    """
    rows = [one for one in readings if one.kind == "sink" and one.load is not None]
    base = set(kit.shell.base.tolist())
    of_shell = [one for one in rows if one.hubs[0] not in base]
    if not of_shell:
        return None
    values, sigmas = _less_ground(rows, of_shell, base)
    warm = [one.temperature for one in of_shell if one.temperature is not None]
    loaded = sorted({one.load[1] for one in of_shell if one.load is not None})
    table = sink_table(kit, loaded, float(np.mean(warm)) if warm else REFERENCE)
    shares = np.linspace(table.shares[0], table.shares[-1], FINE[0])
    gives = np.linspace(0.0, np.sqrt(table.gives[-1]), FINE[1]) ** 2
    gives[-1] = table.gives[-1]
    expected = np.array([_expected(table, one, shares, gives) for one in of_shell])
    squares = (((values - expected.T) / sigmas) ** 2).sum(axis=2).T  # (shares, gives)
    found = _band(squares)
    soft, best, stiff = (
        Joints(float(3 * shares[t] / (1 - shares[t])), float(gives[g])) for t, g in found
    )
    least = float(squares[found[1]])
    supposed = joint_range(kit)
    sunk = tuple(
        Sunk(one, float(value), float(sigma), float(fit[found[1]]))
        for one, value, sigma, fit in zip(of_shell, values, sigmas, expected, strict=True)
    )
    chance = float(chdtrc(len(sunk), least))
    verdict = "softer" if stiff.give > supposed.soft.give else "within"
    if best.give == 0.0 and sum((one.value - one.fitted) / one.sigma for one in sunk) < -2.0:
        verdict = "stiffer"
    tells = len(shares) > 1 and (found[0][0] > 0 or found[2][0] < len(shares) - 1)
    notes = tuple(_notes(verdict, chance, ends_open=found[0][1] == len(gives) - 1, tells=tells))
    return Calibration(soft, best, stiff, supposed, sunk, chance, verdict, tells, notes)


def _band(squares: Floats) -> tuple[tuple[int, int], tuple[int, int], tuple[int, int]]:
    """Return places of the softest, the best and the stiffest joints in (shares, gives).

    Each end of turning is what some give allows, and the other way round: one sink does not tell
    them apart.
    """
    best = np.unravel_index(int(np.argmin(squares)), squares.shape)
    likely = squares <= squares[best] + LIKELY
    turns, gives = np.flatnonzero(likely.any(axis=1)), np.flatnonzero(likely.any(axis=0))
    return (
        (int(turns[0]), int(gives[-1])),
        (int(best[0]), int(best[1])),
        (int(turns[-1]), int(gives[0])),
    )


def _less_ground(
    rows: Sequence[Reading], of_shell: Sequence[Reading], base: set[int]
) -> tuple[Floats, Floats]:
    """Return sinks without that of the ground (k,) and their standard deviations (k,), m."""
    values, sigmas = [], []
    for one in of_shell:
        ground = [row for row in rows if row.hubs[0] in base and row.load == one.load]
        own = [_sigma(row) for row in ground]
        less = float(np.mean([row.value for row in ground])) if ground else 0.0
        spread = float(np.hypot.reduce(own)) / len(own) if own else 0.0
        values.append(one.value - less)
        sigmas.append(float(np.hypot(_sigma(one), spread)))
    return np.array(values), np.array(sigmas)


def _sigma(one: Reading) -> float:
    return SINK_SIGMA if one.sigma is None else one.sigma


def _expected(table: JointSinks, one: Reading, shares: Floats, gives: Floats) -> Floats:
    force, loaded = one.load or (0.0, -1)
    return force * table.fine(loaded, one.hubs[0], shares, gives)


def _notes(verdict: str, chance: float, *, ends_open: bool, tells: bool) -> list[Note]:
    notes = []
    if chance < MISFIT and verdict == "within":
        notes.append(note("proof-misfit", chance=chance))
    if verdict == "softer":
        notes.append(note("proof-soft"))
    if verdict == "stiffer":
        notes.append(note("proof-stiff"))
    if ends_open:
        notes.append(note("proof-vague"))
    if not tells:
        notes.append(note("proof-turning"))
    return notes
