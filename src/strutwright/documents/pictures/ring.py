"""The base ring for setting out: pegs, hubs, the distances of the ring, check diagonals."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from strutwright.documents.pictures.signs import neat_scale
from strutwright.drawing import (
    FINE,
    INK,
    MEDIUM,
    POINT,
    QUIET,
    TYPE_COLOURS,
    WHITE,
    WIDE,
    Box,
    Line,
    Mark,
    Pen,
    Point,
    Polygon,
    Sheet,
    Text,
    Wish,
    along,
    around,
    arrow_head,
    hub_dot,
    label_marks,
    north_arrow,
    place_labels,
)
from strutwright.shape import Shell
from strutwright.site import SettingOut, Span
from strutwright.values import Floats

__all__ = ["RingSigns", "base_ring"]

EDGE: Final = 16.0
"""Kept round the ring for numbers and distances, mm."""
FOOT: Final = 9.0
"""Height of the strip with the words of the scale, mm."""
PEN_OF: Final = {
    "ring": Pen(WIDE, INK),
    "diagonal": Pen(MEDIUM, TYPE_COLOURS[3], (2.4, 1.2)),
    "width": Pen(MEDIUM, TYPE_COLOURS[1], (0.6, 1.0)),
}
"""Distances of the ring, check diagonals and widths: told apart by their dashes too."""
PEG: Final = 1.5
"""Half the side of the square that stands for a peg, mm."""


ARROW: Final = 9.0
"""Length of the arrow into a door, and half that of the arrow downhill, mm."""


@dataclass(frozen=True)
class RingSigns:
    """What stands round the base, and the words of the picture.

    Parameters
    ----------
    north : float or None
        Azimuth of north, rad anticlockwise from +x.
    doors : tuple of (str, int, int)
        Word, and the two hubs at the feet of its jambs.
    fall : (float, str) or None
        Azimuth downhill (rad) and what is written beside its arrow.
    title : str
    kinds : mapping of str to str
        Words for ``ring``, ``diagonal`` and ``width``.
    """

    north: float | None = None
    doors: tuple[tuple[str, int, int], ...] = ()
    fall: tuple[float, str] | None = None
    title: str = "Base ring"
    kinds: Mapping[str, str] = field(
        default_factory=lambda: {
            "ring": "strut of the ring", "diagonal": "check diagonal", "width": "width",
        }
    )  # fmt: skip


PLAIN: Final = RingSigns()


def base_ring(
    shell: Shell,
    setting: SettingOut,
    show: Callable[[float], str],
    signs: RingSigns = PLAIN,
    *,
    width: float = 174.0,
    height: float = 200.0,
) -> Sheet:
    """Return the plan of the base ring with its pegs, distances and check diagonals.

    Parameters
    ----------
    shell : Shell
    setting : SettingOut
    show : callable
        Gives a length (m) in the reader's units.
    signs : RingSigns
    width, height : float
        Width of the picture and most that it may be high, mm.
    """
    points = np.array([[row.x, row.y] for row in setting.rows])
    pegs = np.array([[peg.x, peg.y] for peg in setting.pegs])
    both = np.concatenate([points, pegs])
    low, high = both.min(axis=0), both.max(axis=0)
    across, up = (high - low).tolist()
    room = (width - 2 * EDGE, height - 2 * EDGE - FOOT)
    scale = max(neat_scale(across, room[0]), neat_scale(up, room[1]))
    factor = 1000 / scale
    shift = np.array([(width - across * factor) / 2, EDGE + FOOT]) - low * factor
    place = {hub: _point(shell.hubs[hub, :2] * factor + shift) for hub in _hubs(setting)}
    peg_at = {peg.name: _point(np.array([peg.x, peg.y]) * factor + shift) for peg in setting.pegs}
    total = up * factor + 2 * EDGE + FOOT
    marks: list[Mark] = [
        Line(place[span.i], place[span.j], PEN_OF[span.kind], span.kind) for span in setting.spans
    ]
    marks += [
        Line(peg_at[a], peg_at[b], Pen(FINE, QUIET, (4, 1, 0.6, 1)), "pegs")
        for a, b, _ in setting.frame
    ]
    marks += [hub_dot(point, 0.9) for point in place.values()]
    marks += [mark for at in peg_at.values() for mark in _peg(at)]
    bounds = (1.0, FOOT, width - 1.0, total - 1.0)
    middle = _point(np.mean(list(place.values()), axis=0))
    doors = [_door(word, place[i], place[j], middle) for word, i, j in signs.doors]
    marks += [mark for door in doors for mark in door.marks]
    marks += _labels(setting, place, peg_at, show, (bounds, doors))
    marks.append(
        Text((width - 2, 3.0), f"{signs.title}, 1:{scale:g}", 9 * POINT, "end", colour=QUIET)
    )
    marks += _legend(setting, signs.kinds)
    if signs.north is not None:
        marks += north_arrow((width - 12, total - 12), signs.north)
    if signs.fall is not None:
        marks += _downhill((14.0, total - 14.0), *signs.fall)
    text = f"Plan of the base ring: {len(place)} hubs, {len(setting.pegs)} pegs, scale 1:{scale:g}."
    return Sheet(width, total, tuple(marks), signs.title, text)


@dataclass(frozen=True)
class _Door:
    marks: tuple[Mark, ...]
    wish: Wish
    box: Box


def _door(word: str, a: Point, b: Point, centre: Point) -> _Door:
    """Return the arrow that goes in between the jambs at `a` and `b`, and its word."""
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    tip, tail = _outward(middle, centre, -3.0), _outward(middle, centre, ARROW - 3.0)
    turn = math.atan2(tip[1] - tail[1], tip[0] - tail[0])
    marks = (
        Line(a, b, Pen(3 * WIDE, WHITE), "doors"),
        Line(tail, tip, Pen(WIDE, INK), "doors"),
        arrow_head(tip, turn, size=3.0, colour=INK),
    )
    out = _outward(middle, centre, ARROW + 2.0)
    wish = Wish(word, middle, (out, *around(out, 4.0), *around(out, 8.0)), 9 * POINT, True)
    xs, ys = zip(tip, tail, strict=True)
    return _Door(marks, wish, (min(xs) - 1, min(ys) - 1, max(xs) + 1, max(ys) + 1))


def _downhill(at: Point, azimuth: float, word: str) -> tuple[Mark, ...]:
    cos, sin = math.cos(azimuth) * ARROW, math.sin(azimuth) * ARROW
    tip = (at[0] + cos, at[1] + sin)
    return (
        Line((at[0] - cos, at[1] - sin), tip, Pen(WIDE, INK), "fall"),
        arrow_head(tip, azimuth, size=3.5, colour=INK),
        Text((2.0, at[1] - ARROW - 5.0), word, 9 * POINT, colour=QUIET),
    )


def _point(row: Floats) -> Point:
    return (float(row[0]), float(row[1]))


def _hubs(setting: SettingOut) -> list[int]:
    hubs = [row.hub for row in setting.rows]
    return hubs + sorted({hub for s in setting.spans for hub in (s.i, s.j)} - set(hubs))


def _peg(at: Point) -> tuple[Mark, ...]:
    x, y = at
    corners = ((x - PEG, y - PEG), (x + PEG, y - PEG), (x + PEG, y + PEG), (x - PEG, y + PEG))
    return (
        Polygon(corners, WHITE, Pen(WIDE, INK), "pegs"),
        Line(corners[0], corners[2], Pen(MEDIUM, INK), "pegs"),
        Line(corners[1], corners[3], Pen(MEDIUM, INK), "pegs"),
    )


def _outward(point: Point, centre: Point, distance: float) -> Point:
    x, y = point[0] - centre[0], point[1] - centre[1]
    reach = math.hypot(x, y) or 1.0
    return (point[0] + x / reach * distance, point[1] + y / reach * distance)


def _labels(
    setting: SettingOut,
    place: dict[int, Point],
    peg_at: dict[str, Point],
    show: Callable[[float], str],
    around_it: tuple[Box, list[_Door]],
) -> tuple[Mark, ...]:
    bounds, doors = around_it
    centre = _point(np.mean(list(place.values()), axis=0))
    lines = [[*place[span.i], *place[span.j]] for span in setting.spans]
    wishes = []
    for name, at in peg_at.items():
        first = _outward(at, centre, 10.5)
        wishes.append(Wish(name, at, (first, *around(at, 6.0)), 11 * POINT, True))
    for hub, at in place.items():
        first = _outward(at, centre, 4.2)
        wishes.append(Wish(str(hub), at, (first, *around(at, 4.2)), 8 * POINT, True, ring=True))
    wishes += [door.wish for door in doors]
    long = len(setting.pegs) > 2  # its diagonals run too close together: the table has them
    wishes += [
        _distance(span, k, place, show, centre)
        for k, span in enumerate(setting.spans)
        if not (long and span.kind == "diagonal")
    ]
    dots = [(x - 1, y - 1, x + 1, y + 1) for x, y in place.values()]
    dots += [(x - PEG, y - PEG, x + PEG, y + PEG) for x, y in peg_at.values()]
    dots += [door.box for door in doors]
    placing = place_labels(wishes, bounds, keep_out=dots, lines=np.array(lines).reshape(-1, 4))
    return label_marks(placing)


def _distance(
    span: Span, k: int, place: dict[int, Point], show: Callable[[float], str], centre: Point
) -> Wish:
    a, b = place[span.i], place[span.j]
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    size, colour = 8 * POINT, PEN_OF[span.kind].colour
    if span.kind != "ring":
        shares = along(a, b)[::-1]  # away from the middle, where the diagonals meet
        return Wish(show(span.length), middle, shares, size, True, colour, (k,))
    inside = tuple(_outward(middle, centre, -reach) for reach in (4.5, 6, 8))
    outside = tuple(_outward(middle, centre, reach) for reach in (6, 8))
    return Wish(show(span.length), middle, (*inside, *outside), size, False, colour)


def _legend(setting: SettingOut, names: Mapping[str, str]) -> list[Mark]:
    kinds = [kind for kind in names if any(span.kind == kind for span in setting.spans)]
    marks: list[Mark] = []
    x = 3.0
    for kind in kinds:
        marks.append(Line((x, 4.0), (x + 9, 4.0), PEN_OF[kind], kind))
        marks.append(Text((x + 11, 3.0), names[kind], 8 * POINT, colour=QUIET))
        x += 42
    return marks
