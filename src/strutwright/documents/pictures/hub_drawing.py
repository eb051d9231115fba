"""A hub as it is made, to scale: plan from outside, a section for every dip, and its fixings."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.documents.pictures.signs import TypeSign, neat_scale
from strutwright.drawing import (
    FINE,
    INK,
    MEDIUM,
    PALE,
    POINT,
    QUIET,
    WIDE,
    Circle,
    Line,
    Mark,
    Pen,
    Point,
    Polygon,
    Sheet,
    Text,
    angle_mark,
    dimension,
    extent,
    moved,
    text_width,
    tint,
)
from strutwright.making import WALL, HubForm, Plate, Spoke, Stake, lug, plates_of

__all__ = ["HubShow", "hub_drawing"]

WIDTH: Final = 174.0
PLAN: Final = 26.0
"""mm on paper from the middle of the plan to the end of its longest spoke, at most."""
LEFT: Final = 79.0
"""Where the sections begin."""
CELL: Final = 30.0
"""Width of the room of a section, mm."""
COLUMNS: Final = 3
GAP: Final = 4.0
HEAD: Final = 10.0
FOOT: Final = 7.0
SAME: Final = math.radians(0.05)
"""Dips closer than this are drawn as one: half of the last place that is shown."""
BEYOND: Final = 0.05
"""m of strut that is shown beyond what holds it."""
UPRIGHT: Final = math.radians(75.0)
"""A strut steeper than this has no azimuth worth a figure; it is shown in section alone."""
THIN: Final = Pen(FINE, QUIET, (2.0, 1.0))
Way = tuple[Point, float]
"""A line on paper: where it begins, and its angle."""
AXIS: Final = Pen(FINE, QUIET, (5.0, 1.0, 1.0, 1.0))


@dataclass(frozen=True)
class HubShow:
    """How a hub is shown: a length and an angle in the reader's units, words by their key.

    Words: ``outside``, ``section``, ``scale``, ``ground``, ``stake``, ``lean``, ``brace``,
    ``below``, ``above``; their fields are filled in by name.
    """

    length: Callable[[float], str]
    angle: Callable[[float], str]
    words: Callable[..., str]


def hub_drawing(form: HubForm, signs: dict[str, TypeSign], show: HubShow, title: str) -> Sheet:
    """Return the drawing of a hub type, its lengths and angles true to one scale."""
    reach = max(abs(spoke.end) for spoke in form.spokes) + BEYOND
    scale = neat_scale(reach, PLAN)
    plates = plates_of(form)
    pen = _Pencil(form, plates, signs, show, 1000 / scale)
    cells = [pen.section(spokes) for spokes in _alike_spokes(form.spokes)]
    if form.stake is not None:
        cells.append(pen.ground(form.stake))
    placed, needed = _placed(cells)
    height = HEAD + FOOT + max(needed, 2 * (PLAN + 10))
    marks = pen.plan((LEFT / 2 - 1, FOOT + (height - HEAD - FOOT) / 2))
    marks += moved(placed, LEFT, height - HEAD)
    marks.append(Text((3, height - 5), show.words("outside"), 8 * POINT, colour=QUIET))
    marks.append(Text((LEFT, height - 5), show.words("section"), 8 * POINT, colour=QUIET))
    words = show.words("scale", scale=f"{scale:g}")
    marks.append(Text((WIDTH - 2, 2), words, 8 * POINT, "end", colour=QUIET))
    text = f"{title}: plan of {len(form.spokes)} spokes from outside, and a section for every dip."
    return Sheet(WIDTH, height, tuple(marks), title, text)


def _alike_spokes(spokes: Sequence[Spoke]) -> list[list[Spoke]]:
    """Return the spokes that look alike in section together, the steepest last."""
    found: list[list[Spoke]] = []
    for spoke in sorted(spokes, key=lambda one: (one.is_brace, one.dip, one.start)):
        if found and _alike(found[-1][0], spoke):
            found[-1].append(spoke)
        else:
            found.append([spoke])
    return found


def _alike(one: Spoke, other: Spoke) -> bool:
    near = abs(one.dip - other.dip) <= SAME and abs(one.start - other.start) < 5e-4
    return near and one.is_brace == other.is_brace


def _placed(cells: list[tuple[str, list[Mark]]]) -> tuple[list[Mark], float]:
    """Return titled pictures in rows below the origin, and how high they stand, mm."""
    marks: list[Mark] = []
    top = 0.0
    for row in (cells[k : k + COLUMNS] for k in range(0, len(cells), COLUMNS)):
        low = top
        for column, (title, drawn) in enumerate(row):
            left, _, _, high = extent(drawn)
            x = column * (CELL + 1.0)
            there = moved(drawn, x - left, top - 6.0 - high)
            marks += there
            size = 8 * POINT
            wide = text_width(title, size, bold=True)
            size = max(7 * POINT, size * min(1.0, CELL / wide))
            marks.append(Text((x, top - 3.0), title, size, bold=True))
            low = min(low, extent(there)[1])
        top = low - GAP
    return marks, -top


@dataclass(frozen=True)
class _Pencil:
    """What draws one hub: `mm` on paper for a metre."""

    form: HubForm
    plates: tuple[Plate, ...]
    signs: dict[str, TypeSign]
    show: HubShow
    mm: float

    def plan(self, centre: Point) -> list[Mark]:
        """Return the hub from outside."""
        form, mm = self.form, self.mm
        marks: list[Mark] = []
        level = [spoke for spoke in form.spokes if abs(spoke.dip) < UPRIGHT]
        for spoke in sorted(level, key=lambda one: not one.is_brace):
            marks += self._spoke(centre, spoke, spoke.azimuth, math.cos(spoke.dip))
        marks += self._body(centre)
        for spoke in level:
            across = spoke.azimuth + math.pi / 2
            for at in spoke.holes:
                place = _away(centre, mm * at * math.cos(spoke.dip), spoke.azimuth)
                if form.kind == "socket":  # the pin lies along the surface
                    half = mm * form.outer * 1.1
                    a, b = _away(place, -half, across), _away(place, half, across)
                    marks.append(Line(a, b, Pen(MEDIUM, INK), "holes"))
                else:
                    marks.append(Circle(place, mm * form.hole / 2, None, Pen(MEDIUM, INK), "holes"))
        if form.hanger:
            marks.append(Circle(centre, mm * form.hanger / 2, "#ffffff", Pen(MEDIUM, INK), "holes"))
        marks += self._lug(centre)
        return marks + self._azimuths(centre)

    def _body(self, centre: Point) -> list[Mark]:
        """Return the round of a ball, or the flat of a plate with its folds."""
        form, mm = self.form, self.mm
        if form.kind == "socket":
            return [Circle(centre, mm * form.outer, PALE, Pen(WIDE, INK), "hub")]
        marks: list[Mark] = []
        for plate in self.plates:
            fold = mm * plate.arms[0].fold
            if form.kind == "plate":
                marks.append(Circle(centre, fold, PALE, Pen(WIDE, INK), "hub"))
            for arm in plate.arms:
                marks.append(
                    _across((centre, arm.spoke.azimuth), fold, mm * form.width / 2, THIN, "bend")
                )
        return marks

    def _spoke(self, centre: Point, spoke: Spoke, angle: float, short: float) -> list[Mark]:
        """Return a strut with what holds it; `short` is its foreshortening."""
        form, mm = self.form, self.mm
        start, end = mm * short * spoke.start, mm * short * (spoke.end + BEYOND)
        held, half = mm * short * spoke.end, mm * form.width / 2
        pen = Pen(MEDIUM, INK, (1.5, 1.0)) if spoke.is_brace else Pen(MEDIUM, INK)
        marks: list[Mark] = [_box((centre, angle), (start, end), half, self._tint(spoke), pen)]
        if form.kind == "socket":
            marks.append(_box((centre, angle), (0, held), mm * form.outer, None, Pen(WIDE, INK)))
        elif form.kind == "plate":
            marks.append(_box((centre, angle), (0, held), half, None, Pen(WIDE, INK)))
        return marks

    def _lug(self, centre: Point) -> list[Mark]:
        """Return the hole for the stake where it shows from outside."""
        stake, mm = self.form.stake, self.mm
        if stake is None:
            return []
        x, y = (mm * stake.reach * part for part in stake.out[:2])
        radius = mm * stake.diameter / 2
        if self.form.kind != "socket" or math.hypot(x, y) < mm * self.form.outer / 2:
            return []  # of a plate it is in the DXF; square to the view it shows in section
        return [Circle((centre[0] + x, centre[1] + y), radius, "#ffffff", Pen(WIDE, INK), "holes")]

    def _azimuths(self, centre: Point) -> list[Mark]:
        """Return the names of the spokes at their ends, and the angles between them."""
        spokes = [spoke for spoke in self.form.spokes if abs(spoke.dip) < UPRIGHT]
        spokes.sort(key=lambda one: one.azimuth % (2 * math.pi))
        marks: list[Mark] = []
        if not spokes:
            return marks
        last = max(spoke.end + BEYOND for spoke in spokes) * self.mm
        for k, spoke in enumerate(spokes):
            words = f"{spoke.label} {self.show.angle(spoke.azimuth % (2 * math.pi))}"
            reach = last + 2 + abs(math.cos(spoke.azimuth)) * text_width(words, 8 * POINT) / 2
            at = _away(centre, reach, spoke.azimuth)
            marks.append(Text(at, words, 8 * POINT, "middle", "middle", halo=0.4, layer="labels"))
            following = spokes[(k + 1) % len(spokes)]
            turn = (following.azimuth - spoke.azimuth) % (2 * math.pi) or 2 * math.pi
            if turn > math.radians(12):
                place = spoke.azimuth, spoke.azimuth + turn
                marks += angle_mark(centre, last * 0.62, *place, self.show.angle(turn))
        return marks

    def section(self, spokes: list[Spoke]) -> tuple[str, list[Mark]]:
        """Return title and section along one spoke: axis, body, strut, holes and lengths."""
        spoke = spokes[0]
        marks: list[Mark] = [
            Line((0.0, 6.0), (0.0, -6.0), AXIS, "axis"),
            Line((0.0, 0.0), (CELL - 8 - self.mm * self.form.outer, 0.0), THIN, "axis"),
            *(self._socket(spoke) if self.form.kind == "socket" else self._arm(spoke)),
            Circle((0.0, 0.0), 0.4, INK, None, "axis"),
        ]
        if self.form.hanger and self.form.kind != "flattened":
            edge = self.mm * max(self.form.outer if self.form.kind == "socket" else 0.02, 0.01)
            for side in (-1, 1):
                x = side * self.mm * self.form.hanger / 2
                marks.append(Line((x, -edge - 1), (x, edge + 1), THIN, "holes"))
        names = ", ".join(sorted({one.label for one in spokes}))
        key = "below" if spoke.dip >= 0 else "above"
        words = self.show.words(key, labels=names, angle=self.show.angle(abs(spoke.dip)))
        if spoke.is_brace:
            words += f", {self.show.words('brace')}"
        return words, marks + self._lengths(spoke)

    def _tint(self, spoke: Spoke) -> str:
        return tint(self.signs[spoke.label].colour if spoke.label in self.signs else QUIET, 0.2)

    def _end(self, spoke: Spoke, held: float, left: float) -> float:
        """Return where the strut is broken off so that it stays in its room, mm.

        `left` is what of the room lies before the beginning of its line.
        """
        slope = abs(math.sin(spoke.dip)) * self.mm * self.form.bore / 2
        room = CELL - left - slope
        return min(self.mm * (held + BEYOND), room / max(math.cos(spoke.dip), 0.5))

    def _socket(self, spoke: Spoke) -> list[Mark]:
        form, mm, angle, centre = self.form, self.mm, -spoke.dip, (0.0, 0.0)
        bore, end = mm * form.bore / 2, self._end(spoke, spoke.end, mm * form.outer)
        marks: list[Mark] = [
            Circle(centre, mm * form.outer, PALE, Pen(WIDE, INK), "hub"),
            _box((centre, angle), (0, mm * spoke.end), mm * form.outer, PALE, Pen(WIDE, INK)),
            _box((centre, angle), (mm * spoke.start, mm * spoke.end), bore, "#ffffff", THIN),
            _box(
                (centre, angle),
                (mm * spoke.start, end),
                bore * 0.97,
                self._tint(spoke),
                Pen(MEDIUM, INK),
            ),
        ]
        marks += [_across((centre, angle), mm * at, mm * form.outer * 1.15, AXIS, "holes")
                  for at in spoke.holes]  # fmt: skip
        return marks

    def _arm(self, spoke: Spoke) -> list[Mark]:
        """Return the folded arm of a plate, or a pressed end, with the strut that it holds."""
        form, mm, angle = self.form, self.mm, -spoke.dip
        pairs = [(p, a) for p in self.plates for a in p.arms if a.spoke is spoke]
        if not pairs:  # a connector of the user's own: the strut alone is known
            end = self._end(spoke, spoke.end, 1.0)
            half = mm * form.bore / 2
            fill = self._tint(spoke)
            return [
                _box(((0.0, 0.0), angle), (mm * spoke.start, end), half, fill, Pen(MEDIUM, INK))
            ]
        plate, arm = pairs[0]
        flat = (0.0, -mm * plate.depth)
        fold = (flat[0] + mm * arm.fold, flat[1])
        thick, held = mm * form.thickness / 2, arm.end - arm.fold
        back = mm * arm.fold if form.kind == "plate" else max(-mm * arm.start, 4.0)
        body = [
            _box(
                (flat, 0.0),
                (-back if form.kind == "plate" else mm * arm.start, mm * arm.fold),
                thick,
                PALE,
                Pen(WIDE, INK),
            ),
            _box((fold, angle), (0, mm * held), thick, PALE, Pen(WIDE, INK)),
        ]
        start = held if form.kind == "flattened" else spoke.start + arm.end - spoke.end - arm.fold
        ends = (mm * start, self._end(spoke, held, back + mm * arm.fold))
        half = mm * form.bore * 0.48
        strut = _box((fold, angle), ends, half, self._tint(spoke), Pen(MEDIUM, INK))
        marks: list[Mark] = [strut, *body]
        for at in arm.holes:
            place, turn = (flat, 0.0) if at <= arm.fold else (fold, angle)
            along = mm * (at if at <= arm.fold else at - arm.fold)
            marks.append(
                _across((place, turn), along, max(mm * form.bore * 0.6, 3.0), AXIS, "holes")
            )
        return marks

    def _lengths(self, spoke: Spoke) -> list[Mark]:
        """Return the dimensions from the hub's centre along the strut: sawn end and first hole."""
        marks: list[Mark] = []
        offset = -(self.mm * self.form.bore * 0.6 + 5)
        for at in dict.fromkeys((spoke.start, *spoke.holes[:1])):
            if abs(at) < 5e-4:
                continue
            there = _away((0.0, 0.0), self.mm * at, -spoke.dip)
            ends = ((0.0, 0.0), there) if at > 0 else (there, (0.0, 0.0))
            marks += dimension(*ends, offset, self.show.length(abs(at)))
            offset -= 4.5
        return marks

    def ground(self, stake: Stake) -> tuple[str, list[Mark]]:
        """Return title and upright section of a hub on the ground: its axis, the stake's hole.

        Drawn upright as it stands; outwards is to the right.
        """
        form, mm, centre = self.form, self.mm, (0.0, 0.0)
        axis = math.atan2(stake.up[2], stake.out[2])
        high = mm * form.outer
        marks: list[Mark] = [
            Line(_away(centre, -8, axis), _away(centre, 13, axis), AXIS, "axis"),
        ]
        x, half = mm * stake.reach, mm * stake.diameter / 2
        if form.kind == "socket":
            wall = half + mm * WALL
            outline = ((0.0, -high), (x + wall, -high), (x + wall, high), (0.0, high))
            marks.append(Polygon(outline, PALE, Pen(WIDE, INK), "hub"))
            marks.append(Circle(centre, high, PALE, Pen(WIDE, INK), "hub"))
            marks += dimension((0.0, high), (x, high), 5.0, self.show.length(stake.reach))
        else:
            azimuth, at, end, _ = lug(stake, self.plates[0].arms[0].fold if self.plates else 0.03)
            along = np.array([math.cos(azimuth), math.sin(azimuth), 0.0])
            turn = math.atan2(float(along @ stake.up), float(along @ stake.out))
            thick = max(mm * form.thickness / 2, 0.4)
            marks.append(
                _box((centre, turn), (-mm * at / 3, mm * end), thick, PALE, Pen(WIDE, INK))
            )
            marks.append(_across((centre, turn), mm * at, 4.0, AXIS, "holes"))
            marks += dimension(centre, _away(centre, mm * at, turn), 7.0, self.show.length(at))
        if form.kind == "socket":
            marks += [
                Line((x + side * half, -high - 6), (x + side * half, high + 3), Pen(MEDIUM, INK),
                     "holes")
                for side in (-1, 1)
            ]  # fmt: skip
        low = extent(marks)[1] - 1.5
        marks.append(Line((-high, low), (CELL - high - 4, low), Pen(WIDE, QUIET), "ground"))
        lean = self.show.words("lean", angle=self.show.angle(abs(math.pi / 2 - axis)))
        marks.append(Text((-high, low - 3.5), lean, 7 * POINT, colour=QUIET))
        hole = self.show.words("stake", diameter=self.show.length(stake.diameter))
        marks.append(Text((-high, low - 7.0), hole, 7 * POINT, bold=True))
        return self.show.words("ground", count=stake.count), marks


def _away(centre: Point, reach: float, angle: float) -> Point:
    return centre[0] + reach * math.cos(angle), centre[1] + reach * math.sin(angle)


def _across(way: Way, reach: float, half: float, pen: Pen, layer: str) -> Line:
    """Return a line across `way`, `reach` from its beginning."""
    centre, angle = way
    x, y = _away(centre, reach, angle)
    dx, dy = -half * math.sin(angle), half * math.cos(angle)
    return Line((x - dx, y - dy), (x + dx, y + dy), pen, layer)


def _box(way: Way, ends: Point, half: float, fill: str | None, pen: Pen) -> Polygon:
    """Return a bar along `way` from and to `ends`."""
    centre, angle = way
    dx, dy = -half * math.sin(angle), half * math.cos(angle)
    (x0, y0), (x1, y1) = (_away(centre, end, angle) for end in ends)
    corners = ((x0 + dx, y0 + dy), (x1 + dx, y1 + dy), (x1 - dx, y1 - dy), (x0 - dx, y0 - dy))
    return Polygon(corners, fill, pen, "struts")
