"""Labels that do not collide: each goes to the first of its places that is free."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from strutwright.drawing.marks import (
    CAP_HEIGHT,
    FINE,
    POINT,
    Box,
    Circle,
    Line,
    Mark,
    Pen,
    Point,
    Text,
)
from strutwright.drawing.metrics import text_width
from strutwright.drawing.palette import INK, QUIET, WHITE
from strutwright.drawing.planar import boxes_meet, line_in_box, lines_cross, lines_in_boxes
from strutwright.values import Floats, Indices

__all__ = [
    "Label",
    "Placing",
    "Wish",
    "along",
    "around",
    "half_size",
    "label_marks",
    "place_labels",
]

PADDING: Final = 0.5
"""Kept free round the letters of a label, mm."""
RING_STEP: Final = 2.5
"""Between the rings of places that are tried with a leader line, mm."""
RINGS: Final = 8
"""Rings of places before a label is given up: a longer leader line is not followed by eye."""
RAYS: Final = 24
"""Places on a ring."""
ORDER_COST: Final = 0.3
"""Crossed lines that one place further down the order is worth; our choice."""
AT_ONCE: Final = 4096
"""Places held against all lines at once: bounds the memory."""


@dataclass(frozen=True)
class Wish:
    """A label that wants a place.

    Parameters
    ----------
    text : str
        The words.
    at : Point
        The point that it names; a leader line ends there.
    places : tuple of Point
        Middles of the label, best first; beyond them rings about `at` are tried.
    own : tuple of int
        Lines that the label may lie on without harm, as indices into the lines.
    ring : bool
        Drawn in a round frame.
    """

    text: str
    at: Point
    places: tuple[Point, ...]
    size: float = 8 * POINT
    bold: bool = False
    colour: str = INK
    own: tuple[int, ...] = ()
    ring: bool = False


@dataclass(frozen=True)
class Label:
    """A label that has its place: its wish, its middle, its box, and its leader line."""

    wish: Wish
    middle: Point
    box: Box
    leader: tuple[Point, Point] | None = None


@dataclass(frozen=True)
class Placing:
    """All labels that found a place, and the wishes that found none."""

    labels: tuple[Label, ...]
    left_out: tuple[Wish, ...] = ()


def around(at: Point, distance: float) -> tuple[Point, ...]:
    """Return eight places about a point, `distance` mm away, upper right first."""
    turns = (1, 3, 7, 5, 0, 2, 4, 6)
    return tuple(
        (
            at[0] + distance * math.cos(k * math.pi / 4),
            at[1] + distance * math.sin(k * math.pi / 4),
        )
        for k in turns
    )


def along(start: Point, end: Point) -> tuple[Point, ...]:
    """Return places on a line, its middle first."""
    shares = (0.5, 0.42, 0.58, 0.35, 0.65, 0.28, 0.72)
    return tuple(
        (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)
        for share in shares
    )


def half_size(wish: Wish) -> Point:
    """Return half the width and half the height of the label's box, mm."""
    across = text_width(wish.text, wish.size, bold=wish.bold) / 2
    up = CAP_HEIGHT * wish.size / 2
    if wish.ring:
        radius = math.hypot(across, up) + 0.3
        return (radius + PADDING / 2, radius + PADDING / 2)
    return (across + PADDING, up + PADDING)


def place_labels(
    wishes: Sequence[Wish],
    bounds: Box,
    *,
    keep_out: Sequence[Box] = (),
    lines: Floats | None = None,
) -> Placing:
    """Return the labels in their places: none overlaps another, a leader line or a kept-out box.

    Wishes are served in their order, first those that find room at hand, then those that need a
    leader line; the same wishes give the same places.

    Parameters
    ----------
    bounds : Box
        Labels stay within, mm.
    keep_out : sequence of Box
        Nothing is put there, mm.
    lines : (L, 4) array or None
        Lines of the picture, x1, y1, x2, y2, mm: covered as little as may be.
    """
    boxes = np.array(list(keep_out), dtype=np.float64).reshape(-1, 4)
    rows = np.zeros((0, 4)) if lines is None else np.asarray(lines, dtype=np.float64)
    room = _Room(bounds, boxes, np.zeros((0, 4)), np.zeros((0, 4)), rows)
    # Places at hand first, for all: a leader line drawn early would block those of others.
    found = _at_hand(room, wishes)
    room = replace(room, labels=np.array([one.box for one in found.values()]).reshape(-1, 4))
    for k, wish in enumerate(wishes):
        label = None if k in found else _with_leader(room, wish)
        if label is not None:
            found[k] = label
            room = _taken(room, label)
    labels = [found[k] for k in sorted(found)]
    left_out = [wish for k, wish in enumerate(wishes) if k not in found]
    return Placing(tuple(labels), tuple(left_out))


@dataclass(frozen=True, eq=False)
class _Room:
    """What is taken: kept out (k, 4), labels (n, 4), leaders (m, 4); the picture's lines (L, 4)."""

    bounds: Box
    kept_out: Floats
    labels: Floats
    leaders: Floats
    lines: Floats


def _local(room: _Room, low: Floats, high: Floats) -> _Room:
    """Return what of the room touches the rectangle from `low` (2,) to `high` (2,)."""

    def touching(rows: Floats) -> Floats:
        least = np.minimum(rows[:, :2], rows[:, 2:])
        most = np.maximum(rows[:, :2], rows[:, 2:])
        return np.asarray(rows[(least < high).all(axis=1) & (most > low).all(axis=1)])

    return replace(
        room,
        kept_out=touching(room.kept_out),
        labels=touching(room.labels),
        leaders=touching(room.leaders),
    )


def _at_hand(room: _Room, wishes: Sequence[Wish]) -> dict[int, Label]:
    """Return by wish the labels that find room in one of its places, in a room of no labels."""
    halves = np.array([half_size(wish) for wish in wishes]).reshape(-1, 2)
    counts = [len(wish.places) for wish in wishes]
    owner = np.repeat(np.arange(len(wishes)), counts)
    places = np.array([at for wish in wishes for at in wish.places]).reshape(-1, 2)
    boxes = np.concatenate([places - halves[owner], places + halves[owner]], axis=1)
    clear = _within(room.bounds, boxes) & ~boxes_meet(boxes, room.kept_out).any(axis=1)
    owner, places, boxes = owner[clear], places[clear], boxes[clear]
    crossed = _lines_under(room.lines, boxes, [wish.own for wish in wishes], owner)
    starts = np.searchsorted(owner, np.arange(len(wishes) + 1))
    found: dict[int, Label] = {}
    taken = np.empty((len(wishes), 4))
    for k, (first, end) in enumerate(itertools.pairwise(starts.tolist())):
        rows = np.arange(first, end)
        free = rows[~boxes_meet(boxes[rows], taken[: len(found)]).any(axis=1)]
        if len(free):
            best = free[int(np.argmin(crossed[free] + ORDER_COST * np.arange(len(free))))]
            taken[len(found)] = boxes[best]
            found[k] = _label(wishes[k], places[best], halves[k], None)
    return found


def _within(bounds: Box, boxes: Floats) -> NDArray[np.bool_]:
    left, bottom, right, top = bounds
    low = (boxes[:, 0] >= left) & (boxes[:, 1] >= bottom)
    return np.asarray(low & (boxes[:, 2] <= right) & (boxes[:, 3] <= top))


def _lines_under(
    lines: Floats, boxes: Floats, own: Sequence[Sequence[int]], owner: Indices
) -> Indices:
    """Return how many lines pass under each of the (B, 4) `boxes`, those of its owner left out."""
    is_own = np.zeros((len(own), len(lines)), dtype=bool)
    for k, lines_of_it in enumerate(own):
        is_own[k, list(lines_of_it)] = True
    low = np.minimum(lines[:, :2], lines[:, 2:])
    high = np.maximum(lines[:, :2], lines[:, 2:])
    spans = np.concatenate([low, high], axis=1)
    counts = np.zeros(len(boxes), dtype=np.int64)
    for first in range(0, len(boxes), AT_ONCE):
        part = slice(first, first + AT_ONCE)
        row, line = np.nonzero(boxes_meet(boxes[part], spans) & ~is_own[owner[part]])
        under = line_in_box(lines[line], boxes[part][row])
        counts[part] = np.bincount(row[under], minlength=len(boxes[part]))
    return counts


def _with_leader(room: _Room, wish: Wish) -> Label | None:
    half = np.array(half_size(wish))
    turn = np.arange(RAYS) * (2 * np.pi / RAYS) + np.pi / 4
    rays = np.stack([np.cos(turn), np.sin(turn)], axis=1)
    at = np.array(wish.at)
    span = np.hypot(*half) + RINGS * RING_STEP + half
    local = _local(room, at - span, at + span)
    reach = float(np.hypot(*half)) + np.arange(1, RINGS + 1) * RING_STEP
    places = _free(local, (at + rays[None] * reach[:, None, None]).reshape(-1, 2), half)
    starts = places + (at - places) * _inside_share(at - places, half)[:, None]
    leaders = np.concatenate([starts, np.broadcast_to(at, places.shape)], axis=1)
    clear = ~lines_in_boxes(leaders, _in_the_way(local, wish)).any(axis=1)
    clear &= ~lines_cross(leaders, local.leaders).any(axis=1)
    if not clear.any():
        return None
    places, leaders = places[clear], leaders[clear]
    ring = np.rint(np.linalg.norm(places - at, axis=1) / RING_STEP * 10)
    nearest = np.flatnonzero(ring == ring.min())  # places come ring by ring, the nearest first
    best = int(nearest[np.argmin(_crossed(room, places[nearest], half, wish))])
    leader = ((float(leaders[best, 0]), float(leaders[best, 1])), wish.at)
    return _label(wish, places[best], half, leader)


def _in_the_way(room: _Room, wish: Wish) -> Floats:
    """Return the boxes a leader line must not pass: all but a kept-out one round its own point."""
    x, y = wish.at
    box = room.kept_out
    own = (box[:, 0] <= x) & (x <= box[:, 2]) & (box[:, 1] <= y) & (y <= box[:, 3])
    return np.concatenate([box[~own], room.labels])


def _free(room: _Room, middles: Floats, half: Floats) -> Floats:
    boxes = np.concatenate([middles - half, middles + half], axis=1)
    ok = _within(room.bounds, boxes)
    ok &= ~boxes_meet(boxes, np.concatenate([room.kept_out, room.labels])).any(axis=1)
    ok &= ~lines_in_boxes(room.leaders, boxes).any(axis=0)
    return np.asarray(middles[ok])


def _crossed(room: _Room, middles: Floats, half: Floats, wish: Wish) -> Indices:
    """Return how many lines of others a label in each of the places would lie on."""
    boxes = np.concatenate([middles - half, middles + half], axis=1)
    return _lines_under(room.lines, boxes, [wish.own], np.zeros(len(boxes), dtype=np.int64))


def _taken(room: _Room, label: Label) -> _Room:
    leaders = room.leaders
    if label.leader:
        leaders = np.concatenate([leaders, [[*label.leader[0], *label.leader[1]]]])
    return replace(room, labels=np.concatenate([room.labels, [label.box]]), leaders=leaders)


def _label(wish: Wish, middle: Floats, half: Floats, leader: tuple[Point, Point] | None) -> Label:
    x, y = float(middle[0]), float(middle[1])
    box = (x - float(half[0]), y - float(half[1]), x + float(half[0]), y + float(half[1]))
    return Label(wish, (x, y), box, leader)


def _inside_share(ways: Floats, half: Floats) -> Floats:
    """Return the share of each way (n, 2) from a box's middle at which it leaves the box."""
    with np.errstate(divide="ignore"):
        return np.asarray(np.min(half / np.abs(ways), axis=1).clip(max=1.0))


def label_marks(placing: Placing) -> tuple[Mark, ...]:
    """Return the marks of placed labels: leader lines first, then frames and words."""
    leaders = [
        Line(*label.leader, Pen(FINE, QUIET), "labels") for label in placing.labels if label.leader
    ]
    words: list[Mark] = []
    for label in placing.labels:
        wish = label.wish
        if wish.ring:
            radius = half_size(wish)[0] - PADDING / 2
            words.append(Circle(label.middle, radius, WHITE, Pen(FINE, QUIET), "labels"))
        words.append(
            Text(
                label.middle,
                wish.text,
                wish.size,
                "middle",
                "middle",
                halo=0.0 if wish.ring else 0.4,
                colour=wish.colour,
                bold=wish.bold,
                layer="labels",
            )
        )
    return (*leaders, *words)
