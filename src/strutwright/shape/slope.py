"""The ground under a shell: a plane through height readings, and legs that meet it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.adjust import Plane, fit_plane
from strutwright.brief import Brief, Level, levels_of
from strutwright.errors import InputError, Problem
from strutwright.sentences import note
from strutwright.shape.riser import raise_on_legs
from strutwright.shape.shell import Shell
from strutwright.shape.slips import likely_slip
from strutwright.values import ArrayValue, Floats, Note

__all__ = ["FLAT_ENOUGH", "LEAST_LEG", "LEVEL_SIGMA", "Ground", "ground_of", "on_the_ground"]

LEVEL_SIGMA: Final = 0.005
"""m, standard deviation of one height reading, grass and staff included; our choice."""
LEAST_LEG: Final = 0.10
"""m, shortest leg that a hub can be bolted to; our choice."""
MOST_BLUNDERS: Final = 4
"""One reading in so many may be wrong; where more seem so, the ground is uneven: our choice."""
FLAT_ENOUGH: Final = 0.02
"""m of fall over the base that packing takes up without legs; our choice."""


@dataclass(frozen=True, eq=False)
class Ground(ArrayValue):
    """The ground under a base.

    Parameters
    ----------
    plane : Plane
    levels : tuple of Level
        As read.
    xy : (n, 2) array, m
        Where they were read.
    heights : (B,) array, m
        Of the ground under each base hub, above the datum of the readings: as read there, or
        of the plane.
    sigma : (B,) array, m
        Standard deviation of these.
    rock : (B,) array, m
        Depth to rock under each, as at the nearest reading; infinite where none was met.
    """

    plane: Plane
    levels: tuple[Level, ...]
    xy: Floats
    heights: Floats
    sigma: Floats
    rock: Floats

    @property
    def fall(self) -> float:
        """Largest difference of height between base hubs, m."""
        return float(np.ptp(self.heights))


def ground_of(shell: Shell, brief: Brief) -> Ground | None:
    """Return the ground that the readings of `brief` show under the base of `shell`.

    Raises
    ------
    InputError
        ``levels-hub`` for a hub that is no base hub, ``levels-too-few``, or what the file holds.
    """
    levels = levels_of(brief)
    if not levels:
        return None
    base = shell.base.tolist()
    problems = [
        Problem(
            "levels-hub",
            f"hub {level.hub} is no base hub",
            f"{brief.site.levels} (line {level.line})",
            f"base hubs are {base[0]} to {base[-1]}",
        )
        for level in levels
        if level.hub is not None and level.hub not in base
    ]
    if problems:
        raise InputError.of(problems)
    xy = np.array([_place(shell, level) for level in levels])
    plane = _plane(xy, np.array([level.height for level in levels]))
    at = shell.hubs[shell.base, :2]
    heights, sigma = plane.height(at), plane.height_sigma(at)
    for k, level in enumerate(levels):
        if level.hub is not None and k not in plane.blunders:
            heights[base.index(level.hub)], sigma[base.index(level.hub)] = level.height, plane.sigma
    return Ground(plane, levels, xy, heights, sigma, _rock(levels, xy, at))


def _plane(xy: Floats, heights: Floats) -> Plane:
    """Return the plane through the readings, with a spread as wide as uneven ground asks for.

    Where more readings would be put aside than blunders are likely, the ground is no plane: the
    spread of a reading is then that of the residuals, by their median (1.4826 times the median
    absolute residual is a standard deviation), and only what stands out from that is put aside.
    """
    plane = fit_plane(xy, heights, LEVEL_SIGMA)
    if len(plane.blunders) <= max(1, len(heights) // MOST_BLUNDERS):
        return plane
    rows = np.column_stack([np.ones(len(xy)), xy])
    residuals = heights - rows @ np.linalg.lstsq(rows, heights, rcond=None)[0]
    share = np.sqrt(len(heights) / (len(heights) - 3))
    sigma = 1.4826 * float(np.median(np.abs(residuals))) * share
    return fit_plane(xy, heights, max(sigma, LEVEL_SIGMA))


def _place(shell: Shell, level: Level) -> Floats:
    if level.hub is not None:
        return shell.hubs[level.hub, :2]
    return np.array([level.x, level.y], dtype=np.float64)


def _rock(levels: tuple[Level, ...], xy: Floats, at: Floats) -> Floats:
    met = np.array([np.inf if level.rock is None else level.rock for level in levels])
    away = np.linalg.norm(at[:, None] - xy[None], axis=2)
    nearest: Floats = met[away.argmin(axis=1)]
    return nearest


def on_the_ground(shell: Shell, brief: Brief) -> Shell:
    """Return `shell` on legs: as long as the riser on level ground, longer where it falls away.

    On sloping ground the leg on the highest spot is as long as the riser, and no shorter than a
    leg can be. Without a riser on ground that is level enough the shell stands as it is.
    """
    riser = brief.site.riser
    ground = ground_of(shell, brief)
    if ground is None:
        return raise_on_legs(shell, riser) if riser > 0 else shell
    notes = _blunder_notes(ground, brief)
    if ground.fall < FLAT_ENOUGH and riser == 0:
        return shell.with_notes(*notes, note("slope-flat", fall=ground.fall))
    least = max(riser, LEAST_LEG)
    if least > riser:
        notes = (*notes, note("slope-least-leg", least=LEAST_LEG))
    legs = least + ground.heights.max() - ground.heights
    said = note(
        "slope-legs",
        fall=ground.fall,
        low=float(legs.min()),
        high=float(legs.max()),
        sigma=1.96 * float(ground.sigma.max()),
    )
    return raise_on_legs(shell.with_notes(*notes, said), legs)


def _blunder_notes(ground: Ground, brief: Brief) -> tuple[Note, ...]:
    notes = []
    for k in ground.plane.blunders.tolist():
        level = ground.levels[k]
        expected = level.height + float(ground.plane.residuals[k])
        said = {
            "file": str(brief.site.levels),
            "line": level.line,
            "text": level.text,
            "expected": expected,
        }
        slip = likely_slip(level, expected)
        if slip is None:
            notes.append(note("levels-blunder", **said))
        else:
            notes.append(note("levels-blunder.slip", **said, slip=slip[0], would=slip[1]))
    if ground.plane.sigma > LEVEL_SIGMA:
        notes.append(note("levels-uneven", sigma=ground.plane.sigma))
    if ground.plane.ambiguous:
        notes.append(note("levels-ambiguous"))
    return tuple(notes)
