"""Where one can stand and grow: floor by headroom, benches along the wall and within, paths."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from strutwright.shape import Shell
from strutwright.shape.headroom import contours, headroom_area
from strutwright.values import ArrayValue, Floats

if TYPE_CHECKING:
    from manifold3d import CrossSection

__all__ = [
    "BENCH_DEPTH",
    "BENCH_HEADROOM",
    "HEADROOMS",
    "PATH",
    "STAND",
    "BenchPlan",
    "Entrance",
    "bench_plan",
]

STAND: Final = 1.9
"""m to stand upright."""
HEADROOMS: Final = (1.2, 1.6, STAND)
"""m: reach over a bench, stoop, stand."""
BENCH_HEADROOM: Final = 1.2
"""m of height at the back of a bench 0.8 m high; our choice."""
BENCH_DEPTH: Final = 0.9
"""m that one reaches over from one side; our choice."""
PATH: Final = 0.75
"""m, a path for one person with a barrow. Source: practice of greenhouses, recalled."""
ISLAND: Final = 0.5
"""m2: smaller benches are left out; our choice."""
HAIR: Final = 1e-3
"""m."""


@dataclass(frozen=True)
class Entrance:
    """A door in plan: the middle of its sill, m, the direction it faces, rad, its width, m."""

    middle: tuple[float, float]
    azimuth: float
    width: float


@dataclass(frozen=True, eq=False)
class BenchPlan(ArrayValue):
    """Where one can stand and grow.

    Parameters
    ----------
    floor : tuple of (float, float)
        Height m, and floor m2 over which there is at least that much.
    wall, middle : float, m
        Run of bench 0.9 m deep along the wall, doors left free, and within the paths.
    bench_area, path_area : float, m2
    standing : float
        Share of the paths over which one can stand upright.
    benches, paths : tuple of (n, 2) arrays, m
        Their outlines in plan; those of what they leave free run clockwise.
    levels : tuple of (float, tuple of (n, 2) arrays)
        Outlines in plan of what has at least that much height, m.
    """

    floor: tuple[tuple[float, float], ...]
    wall: float
    middle: float
    bench_area: float
    path_area: float
    standing: float
    benches: tuple[Floats, ...]
    paths: tuple[Floats, ...]
    levels: tuple[tuple[float, tuple[Floats, ...]], ...]


def bench_plan(shell: Shell, entrances: Sequence[Entrance] = (), riser: float = 0.0) -> BenchPlan:
    """Return floor by headroom, and benches with the paths to them.

    A bench runs along the wall wherever one reaches over its back, then a path; in what the path
    goes round stand benches that are reached from both sides, in rings with a path between them.
    Doors keep a way through all of them.

    Parameters
    ----------
    shell : Shell
    entrances : sequence of Entrance
    riser : float, m
        Height of the base ring above the floor.
    """
    room = _room(shell, BENCH_HEADROOM - riser)
    within = _shrunk(room, BENCH_DEPTH)
    ways = _ways(entrances, shell)
    wall = _large((room - within) - _ways(entrances, shell, within))
    middle, inner = _section(()), _shrunk(within, PATH)
    while inner.area() > ISLAND:
        half = _half_width(inner)
        if half <= BENCH_DEPTH:
            middle = middle + _large(inner)
            break
        # a ring that is reached from both sides: from its inside by the door's way to the middle
        deep = max(min(2 * BENCH_DEPTH, half - PATH / 2), BENCH_DEPTH)
        core = _shrunk(inner, deep)
        middle = middle + _large((inner - core) - ways)
        inner = _shrunk(core, PATH)
    paths = room - (wall + middle)
    upright = _room(shell, STAND - riser)
    ground = paths.area()
    return BenchPlan(
        floor=tuple((height, headroom_area(shell, height - riser)) for height in HEADROOMS),
        wall=wall.area() / BENCH_DEPTH,
        middle=middle.area() / BENCH_DEPTH,
        bench_area=wall.area() + middle.area(),
        path_area=ground,
        standing=(paths ^ upright).area() / ground if ground else 0.0,
        benches=_outlines(wall + middle),
        paths=_outlines(paths),
        levels=tuple((h, _outlines(_room(shell, h - riser))) for h in HEADROOMS),
    )


def _room(shell: Shell, height: float) -> CrossSection:
    """Return the floor inside the base ring over which there is at least `height`, m."""
    floor = _section([shell.hubs[shell.base, :2]])
    return floor ^ _section(contours(shell, height)) if height > 0 else floor


def _section(outlines: Iterable[Floats]) -> CrossSection:
    from manifold3d import CrossSection  # heavy, and needed here alone

    return CrossSection([np.asarray(outline, dtype=np.float64) for outline in outlines])


def _shrunk(section: CrossSection, by: float) -> CrossSection:
    from manifold3d import JoinType

    return section.offset(-by, JoinType.Miter)


def _half_width(section: CrossSection) -> float:
    """Return half the width of the widest part of `section`, m, to a millimetre."""
    low, high = 0.0, float(np.sqrt(section.area()))
    while high - low > HAIR:
        middle = (low + high) / 2
        low, high = (low, middle) if _shrunk(section, middle).is_empty() else (middle, high)
    return low


def _ways(
    entrances: Sequence[Entrance], shell: Shell, until: CrossSection | None = None
) -> CrossSection:
    """Return the ways from the doors to the line along the middle of the floor, or `until` met."""
    ways = _section(())
    for door in entrances:
        out = np.array([np.cos(door.azimuth), np.sin(door.azimuth)])
        side = np.array([-out[1], out[0]]) * max(door.width, PATH) / 2
        sill = np.array(door.middle)
        # as far in as the middle, or half the house's width where the door is in an end
        deep = min(float(sill @ out), float(np.ptp(shell.hubs[shell.base, 1])) / 2)
        way = _way(sill, out, side, deep)
        if until is not None and (met := (way ^ until).to_polygons()):
            deep = float(sill @ out - max((ring @ out).max() for ring in met))
            way = _way(sill, out, side, deep)
        ways = ways + way
    return ways


def _way(sill: Floats, out: Floats, side: Floats, deep: float) -> CrossSection:
    near, far = sill + out, sill - deep * out
    return _section([np.array([near - side, near + side, far + side, far - side])])


def _large(section: CrossSection) -> CrossSection:
    """Return those parts of `section` that make a bench."""
    parts = [part for part in section.decompose() if part.area() > ISLAND]
    whole = _section(())
    for part in parts:
        whole = whole + part
    return whole


def _outlines(section: CrossSection) -> tuple[Floats, ...]:
    return tuple(np.asarray(ring, dtype=np.float64) for ring in section.to_polygons())
