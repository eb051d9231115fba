"""Sloping ground: how it falls, legs that meet it, what a terrace moves, the tape on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.adjust import detectable_height, readings_needed
from strutwright.sentences import note
from strutwright.shape import Shell
from strutwright.shape.slope import Ground
from strutwright.site.setting_out import SettingOut
from strutwright.site.tape import slope_correction
from strutwright.values import ArrayValue, Floats, Indices, Note

__all__ = ["Leg", "Terrain", "legs_of", "terrain_of"]

WANTED: Final = 0.010
"""m within which a leg's length has to be known; our choice."""
LONG_LEG: Final = 0.8
"""m from which a leg is braced both ways and looked at by an engineer; our choice."""
STRIPS: Final = 400
"""Strips of the plan over which a terrace's cut is summed."""


@dataclass(frozen=True)
class Leg:
    """The leg under a base hub: its foot, length in m hub centre to ground, braced both ways."""

    hub: int
    foot: int
    length: float
    braced: bool


@dataclass(frozen=True, eq=False)
class Terrain(ArrayValue):
    """Sloping ground under a shell.

    Parameters
    ----------
    gradient : float
        Fall over distance, straight down the slope.
    downhill : float, rad
        Plan direction of the fall, anticlockwise from +x.
    along, across : float
        Fall over distance towards +x and +y; below 0 where it rises.
    fall : float, m
        Between the highest and the lowest base hub.
    sigma : float, m
        Standard deviation of the ground's height at the worst base hub.
    enough : int
        Readings that would hold every leg within 10 mm, evenly round the base.
    detectable : float, m
        Smallest slip in a reading that would have been found, at the worst of them.
    terrace : float, m3
        Soil cut from the upper half and filled into the lower, for a level pad at mean height.
    too_long : (B, 2) array, m
        By how much a tape on the ground reads more than a level one, from both pegs to each hub.
    blunders : (k,) int array
        Readings that were put aside.
    """

    gradient: float
    downhill: float
    along: float
    across: float
    fall: float
    sigma: float
    enough: int
    detectable: float
    terrace: float
    too_long: Floats
    blunders: Indices


def legs_of(shell: Shell) -> tuple[Leg, ...]:
    """Return the legs under the base hubs of `shell`, in the order of its base; none without."""
    rows = np.flatnonzero(shell.role == "leg")
    legs = []
    for row in rows.tolist():
        hub, foot = sorted(shell.struts[row].tolist(), key=lambda h: shell.course[h] < 0)
        length = float(np.linalg.norm(shell.hubs[hub] - shell.hubs[foot]))
        legs.append(Leg(hub, foot, length, length > LONG_LEG))
    order = {hub: k for k, hub in enumerate(shell.base.tolist())}
    return tuple(sorted(legs, key=lambda leg: order[leg.hub]))


def terrain_of(shell: Shell, ground: Ground, sheet: SettingOut) -> tuple[Terrain, tuple[Note, ...]]:
    """Return the ground under `shell` in figures, with notes on long legs and few readings."""
    _, b, c = ground.plane.coefficients.tolist()
    at = shell.hubs[shell.base, :2]
    place = {peg.name: np.array([peg.x, peg.y]) for peg in sheet.pegs}
    more = np.array(
        [[_more(ground, np.array([row.x, row.y]), place[peg]) for peg in (row.a, row.b)]
         for row in sheet.rows]
    )  # fmt: skip
    found = Terrain(
        gradient=float(np.hypot(b, c)),
        downhill=float(np.arctan2(-c, -b)),
        along=-b,
        across=-c,
        fall=ground.fall,
        sigma=float(ground.sigma.max()),
        enough=readings_needed(at, ground.plane.sigma, WANTED),
        detectable=float(_finite_max(detectable_height(ground.plane))),
        terrace=_cut(at, np.array([b, c])),
        too_long=more,
        blunders=ground.plane.blunders,
    )
    return found, tuple(_notes(shell, ground, found))


def _more(ground: Ground, hub: Floats, peg: Floats) -> float:
    heights = ground.plane.height(np.stack([hub, peg]))
    rise = float(heights[1] - heights[0])
    level = float(np.linalg.norm(hub - peg))
    return float(slope_correction(np.hypot(level, rise), rise)) if level else 0.0


def _finite_max(values: Floats) -> float:
    finite = values[np.isfinite(values)]
    return float(finite.max()) if finite.size else float("inf")


def _cut(at: Floats, slope: Floats) -> float:
    """Return the soil above a level pad through the middle of the base polygon, m3.

    The polygon is cut into strips square to the fall; with the pad at the height of its centroid
    cut and fill are alike.
    """
    steepness = float(np.hypot(*slope))
    if not steepness:
        return 0.0
    up = slope / steepness
    u, v = at @ up, at @ np.array([-up[1], up[0]])
    edges = np.linspace(u.min(), u.max(), STRIPS + 1)
    middle = (edges[1:] + edges[:-1]) / 2
    a, b = np.stack([u, v], axis=1), np.roll(np.stack([u, v], axis=1), -1, axis=0)
    chord = np.zeros(STRIPS)
    for p, q in zip(a, b, strict=True):
        crossed = (p[0] < middle) != (q[0] < middle)
        share = (middle[crossed] - p[0]) / (q[0] - p[0])
        chord[crossed] += np.sign(p[0] - q[0]) * (p[1] + share * (q[1] - p[1]))
    chord = np.abs(chord) * np.diff(edges)
    centre = float((chord * middle).sum() / chord.sum())
    return float((chord * steepness * np.maximum(middle - centre, 0.0)).sum())


def _notes(shell: Shell, ground: Ground, found: Terrain) -> list[Note]:
    notes = []
    used = len(ground.levels) - len(found.blunders)
    if used < found.enough:
        notes.append(note("levels-more", used=used, enough=found.enough, wanted=WANTED))
    long_ = [leg for leg in legs_of(shell) if leg.braced]
    if long_:
        longest = max(long_, key=lambda leg: leg.length)
        said = {"longest": longest.length, "hub": longest.hub, "soil": found.terrace}
        notes.append(note("legs-long", legs=len(long_), bound=LONG_LEG, **said))
    return notes
