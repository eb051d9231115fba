"""End walls of a vault: upright posts and rails in the plane of each end, leaving a door."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from strutwright.sentences import Sentence, note, sentence
from strutwright.shape.corridor import triangulate_strip
from strutwright.shape.edit import Net, pair
from strutwright.values import ArrayValue, Floats, Note

__all__ = ["Gable", "add_gables"]

SPACING: Final = 0.6
"""Least distance between posts as a share of the rib's chord: our choice."""
SHORTEST: Final = 0.25
"""Shortest piece of a post as a share of the rib's chord: our choice."""
RAIL_STEP: Final = 1.5
"""Height between rails of a wall without a door, in chords of the rib: our choice."""


@dataclass(frozen=True, eq=False)
class Gable(ArrayValue):
    """What an end wall has to fill.

    Parameters
    ----------
    section : (R, 2) array, m
        (y, z) of the rows of the barrel from +y to -y.
    length : float, m
    chord : float, m
        Length of a step of the rib.
    door : (float, float), m
        Least clear width and height, hub to hub.
    """

    section: Floats
    length: float
    chord: float
    door: tuple[float, float]


@dataclass(frozen=True)
class _Post:
    """One post of half a gable: y, heights of its hubs, and the rib row that it reaches."""

    y: float
    heights: tuple[float, ...]
    row: int | None


@dataclass(frozen=True)
class _Layout:
    """Posts of the half at +y from the middle outwards; how the door is framed.

    `door` is ``frame`` (jambs and a head of their own), ``rib`` (jambs up to the rib, which is
    the head) or ``none``.
    """

    posts: tuple[_Post, ...]
    door: str


def add_gables(net: Net, gable: Gable) -> tuple[Note, ...]:
    """Close both ends of `net` with posts, rails and faces; return what the door came to.

    The door stands in the middle. Its jambs and head have these roles; a tie under the threshold
    keeps the base ring closed.
    """
    layout = _layout(gable)
    for side in (-1, 1):
        _fill(net, gable, layout, side)
    _ring(net)
    width, height = gable.door
    if layout.door == "none":
        wall = float(gable.section[:, 1].max())
        return (note("vault-no-door", width=width, height=height, wall=wall, room=_largest(gable)),)
    clear = 2 * layout.posts[0].y
    high = height if layout.door == "frame" else layout.posts[0].heights[-1]
    return (note("vault-door", width=clear, height=high),)


def _frame_height(gable: Gable, width: float) -> float:
    """Return the height of the highest door of `width` that has a frame of its own, m."""
    section, near = gable.section, SPACING * gable.chord
    half = section[: len(section) // 2 + 1][::-1]
    if float(section[:, 0].max()) - width / 2 <= near:
        return 0.0
    over = float(np.interp(width / 2, half[:, 0], half[:, 1], right=0.0))
    return over - SHORTEST * gable.chord


def _rib_row(gable: Gable, width: float) -> int | None:
    """Return the row of the rib that is the head of a door of `width`; None where there is none."""
    section, edge = gable.section, float(gable.section[:, 0].max())
    for row in range(len(section) // 2 - 1, 0, -1):
        if 2 * section[row, 0] >= width:
            return row if section[row, 0] < edge else None
    return None


def _door_height(gable: Gable, width: float) -> float:
    """Return the height of the highest door of `width`, m."""
    row = _rib_row(gable, width)
    return max(_frame_height(gable, width), 0.0 if row is None else float(gable.section[row, 1]))


def _largest(gable: Gable) -> tuple[Sentence, ...]:
    """Return the highest door of the width asked, and the widest of the height asked."""
    width, height = gable.door
    highest = _door_height(gable, width)
    widths = np.arange(1, int(1000 * width)) / 1000
    wide = [one for one in widths.tolist() if _door_height(gable, one) >= height]
    words = []
    if highest > 0:
        words.append(sentence("vault-door-room.high", width=width, height=_down(highest)))
    if wide:
        words.append(sentence("vault-door-room.wide", height=height, width=_down(max(wide))))
    return tuple(words) or (sentence("vault-door-room.none"),)


def _down(length: float) -> float:
    """Return `length` rounded down to the centimetre, m: a limit is never told too large."""
    return float(np.floor(100 * length + 1e-9)) / 100


def _layout(gable: Gable) -> _Layout:
    """Return the posts: those of the door, then one at each rib hub that is far enough out."""
    section, (width, height) = gable.section, gable.door
    crown, near = len(section) // 2, SPACING * gable.chord
    edge = float(section[:, 0].max())
    row = _rib_row(gable, width)
    if _frame_height(gable, width) >= height:
        door, step = "frame", height
        posts = [_Post(width / 2, (0.0, height), None)]
    elif row is not None and section[row, 1] >= height:
        door, step = "rib", height
        posts = [_reaching(section, row, ())]
    else:
        door, step = "none", gable.chord * RAIL_STEP
        posts = [_reaching(section, crown, _rails(step, section[crown, 1], gable))]
    for row in range(crown - 1, 0, -1):
        y, top = (float(value) for value in section[row])
        if min(y - posts[-1].y, edge - y, top) >= near:
            posts.append(_reaching(section, row, _rails(step, top, gable)))
    return _Layout(tuple(posts), door)


def _rails(step: float, top: float, gable: Gable) -> tuple[float, ...]:
    return tuple(np.arange(step, top - SHORTEST * gable.chord, step).tolist())


def _reaching(section: Floats, row: int, rails: tuple[float, ...]) -> _Post:
    return _Post(float(section[row, 0]), (0.0, *rails, float(section[row, 1])), row)


def _fill(net: Net, gable: Gable, layout: _Layout, side: int) -> None:
    """Add the posts and faces of the end at x = `side` half lengths."""
    x, crown = side * gable.length / 2, len(gable.section) // 2
    rows = _rib(net, gable, x)
    chains: dict[tuple[int, int], list[int]] = {}
    for number, post in enumerate(layout.posts):
        for way in (1, -1) if post.y > 0 else (1,):
            below = post.heights if post.row is None else post.heights[:-1]
            chain = _hubs(net, [(x, way * post.y, height) for height in below])
            chains[number, way] = chain if post.row is None else [*chain, rows[post.row, way]]
    if layout.posts[0].y == 0:
        chains[0, -1] = chains[0, 1]
    faces = []
    for way in (1, -1):
        for number, post in enumerate(layout.posts):
            last = number + 1 == len(layout.posts)
            low = 0 if last else layout.posts[number + 1].row
            high = crown + 1 if post.row is None else post.row
            second = [rows[0, way]] if last else chains[number + 1, way]
            second = [*second, *(rows[row, way] for row in range((low or 0) + 1, high))]
            faces.append(triangulate_strip(net.hubs, second, chains[number, way]))
    if layout.door == "frame":
        faces.append(np.array([[chains[0, 1][1], chains[0, -1][1], rows[crown, 1]]]))
    net.faces = np.vstack([net.faces, *(_facing(net, part, side) for part in faces)])
    _name(net, chains, layout.door)


def _hubs(net: Net, points: list[tuple[float, float, float]]) -> list[int]:
    """Add hubs; those at z = 0 are of the base row."""
    if not points:
        return []
    course = np.arange(len(points)) + (0 if points[0][2] == 0 else 1)
    return net.add_hubs(np.array(points), course)


def _rib(net: Net, gable: Gable, x: float) -> dict[tuple[int, int], int]:
    """Return the hub of each row of the rib at `x`, by row from the base and side of y."""
    at_end = np.flatnonzero(np.abs(net.hubs[:, 0] - x) < 1e-9 * gable.length)
    found = {}
    for row in range(len(gable.section) // 2 + 1):
        for way in (1, -1):
            target = gable.section[row] * [way, 1]
            gap = np.linalg.norm(net.hubs[at_end, 1:] - target, axis=1)
            found[row, way] = int(at_end[np.argmin(gap)])
    return found


def _facing(net: Net, faces: np.ndarray, side: int) -> np.ndarray:
    """Return `faces` wound so that they look along `side` of x; flat ones dropped."""
    a, b, c = (net.hubs[faces[:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)[:, 0]
    faces = np.where((normal * side < 0)[:, None], faces[:, ::-1], faces)
    return faces[np.abs(normal) > 1e-12]


def _name(net: Net, chains: dict[tuple[int, int], list[int]], door: str) -> None:
    wall = net.hub_groups.setdefault("end_wall", [])
    upright = net.strut_groups.setdefault("posts", [])
    for chain in chains.values():
        wall += [hub for hub in chain if hub not in wall]
        upright += [pair(a, b) for a, b in pairwise(chain) if pair(a, b) not in upright]
    if door == "none":
        return
    net.set_role(chains[0, 1][0], chains[0, -1][0], "tie")
    for way in (1, -1):
        for a, b in pairwise(chains[0, way]):
            net.set_role(a, b, "jamb")
    if door == "frame":
        net.set_role(chains[0, 1][1], chains[0, -1][1], "head")


def _ring(net: Net) -> None:
    """Put the feet of the posts between the two sides of the base, anticlockwise from above."""
    half = len(net.base) // 2
    right, left = net.base[:half], net.base[half:]
    feet = np.flatnonzero((net.hubs[:, 2] == 0) & ~np.isin(np.arange(len(net.hubs)), net.base))
    ends = [feet[np.sign(net.hubs[feet, 0]) == side] for side in (1, -1)]
    front, back = (end[np.argsort(net.hubs[end, 1])].tolist() for end in ends)
    net.base = [*right, *front, *left, *back[::-1]]
