"""A shell followed as it sinks under a load that grows at one hub."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from strutwright.errors import ResultError
from strutwright.frame import (
    Division,
    Loads,
    Path,
    PathSettings,
    combine,
    divide_loads,
    imperfect,
    subdivide,
    trace,
)
from strutwright.loads import Combination, factor_table
from strutwright.structure.probe import (
    Probe,
    Trials,
    trial_forces,
    trials_of,
    worst_of,
    worst_under,
)
from strutwright.structure.respond import StrutForces, case_loads
from strutwright.structure.search import chord
from strutwright.values import Floats

__all__ = ["IMPERFECTION", "Sinking", "share_kept"]

IMPERFECTION: Final = 300.0
"""The shell is already sunk by its span over this, in the shape in which it sinks.

Source: JGJ 7-2010, 4.3.3, recalled."""
PATH: Final = PathSettings(first=1.0, steps=60, element="bowed")
"""One long first step where nothing gives; it is shortened where something does."""
PIECES: Final = 2
"""Elements a strut; with bowed elements the limit load is within about 1 %."""
ROUNDING: Final = 1e-6
"""Share of a strut within which a cut lies at its middle."""
MIDDLE: Final = 4
"""Station in the middle of a strut, of the nine that forces are taken at."""


@dataclass(frozen=True)
class Sinking:
    """A load that grows on a shell that carries others.

    Parameters
    ----------
    combination : Combination
        Whose durations and format hold.
    standing : tuple of (str, float)
        Cases that act in full, with their factors.
    growing : str
        Case that grows.
    target : float
        Its factor at the screened load.
    """

    combination: Combination
    standing: tuple[tuple[str, float], ...]
    growing: str
    target: float


def share_kept(probe: Probe, sinking: Sinking) -> float:
    """Return the share of the target that the shell carries when it is followed, at most 1.

    All loads grow together first: where nothing gives, the end is the same in any order. Where
    something does, the growing load follows on the standing ones, and the share ends where the
    shell gives. At the end the rules for struts and ends are asked again with the forces of the
    sunken shell; where they are used beyond 1 the share is cut along the chord from the
    utilisation without the load.
    """
    table = _factors(probe, sinking)
    trials = trials_of(probe, [sinking.combination] * 2, table)[0][0]
    cut, standing, growing = _sunken(probe, table, trials.span)
    reached = 1.0
    try:
        path = trace(cut.model, combine([standing, growing], [1.0, 1.0]), PATH)
        if path.ended != "target":
            path = trace(cut.model, growing, PATH, constant=standing)
            reached = 0.0 if path.ended.startswith("constant") else float(path.factors[-1])
    except ResultError:
        return 0.0
    reached = min(max(reached, 0.0), 1.0)
    if reached <= 0.0:
        return 0.0
    still = worst_of(probe, replace(trials, factors=table[:1])).utilisation
    forces = _strut_forces(probe, replace(trials, factors=table[1:]), path, cut)
    used = worst_under(probe, forces, trials).utilisation
    return reached * float(chord(still, used)[0])


def _factors(probe: Probe, sinking: Sinking) -> Floats:
    """Return (2, C) factors: without the growing load, and with all of it."""
    alone = replace(sinking.combination, factors=sinking.standing)
    row = factor_table(probe.answers.cases, [alone])[0]
    place = [case.name for case in probe.answers.cases].index(sinking.growing)
    with_it = row.copy()
    with_it[place] = sinking.target
    return np.stack([row, with_it])


def _sunken(probe: Probe, table: Floats, span: str) -> tuple[Division, Loads, Loads]:
    """Return the sunken shell, cut in elements, and what stands on it and grows on it."""
    cases, solved = probe.answers.cases, probe.answers.solved[span]
    made = solved.model
    given = [case_loads(case.hub_forces, case.line_loads) for case in cases]
    grows = table[1] - table[0]
    standing, growing = (
        combine([given[k] for k in np.flatnonzero(row)], row[np.flatnonzero(row)].tolist())
        for row in (table[0], grows)
    )
    sunk = sum(grows[k] * solved.shifts[k] for k in np.flatnonzero(grows))
    amplitude = float(np.ptp(made.frame.nodes[:, :2], axis=0).min() / IMPERFECTION)
    cut = subdivide(imperfect(made.frame, np.asarray(sunk), amplitude), PIECES)
    return cut, divide_loads(cut, standing), divide_loads(cut, growing)


def _strut_forces(probe: Probe, trials: Trials, path: Path, cut: Division) -> StrutForces:
    """Return the forces of the sunken shell at ends and middle of every strut.

    A strut that is hinged all round stays whole: its middle takes the moment of its own load,
    which balance alone gives, from the linear answer.
    """
    to_middle = np.flatnonzero(np.abs(cut.span[:, 1] - 0.5) < ROUNDING)
    first = np.searchsorted(cut.parent, np.arange(len(probe.bars.lengths)))
    last = np.searchsorted(cut.parent, np.arange(len(probe.bars.lengths)), side="right") - 1
    half = first.copy()
    half[cut.parent[to_middle]] = to_middle
    ends = path.end_forces
    axial = np.stack([-ends[first, 0, 0], ends[half, 1, 0], ends[last, 1, 0]], axis=1)
    moment = np.stack([ends[first, 0, 4:], ends[half, 1, 4:], ends[last, 1, 4:]], axis=1)
    shear = np.linalg.norm(
        np.stack([ends[first, 0, 1:3], ends[last, 0, 1:3], ends[last, 1, 1:3]], axis=1), axis=2
    )
    whole = first == last
    linear = trial_forces(replace(probe, every=MIDDLE), trials)
    moment[whole, 1, 0] = linear.moment_y[whole, 1]
    moment[whole, 1, 1] = linear.moment_z[whole, 1]
    return StrutForces(axial, moment[..., 0], moment[..., 1], shear, np.zeros(len(axial)))
