"""A true section: the shell cut by an upright plane, what is cut heavy, what is beyond light."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from strutwright.documents.pictures.signs import neat_scale, scale_foot
from strutwright.drawing import (
    GREY,
    INK,
    MEDIUM,
    POINT,
    QUIET,
    WIDE,
    Camera,
    Circle,
    Line,
    Mark,
    Pen,
    Point,
    Sheet,
    Text,
    dimension,
    ground_line,
    project,
)
from strutwright.shape import Shell
from strutwright.values import Floats

__all__ = ["section_view"]

EDGE: Final = 16.0
FOOT: Final = 22.0
WIDTH: Final = 174.0
HEIGHT: Final = 110.0
BEFORE: Final = 1e-5
"""The plane stands this share of the size before the middle, so that struts of the middle show."""
SAME: Final = 0.01
"""m: widths that differ by less are told once."""


def section_view(
    shell: Shell, camera: Camera, title: str, words: str, show: Callable[[float], str]
) -> Sheet:
    """Return the section of `shell` in the middle, as `camera` (an elevation) looks at it.

    Parameters
    ----------
    shell : Shell
    camera : Camera
        Level: it looks across the plane of the cut.
    title : str
    words : str
        What is drawn how, at the foot.
    show : callable
        Gives a length (m) in the reader's units.
    """
    seen = project(camera, shell.hubs)
    base = seen[shell.base]
    plane = 0.5 * float(base[:, 2].min() + base[:, 2].max()) + BEFORE * shell.size
    cut = _cut_faces(seen, shell, plane)
    beyond, crossed = _struts_beyond(seen, shell, plane)
    drawn = np.vstack([cut.reshape(-1, 2), beyond.reshape(-1, 2)])
    low, high = drawn.min(axis=0), drawn.max(axis=0)
    low[1] = min(low[1], 0.0)
    across, up = (high - low).tolist()
    scale = max(neat_scale(across, WIDTH - 2 * EDGE), neat_scale(up, HEIGHT))
    to_paper = 1000 / scale
    left = 0.5 * (WIDTH - across * to_paper)

    def at(point: Floats) -> Point:
        x, y = (point - low) * to_paper
        return (float(x) + left, float(y) + FOOT)

    level = at(np.array([low[0], 0.0]))[1]
    ends = (left - 8, level), (WIDTH - left + 8, level)
    # legs that go below the level of the base ring tell of a slope: its line is not known here
    legs = low[1] < -SAME
    marks: list[Mark] = [Line(*ends, Pen(MEDIUM, GREY, (2.4, 1.2)), "level")]
    if not legs:
        marks = [*ground_line(*ends)]
    marks += [Line(at(a), at(b), Pen(MEDIUM, GREY), "beyond") for a, b in beyond]
    marks += [Line(at(a), at(b), Pen(2 * WIDE, INK), "cut") for a, b in cut]
    marks += [Circle(at(point), 0.9, INK, layer="cut") for point in crossed]
    marks += _sizes(np.vstack([cut.reshape(-1, 2), crossed]), float(low[1]), at, show)
    marks += scale_foot(to_paper, show)
    marks.append(
        Text((WIDTH - 2, 3.0), f"{title}, 1:{scale:g}; {words}", 8 * POINT, "end", colour=QUIET)
    )
    height = up * to_paper + FOOT + EDGE
    return Sheet(WIDTH, height, tuple(marks), title, f"{title}, 1:{scale:g}.")


def _sizes(
    points: Floats, foot: float, at: Callable[[Floats], Point], show: Callable[[float], str]
) -> list[Mark]:
    """Return the dimensions of what is cut: width, at the foot too where it differs, height.

    Where the plane runs through a door, the cut ends above it; sizes still start at the foot.
    """
    if len(points) == 0:
        return []
    low, high = points.min(axis=0), points.max(axis=0)
    marks: list[Mark] = []
    feet = points[points[:, 1] <= max(foot, 0.0) + SAME]
    widths = [(low[0], high[0])]
    if len(feet) and float(np.ptp(feet[:, 0])) < high[0] - low[0] - SAME:
        widths.insert(0, (feet[:, 0].min(), feet[:, 0].max()))
    for row, (first, last) in enumerate(widths):
        if last - first > SAME:
            ends = at(np.array([first, foot])), at(np.array([last, foot]))
            marks += dimension(*ends, -5.0 - 5.0 * row, show(float(last - first)))
    bottom, top = np.array([high[0], foot]), high
    marks += dimension(at(bottom), at(top), -6.0, show(float(high[1] - foot)))
    return marks


def _cut_faces(seen: Floats, shell: Shell, plane: float) -> Floats:
    """Return (P, 2, 2) the lines in which the plane cuts the faces, right and up."""
    corners = seen[shell.faces]
    ahead = corners[:, :, 2] > plane
    hit = ahead.any(axis=1) & ~ahead.all(axis=1)
    ends = []
    for face, side in zip(corners[hit], ahead[hit], strict=True):
        pairs = [(k, (k + 1) % 3) for k in range(3) if side[k] != side[(k + 1) % 3]]
        ends.append([_meet(face[i], face[j], plane) for i, j in pairs])
    return np.array(ends).reshape(-1, 2, 2)


def _meet(start: Floats, end: Floats, plane: float) -> Floats:
    share = (plane - start[2]) / (end[2] - start[2])
    return np.asarray(start[:2] + share * (end[:2] - start[:2]))


def _struts_beyond(seen: Floats, shell: Shell, plane: float) -> tuple[Floats, Floats]:
    """Return (P, 2, 2) what of the struts lies beyond the plane, and (C, 2) where it cuts them."""
    lines, crossed = [], []
    for i, j in shell.struts.tolist():
        near, far = (i, j) if seen[i, 2] > seen[j, 2] else (j, i)
        if seen[far, 2] > plane:
            continue
        start = seen[near, :2]
        if seen[near, 2] > plane:
            start = _meet(seen[near], seen[far], plane)
            crossed.append(start)
        lines.append([start, seen[far, :2]])
    return np.array(lines).reshape(-1, 2, 2), np.array(crossed).reshape(-1, 2)
