"""Patterns and layouts as drawing sheets, at any scale; at 1:1 they are the files for a cutter."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Final

import numpy as np

from strutwright.cover.nest import laid
from strutwright.cover.pieces import patterns
from strutwright.cover.values import FilmLayer, PanelPlan, PanelType, Piece, Placed, Skirt
from strutwright.drawing import (
    FINE,
    INK,
    MEDIUM,
    POINT,
    QUIET,
    TYPE_COLOURS,
    WIDE,
    Circle,
    Line,
    Mark,
    Pen,
    Point,
    Polygon,
    Sheet,
    Text,
    dimension,
)
from strutwright.values import Faces, Floats

__all__ = [
    "film_sheet",
    "layout_sheet",
    "panel_card",
    "panel_layout",
    "panels_sheet",
    "pattern_card",
    "skirt_sheet",
]

Show = Callable[[float], str]
CUT: Final = Pen(WIDE, INK)
FINISHED: Final = Pen(MEDIUM, TYPE_COLOURS[1], (2.4, 1.2))
STRUT: Final = Pen(FINE, QUIET)
EDGE_PEN: Final = {
    "seam": Pen(MEDIUM, TYPE_COLOURS[1], (2.4, 1.2)),
    "hem": Pen(MEDIUM, TYPE_COLOURS[2], (0.6, 1.0)),
    "flap": Pen(MEDIUM, TYPE_COLOURS[3], (4.0, 1.0, 0.6, 1.0)),
}
"""Finished edges: told apart by their dashes too."""
BIG: Final = 11 * POINT
SMALL: Final = 8 * POINT
APART: Final = 0.05
"""m between pieces on a sheet at 1:1."""


def _scaled(points: Floats, factor: float, at: Point = (0.0, 0.0)) -> tuple[Point, ...]:
    return tuple((x * factor + at[0], y * factor + at[1]) for x, y in points.tolist())


def _piece_marks(piece: Piece, hubs: Faces, factor: float, at: Point) -> list[Mark]:
    """Return cut line, finished edges and the struts between, with hub numbers at the corners."""
    marks: list[Mark] = [Polygon(_scaled(piece.cut, factor, at), None, CUT, "CUT")]
    for corners in piece.corners:
        outline = _scaled(corners, factor, at)
        marks += [Line(outline[k], outline[(k + 1) % 3], STRUT, "STRUTS") for k in range(3)]
    edge = _scaled(piece.outline, factor, at)
    marks += [
        Line(edge[k], edge[(k + 1) % len(edge)], EDGE_PEN[kind], f"FINISHED-{kind.upper()}")
        for k, kind in enumerate(piece.edge_kinds)
    ]
    seen: set[int] = set()
    for face, corners in zip(hubs.tolist(), piece.corners, strict=True):
        middle = corners.mean(axis=0)
        for hub, corner in zip(face, corners, strict=True):
            if int(hub) in seen:
                continue
            seen.add(int(hub))
            inside = corner + (middle - corner) * min(4.5 / factor / _far(middle, corner), 0.6)
            (place,) = _scaled(inside[None], factor, at)
            marks.append(Text(place, str(int(hub)), SMALL, "middle", "middle", colour=QUIET))
    return marks


def _far(a: Floats, b: Floats) -> float:
    return float(np.linalg.norm(a - b)) or 1.0


def _label_place(piece: Piece) -> Floats:
    """Return the middle of the largest face, where the label has most room."""
    steps = piece.corners[:, 1:] - piece.corners[:, :1]
    areas = np.abs(steps[:, 0, 0] * steps[:, 1, 1] - steps[:, 0, 1] * steps[:, 1, 0])
    return np.asarray(piece.corners[int(np.argmax(areas))].mean(axis=0))


def pattern_card(
    film: FilmLayer, index: int, faces: Faces, show: Show, *, width: float = 174.0
) -> Sheet:
    """Return the picture of one pattern: cut line, finished edges, struts, hubs of its first piece.

    Parameters
    ----------
    film : FilmLayer
    index : int
        Of the pattern, in the order of `patterns`.
    faces : (F, 3) int array
        Hubs of the shell's faces.
    show : callable
        Gives a length (m) in the reader's units.
    """
    alike = patterns(film.pieces)[index]
    piece = film.pieces[alike[0]]
    room = (width - 34.0, 95.0)
    factor = min(room[0] / piece.length, room[1] / piece.width)
    at = (22.0, 14.0)
    marks = _piece_marks(piece, faces[piece.faces], factor, at)
    (place,) = _scaled(_label_place(piece)[None], factor, at)
    name = _range([film.pieces[k].label for k in alike])
    marks.append(
        Text(place, film.pieces[alike[0]].label, BIG, "middle", "middle", 0.0, 0.8, bold=True)
    )
    x, y = at[0] + piece.length * factor, at[1] + piece.width * factor
    marks += dimension((at[0], at[1]), (x, at[1]), -8.0, show(piece.length))
    marks += dimension((at[0], y), (at[0], at[1]), -8.0, show(piece.width))
    text = (
        f"Pattern of {name}: {len(piece.faces)} faces, {len(alike)} alike, cut size "
        f"{show(piece.length)} by {show(piece.width)}."
    )
    return Sheet(width, y + 6.0, tuple(marks), f"Pattern {name}", text)


def _range(labels: Sequence[str]) -> str:
    return ", ".join(labels) if len(labels) <= 4 else f"{labels[0]} and {len(labels) - 1} more"


def layout_sheet(film: FilmLayer, roll: int, show: Show, *, width: float = 174.0) -> Sheet:
    """Return the picture of a roll with its pieces, in runs of a third of a page."""
    use = film.nest.stock[roll]
    factor = (width - 2.0) / _run_length(use.used, use.width)
    run = (width - 2.0) / factor
    rows = int(np.ceil(use.used / run - 1e-9))
    step = use.width * factor + 9.0
    height = rows * step + 2.0
    marks: list[Mark] = []
    for row in range(rows):
        low = height - (row + 1) * step + 3.0
        end = min(use.used - row * run, run) * factor
        corners = ((1.0, low), (1 + end, low), (1 + end, low + use.width * factor))
        box = (*corners, (1.0, low + use.width * factor))
        marks.append(Polygon(box, None, Pen(MEDIUM, QUIET), "ROLL"))
        words = f"{show(row * run)} …" if row else show(0.0)
        marks.append(Text((1.0, low + use.width * factor + 1.0), words, SMALL, colour=QUIET))
    for one in film.nest.placed:
        if one.stock != roll:
            continue
        piece = film.pieces[one.item]
        place = _there(piece.cut, one)
        middle = _label_place(piece)
        if one.turned:
            middle = piece.cut.max(axis=0) + piece.cut.min(axis=0) - middle
        middle = middle + np.array([one.x, one.y])
        for row in range(rows):
            part = _clipped(place, row * run, (row + 1) * run)
            if len(part) < 3:
                continue
            low = height - (row + 1) * step + 3.0
            at = (1.0 - row * run * factor, low)
            marks.append(Polygon(_scaled(part, factor, at), None, Pen(MEDIUM, INK), "CUT"))
            if row * run <= middle[0] < (row + 1) * run:
                (spot,) = _scaled(middle[None], factor, at)
                marks.append(Text(spot, piece.label, SMALL, "middle", "middle", 0.0, 0.6))
    text = (
        f"Roll {roll + 1} of the {film.name} film: {show(use.width)} wide, {show(use.used)} used."
    )
    return Sheet(width, height, tuple(marks), f"Roll {roll + 1}", text)


def _there(outline: Floats, one: Placed) -> Floats:
    """Return the outline where it lies on the roll or sheet."""
    return np.asarray(laid(outline, one.angle) + np.array([one.x, one.y]))


def _run_length(used: float, width: float) -> float:
    """Return how much of a roll is drawn in one run, m: all runs alike, none over four widths."""
    return used / math.ceil(used / (4 * width))


def _clipped(outline: Floats, low: float, high: float) -> Floats:
    points = outline
    for sign, edge in ((1.0, low), (-1.0, -high)):
        out: list[Floats] = []
        for k in range(len(points)):
            a, b = points[k - 1], points[k]
            da, db = sign * a[0] - edge, sign * b[0] - edge
            if (da < 0) != (db < 0):
                out.append(a + (b - a) * (da / (da - db)))
            if db >= 0:
                out.append(b)
        points = np.array(out).reshape(-1, 2)
    return points


def film_sheet(film: FilmLayer, faces: Faces) -> Sheet:
    """Return all pieces of a layer at 1:1, one beside the other, mm: the file for a cutter."""
    marks: list[Mark] = []
    x, high = 0.0, 0.0
    for piece in film.pieces:
        at = (x * 1000, 0.0)
        marks += _piece_marks(piece, faces[piece.faces], 1000.0, at)
        (place,) = _scaled(_label_place(piece)[None], 1000.0, at)
        marks.append(Text(place, piece.label, 60.0, "middle", "middle", layer="LABELS"))
        x += piece.length + APART
        high = max(high, piece.width)
    big = [_grown(mark) for mark in marks]
    title = f"Patterns of the {film.name} film at 1:1"
    return Sheet(x * 1000, high * 1000, tuple(big), title, title)


def _grown(mark: Mark) -> Mark:
    if isinstance(mark, Text) and mark.layer == "text":
        return Text(
            mark.at, mark.text, 25.0, mark.align, mark.level, colour=mark.colour, layer="HUBS"
        )
    return mark


def panel_card(kind: PanelType, show: Show, *, width: float = 84.0) -> Sheet:
    """Return the picture of a panel type from outside: edges, corners, holes, flutes upwards.

    Edges are measured with their corners on; what comes off is dashed.
    """
    size = np.ptp(kind.outline, axis=0)
    factor = min((width - 26.0) / size[0], 62.0 / size[1])
    low = kind.outline.min(axis=0)
    at = (float(13.0 - low[0] * factor), float(12.0 - low[1] * factor))
    corners = _scaled(kind.outline, factor, at)
    marks: list[Mark] = [
        Polygon(corners, None, Pen(FINE, QUIET, (1.2, 0.8)), "CORNERS"),
        Polygon(_scaled(kind.cut, factor, at), None, CUT, "CUT"),
    ]
    marks += [
        Circle(spot, 0.6, None, Pen(FINE, INK), "HOLES") for spot in _scaled(kind.holes, factor, at)
    ]
    for k in range(3):
        a, b = corners[k], corners[(k + 1) % 3]
        long_ = float(np.linalg.norm(kind.outline[(k + 1) % 3] - kind.outline[k]))
        marks += dimension(a, b, -6.0, show(long_))
    (middle,) = _scaled(kind.outline.mean(axis=0)[None], factor, at)
    marks.append(Text(middle, kind.label, BIG, "middle", "middle", bold=True))
    height = float(size[1] * factor + 24.0)
    text = f"Panel {kind.label} seen from outside: {kind.quantity} of them."
    return Sheet(width, height, tuple(marks), f"Panel {kind.label}", text)


def panel_layout(plan: PanelPlan, sheet: int, show: Show, *, width: float = 174.0) -> Sheet:
    """Return the picture of a sheet with its panels."""
    use = plan.nest.stock[sheet]
    factor = (width - 2.0) / use.length
    high = use.width * factor
    edge = ((1.0, 1.0), (width - 1, 1.0), (width - 1, high + 1), (1.0, high + 1))
    marks: list[Mark] = [Polygon(edge, None, Pen(MEDIUM, QUIET), "SHEET")]
    for one in plan.nest.placed:
        if one.stock != sheet:
            continue
        kind = plan.types[one.item]
        outline = _there(plan.lying[one.item], one)
        marks.append(Polygon(_scaled(outline, factor, (1.0, 1.0)), None, Pen(MEDIUM, INK), "CUT"))
        (spot,) = _scaled(outline.mean(axis=0)[None], factor, (1.0, 1.0))
        marks.append(Text(spot, kind.label, SMALL, "middle", "middle", 0.0, 0.6))
    text = f"Sheet {sheet + 1}: {show(use.width)} by {show(use.length)}."
    return Sheet(width, high + 2.0, tuple(marks), f"Sheet {sheet + 1}", text)


def panels_sheet(plan: PanelPlan) -> Sheet:
    """Return all panel types at 1:1, one beside the other, mm: the file for a cutter."""
    marks: list[Mark] = []
    x, high = 0.0, 0.0
    for kind in plan.types:
        low = kind.cut.min(axis=0)
        at = (float(x - low[0]) * 1000, float(-low[1]) * 1000)
        marks.append(Polygon(_scaled(kind.cut, 1000.0, at), None, CUT, "CUT"))
        marks += [
            Circle(spot, kind.hole_diameter * 500, None, Pen(FINE, INK), "HOLES")
            for spot in _scaled(kind.holes, 1000.0, at)
        ]
        (spot,) = _scaled(kind.outline.mean(axis=0)[None], 1000.0, at)
        words = f"{kind.label} × {kind.quantity}"
        marks.append(Text(spot, words, 40.0, "middle", "middle", layer="LABELS"))
        size = np.ptp(kind.cut, axis=0)
        x, high = x + float(size[0]) + APART, max(high, float(size[1]))
    title = f"Panels of the {plan.name} layer at 1:1, seen from outside"
    return Sheet(x * 1000, high * 1000, tuple(marks), title, title)


def skirt_sheet(skirt: Skirt) -> Sheet:
    """Return all parts of the skirt at 1:1, one beside the other, mm: the file for a cutter."""
    marks: list[Mark] = []
    x = 0.0
    for part in skirt.parts:
        at = (x * 1000, 0.0)
        marks.append(Polygon(_scaled(part.cut, 1000.0, at), None, CUT, "CUT"))
        (spot,) = _scaled(part.cut.mean(axis=0)[None], 1000.0, at)
        words = f"{part.label} × {part.quantity}"
        marks.append(Text(spot, words, 40.0, "middle", "middle", layer="LABELS"))
        x += part.wide + APART
    high = max(part.high for part in skirt.parts)
    title = "Skirt under the base ring at 1:1"
    return Sheet(x * 1000, high * 1000, tuple(marks), title, title)
