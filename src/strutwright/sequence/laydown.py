"""Ground that a band of faces takes up when it is laid out flat."""

from __future__ import annotations

import numpy as np

from strutwright.sequence.values import LayDown
from strutwright.shape import Shell
from strutwright.values import Floats, Indices

__all__ = ["band_of", "lay_down"]


def band_of(shell: Shell, course: int) -> Indices:
    """Return the faces between `course` - 1 and `course`, in their order round the shell.

    A face belongs to the course of its highest hub; neighbours follow one another along struts
    that they share, as far as the band goes.
    """
    lower, upper = shell.course[shell.faces].min(axis=1), shell.course[shell.faces].max(axis=1)
    inside = np.flatnonzero((upper == course) & (lower < course))
    middle = shell.hubs[shell.faces[inside]].mean(axis=1)
    return np.asarray(inside[np.argsort(np.arctan2(middle[:, 1], middle[:, 0]), kind="stable")])


def lay_down(shell: Shell, course: int, parts: int = 1) -> LayDown | None:
    """Return the ground for the band of `course` unrolled in `parts` strips; None without faces.

    The box lies along the principal axes of the corners of all unrolled faces. Each strip is
    unrolled face by face along shared struts; where the band is broken (an opening), each run
    is unrolled by itself and the runs lie one behind the other. Of several strips the largest
    box is given.
    """
    band = band_of(shell, course)
    if not len(band):
        return None
    size = -(-len(band) // parts)
    boxes = [_box_of_runs(shell, band[k : k + size]) for k in range(0, len(band), size)]
    length, width = max(boxes, key=lambda box: box[0] * box[1])
    return LayDown(course, parts, length, width)


def _box_of_runs(shell: Shell, faces: Indices) -> tuple[float, float]:
    boxes = [_box(unrolled) for unrolled in _unroll(shell, faces)]
    return sum(box[0] for box in boxes), max(box[1] for box in boxes)


def _unroll(shell: Shell, faces: Indices) -> list[Floats]:
    """Return the flat corners (3 n, 2) of each run of n faces that share struts."""
    runs: list[Floats] = []
    corners: list[Floats] = []
    flat: dict[int, Floats] = {}
    before: set[int] = set()
    for face in faces.tolist():
        ids = shell.faces[face].tolist()
        shared = [hub for hub in ids if hub in before]
        if len(shared) != 2:
            if corners:
                runs.append(np.array(corners))
            flat, corners = _first(shell, ids), []
        else:
            new = next(hub for hub in ids if hub not in before)
            flat = {hub: flat[hub] for hub in before if hub in flat}
            away = next(hub for hub in before if hub not in shared)
            flat[new] = _beyond(shell, (shared[0], shared[1]), new, flat, away)
        corners.extend(flat[hub] for hub in ids)
        before = set(ids)
    runs.append(np.array(corners))
    return runs


def _first(shell: Shell, ids: list[int]) -> dict[int, Floats]:
    a, b, c = (shell.hubs[hub] for hub in ids)
    side = float(np.linalg.norm(b - a))
    along = float((c - a) @ (b - a)) / side
    high = float(np.sqrt(max(0.0, (c - a) @ (c - a) - along**2)))
    points = ((0.0, 0.0), (side, 0.0), (along, high))
    return {hub: np.array(point) for hub, point in zip(ids, points, strict=True)}


def _beyond(
    shell: Shell, shared: tuple[int, int], new: int, flat: dict[int, Floats], away: int
) -> Floats:
    """Return where the third corner falls, on the other side of the shared strut."""
    p, q = shared
    base = flat[q] - flat[p]
    side = float(np.linalg.norm(base))
    along = base / side
    across = np.array([-along[1], along[0]])
    if (flat[away] - flat[p]) @ across > 0:
        across = -across
    reach = shell.hubs[new] - shell.hubs[p]
    run = float(reach @ (shell.hubs[q] - shell.hubs[p])) / side
    high = float(np.sqrt(max(0.0, reach @ reach - run**2)))
    return np.asarray(flat[p] + run * along + high * across)


def _box(corners: Floats) -> tuple[float, float]:
    """Return length and width of the box along the principal axes of `corners`."""
    centred = corners - corners.mean(axis=0)
    axes = np.linalg.svd(centred, full_matrices=False)[2]
    sizes = np.ptp(centred @ axes.T, axis=0)
    return float(sizes.max()), float(sizes.min())
