"""The floor in plan: benches, the paths between them, and lines of equal headroom."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

import numpy as np

from strutwright.climate.benches import STAND, BenchPlan, Entrance
from strutwright.drawing import (
    FINE,
    INK,
    LIGHT,
    MEDIUM,
    POINT,
    QUIET,
    WHITE,
    WIDE,
    Line,
    Mark,
    Pen,
    Point,
    Polygon,
    Sheet,
    Wish,
    label_marks,
    place_labels,
)
from strutwright.shape import Shell
from strutwright.values import Floats

__all__ = ["bench_sheet"]

EDGE: Final = 6.0
"""mm kept free at the edge of the picture."""
MOST: Final = 100.0
"""mm, its height at most."""
STANDING: Final = Pen(MEDIUM, INK, (2.4, 1.2))
LOWER: Final = Pen(FINE, QUIET, (0.8, 1.0))


def bench_sheet(
    plan: BenchPlan,
    shell: Shell,
    entrances: Sequence[Entrance],
    show: Callable[[float], str],
    *,
    width: float = 120.0,
) -> Sheet:
    """Return the picture: benches grey, the base ring solid, doors open, headroom dashed.

    `show` gives a length (m) in the reader's units.
    """
    base = shell.hubs[shell.base, :2]
    low, size = base.min(axis=0), np.ptp(base, axis=0)
    factor = float(min((width - 2 * EDGE) / size[0], (MOST - 2 * EDGE) / size[1]))
    left = (width - float(size[0]) * factor) / 2
    height = float(size[1]) * factor + 2 * EDGE

    def at(points: Floats) -> tuple[Point, ...]:
        placed = (points - low) * factor + np.array([left, EDGE])
        return tuple((float(x), float(y)) for x, y in placed)

    marks: list[Mark] = [Polygon(at(base), None, Pen(WIDE, INK), "BASE")]
    for ring in sorted(plan.benches, key=lambda ring: -abs(_area(ring))):
        fill = LIGHT if _area(ring) > 0 else WHITE
        marks.append(Polygon(at(ring), fill, Pen(FINE, INK), "BENCHES"))
    wishes = []
    for level, rings in plan.levels:
        for ring in rings:
            points = at(ring)
            pen = STANDING if level == STAND else LOWER
            marks += [
                Line(points[k], points[(k + 1) % len(points)], pen, "HEADROOM")
                for k in range(len(points))
            ]
            places = sorted(points, key=lambda p: (-p[1], p[0]))[:4]
            wishes.append(Wish(show(level), places[0], tuple(places), 7 * POINT))
    for door in entrances:
        along = np.array([-np.sin(door.azimuth), np.cos(door.azimuth)]) * door.width / 2
        sill = at(np.array([door.middle + along, door.middle - along]))
        marks.append(Line(sill[0], sill[1], Pen(3 * WIDE, WHITE), "DOORS"))
    marks += label_marks(place_labels(wishes, (0.0, 0.0, width, height)))
    words = f"Floor plan: {len(plan.benches)} outlines of benches, {len(entrances)} doors."
    return Sheet(width, height, tuple(marks), "Benches and paths", words)


def _area(ring: Floats) -> float:
    x, y = ring.T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2)
