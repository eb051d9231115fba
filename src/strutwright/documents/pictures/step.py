"""The picture of a step: what stands in grey, what is new strong, props, door and north."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from strutwright.documents.pictures.seen import Scene
from strutwright.documents.pictures.signs import TypeSign
from strutwright.drawing import (
    FINE,
    GREY,
    INK,
    MEDIUM,
    POINT,
    QUIET,
    WIDE,
    Box,
    Camera,
    Circle,
    Line,
    Mark,
    Pen,
    Placing,
    Point,
    Polygon,
    Sheet,
    Text,
    Wish,
    along,
    around,
    bands,
    hub_dot,
    label_marks,
    place_labels,
    project,
    see,
)
from strutwright.shape import Shell
from strutwright.values import Floats, Indices

__all__ = ["StepView", "step_picture"]

EDGE: Final = 9.0
GAP: Final = 0.6
PROP_PEN: Final = Pen(MEDIUM, INK, (1.6, 0.9))
SHORTEST_BANDED: Final = 9.0
SMALL: Final = 18.0
"""mm; new struts shorter than this on paper, on average, are drawn larger."""
KEY: Final = 26.0
"""Width of the key that shows where they are, mm."""
MOST_LABELLED: Final = 40
"""New struts up to which each bears its letter; with more of few types the table says it."""


@dataclass(frozen=True)
class StepView:
    """What is asked of a step's picture.

    Parameters
    ----------
    camera : Camera
    scene : Scene
        Struts that stand and struts that are new.
    framed : (n,) int array
        Hubs that fix the frame: all of the stage, so that its pictures do not jump.
    hubs : tuple of int
        Hubs that bear their numbers strongly: the new ones; their neighbours bear theirs too.
    props : tuple of (name, hub, foot)
        Props that stand at the end of the step; new ones are labelled.
    fresh_props : tuple of str
    door : tuple of int
        Hubs of the door's frame on the ground; empty for none.
    north : float, rad
        Direction of north from +x.
    words : mapping
        ``door``, ``north`` and ``foot`` (the line at the foot) in the reader's language.
    title, text : str
        Of the picture, for those who cannot see it.
    numbered : bool
        Whether hubs bear numbers and new struts their letters.
    near : (n,) int array or None
        Hubs round the new parts, which fill the picture where they are small in the frame; a
        key in its corner then shows where in the frame they are.
    width, height : float
        Of the picture, mm.
    """

    camera: Camera
    scene: Scene
    framed: Indices
    hubs: tuple[int, ...]
    props: tuple[tuple[str, int, tuple[float, float, float]], ...]
    fresh_props: tuple[str, ...]
    door: tuple[int, ...]
    north: float
    words: tuple[str, str, str]
    title: str
    text: str
    numbered: bool = True
    near: Indices | None = None
    width: float = 112.0
    height: float = 51.0


def step_picture(shell: Shell, type_of: Indices, types: Sequence[TypeSign], ask: StepView) -> Sheet:
    """Return the picture of a step."""
    signs = [types[int(kind)] for kind in type_of]
    feet = np.array([foot for _, _, foot in ask.props]).reshape(-1, 3)
    plain = project(ask.camera, np.vstack([shell.hubs, feet]))
    every = np.concatenate([ask.framed, np.arange(len(shell.hubs), len(plain))])
    seen = _fitted(plain, every, ask)
    key: list[Mark] = []
    if ask.near is not None and _is_small(shell, seen, ask):
        key = _key(shell, seen, ask)
        fresh = [k for k, prop in enumerate(ask.props) if prop[0] in ask.fresh_props]
        seen = _fitted(
            plain, np.concatenate([ask.near, len(shell.hubs) + np.array(fresh, int)]), ask
        )
    marks: list[Mark] = [*_compass(ask), *_door(seen, ask)]
    drawn = np.concatenate([ask.scene.standing, ask.scene.fresh])
    is_new = np.zeros(len(shell.struts), dtype=bool)
    is_new[ask.scene.fresh] = True
    marks += _struts(shell, signs, seen, drawn, is_new)
    marks += _props(shell, seen, ask)
    near = np.unique(shell.struts[ask.scene.fresh]) if len(ask.scene.fresh) else np.empty(0, int)
    named = sorted(
        {*ask.hubs, *near.tolist(), *(prop[1] for prop in ask.props if prop[0] in ask.fresh_props)}
    )
    for hub in named if ask.numbered else ():
        marks.append(hub_dot(_at(seen[hub]), 1.1 if hub in ask.hubs else 0.7))
    if ask.numbered:
        marks += label_marks(_placed(shell, signs, seen, ask, named))
    marks += key
    marks.append(Text((ask.width - 1, 1.8), ask.words[2], 8 * POINT, "end", colour=QUIET))
    return Sheet(ask.width, ask.height, _inside(marks, ask), ask.title, ask.text)


def _props(shell: Shell, seen: Floats, ask: StepView) -> list[Mark]:
    marks: list[Mark] = []
    for k, (name, hub, _) in enumerate(ask.props):
        end, foot = _at(seen[hub]), _at(seen[len(shell.hubs) + k])
        marks += [Line(end, foot, PROP_PEN, "props"), Circle(foot, 0.8, None, Pen(MEDIUM, INK))]
        if name in ask.fresh_props:
            marks.append(Text((foot[0] + 1.4, foot[1] - 2.6), name, 8 * POINT, bold=True))
    return marks


def _is_small(shell: Shell, seen: Floats, ask: StepView) -> bool:
    """Return whether the new struts are too small in the frame to carry their letters."""
    if not len(ask.scene.fresh):
        return False
    ends = seen[shell.struts[ask.scene.fresh], :2]
    return bool(np.linalg.norm(ends[:, 0] - ends[:, 1], axis=1).mean() < SMALL)


def _key(shell: Shell, seen: Floats, ask: StepView) -> list[Mark]:
    """Return the frame small in the lower left corner, its new parts strong."""
    low, high = seen[ask.framed, :2].min(axis=0), seen[ask.framed, :2].max(axis=0)
    scale = float((np.array([KEY, 0.62 * KEY]) / np.maximum(high - low, 1e-6)).min())
    at = (seen[:, :2] - low) * scale + np.array([2.0, 2.0])
    frame = ((0.5, 0.5), (KEY + 3.5, 0.5), (KEY + 3.5, 0.62 * KEY + 3.5), (0.5, 0.62 * KEY + 3.5))
    marks: list[Mark] = [Polygon(frame, "#ffffff", Pen(FINE, GREY), "key")]
    for struts, pen in (
        (ask.scene.standing, Pen(FINE, GREY)), (ask.scene.fresh, Pen(WIDE, INK)),
    ):  # fmt: skip
        for i, j in shell.struts[struts].tolist():
            marks.append(Line(_at(at[i]), _at(at[j]), pen, "key"))
    return marks


def _inside(marks: Sequence[Mark], ask: StepView) -> tuple[Mark, ...]:
    """Return the marks with lines cut at the edge, and without what lies beyond it."""
    out: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Line):
            if _on_paper(mark.start, ask) and _on_paper(mark.end, ask):
                out.append(mark)
            elif ends := _cut(mark.start, mark.end, (ask.width, ask.height)):
                out.append(replace(mark, start=ends[0], end=ends[1]))
            continue
        at = mark.at if isinstance(mark, Text) else getattr(mark, "centre", None)
        if at is None or _on_paper(at, ask):
            out.append(mark)
    return tuple(out)


def _on_paper(at: Point, ask: StepView) -> bool:
    return 0 <= at[0] <= ask.width and 0 <= at[1] <= ask.height


def _cut(start: Point, end: Point, size: Point) -> tuple[Point, Point] | None:
    """Return the part of a line within 0 and `size`; None where there is none (Liang, Barsky)."""
    first, last = 0.0, 1.0
    for k in (0, 1):
        run = end[k] - start[k]
        for way, room in ((-run, start[k]), (run, size[k] - start[k])):
            if abs(way) < 1e-12:
                if room < 0:
                    return None
            elif way < 0:
                first = max(first, room / way)
            else:
                last = min(last, room / way)
    if first >= last:
        return None
    points = [
        (start[0] + t * (end[0] - start[0]), start[1] + t * (end[1] - start[1]))
        for t in (first, last)
    ]
    return points[0], points[1]


def _at(row: Floats) -> Point:
    return (float(row[0]), float(row[1]))


def _fitted(seen: Floats, framed: Indices, ask: StepView) -> Floats:
    """Return the points on paper, mm, so that the `framed` ones fill it."""
    low, high = seen[framed, :2].min(axis=0), seen[framed, :2].max(axis=0)
    room = np.array([ask.width - 2 * EDGE, ask.height - 2 * EDGE])
    scale = float((room / np.maximum(high - low, 1e-6)).min())
    middle = np.array([ask.width / 2, ask.height / 2])
    out = seen * scale
    out[:, :2] += middle - (low + high) / 2 * scale
    return out


def _struts(
    shell: Shell,
    signs: Sequence[TypeSign],
    seen: Floats,
    drawn: Indices,
    is_new: Indices,
) -> list[Mark]:
    marks: list[Mark] = []
    if not len(drawn):
        return marks
    pieces = see(seen[: len(shell.hubs)], shell.struts[drawn], None, gap=GAP)
    depths = seen[shell.struts[drawn], 2]
    behind = depths.mean(axis=1) < np.median(depths)
    lines = zip(pieces.segment.tolist(), pieces.start.tolist(), pieces.end.tolist(), strict=True)
    for row, start_at, end_at in lines:
        strut = int(drawn[row])
        start, end = (start_at[0], start_at[1]), (end_at[0], end_at[1])
        if is_new[strut]:
            sign = signs[strut]
            marks.append(Line(start, end, Pen(WIDE, sign.colour), f"type {sign.label}"))
        else:
            pen = Pen(FINE if behind[row] else MEDIUM, GREY)
            marks.append(Line(start, end, pen, "standing"))
    for strut in np.flatnonzero(is_new).tolist():
        sign = signs[strut]
        a, b = (_at(seen[hub]) for hub in shell.struts[strut])
        if math.hypot(a[0] - b[0], a[1] - b[1]) >= SHORTEST_BANDED:
            marks += bands(a, b, sign.band, sign.colour, share=0.2, length=1.6)
    return marks


def _placed(
    shell: Shell,
    signs: Sequence[TypeSign],
    seen: Floats,
    ask: StepView,
    named: Sequence[int],
) -> Placing:
    wishes: list[Wish] = []
    fresh = ask.scene.fresh
    if len(fresh) <= MOST_LABELLED:
        for k, strut in enumerate(fresh.tolist()):
            sign = signs[strut]
            a, b = (_at(seen[hub]) for hub in shell.struts[strut])
            places = along(a, b)
            wishes.append(Wish(sign.label, places[0], places, 8 * POINT, True, sign.colour, (k,)))
    for hub in named:
        at = _at(seen[hub])
        strong = hub in ask.hubs
        wishes.append(Wish(str(hub), at, around(at, 3.0), (8 if strong else 7) * POINT, strong))
    dots = [(x - 1, y - 1, x + 1, y + 1) for x, y in (_at(seen[hub]) for hub in named)]
    lines = seen[shell.struts[fresh]][..., :2].reshape(-1, 4)
    bounds: Box = (1.0, 5.0, ask.width - 1.0, ask.height - 1.0)
    return place_labels(wishes, bounds, keep_out=dots, lines=lines)


def _compass(ask: StepView) -> list[Mark]:
    """Return north as it lies on the ground of the picture, at the upper left."""
    north = np.array([[math.cos(ask.north), math.sin(ask.north), 0.0], [0.0, 0.0, 0.0]])
    tip, tail = project(ask.camera, north)[:, :2]
    way = (tip - tail) / max(float(np.linalg.norm(tip - tail)), 1e-9)
    centre = np.array([9.0, ask.height - 9.0])
    head, foot = centre + 4.5 * way, centre - 4.5 * way
    side = np.array([-way[1], way[0]])
    marks: list[Mark] = [Line(_at(foot), _at(head), Pen(MEDIUM, INK), "north")]
    for turn in (1, -1):
        marks.append(Line(_at(head), _at(head - 2 * way + turn * 1.0 * side), Pen(MEDIUM, INK)))
    at = centre + 7.2 * way
    marks.append(Text((float(at[0]), float(at[1]) - 1.0), ask.words[1], 8 * POINT, "middle"))
    return marks


def _door(seen: Floats, ask: StepView) -> list[Mark]:
    if not ask.door:
        return []
    at = seen[list(ask.door), :2].mean(axis=0)
    return [Text((float(at[0]), float(at[1]) - 4.2), ask.words[0], 8 * POINT, "middle", bold=True)]
