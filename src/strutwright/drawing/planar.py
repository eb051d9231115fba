"""Boxes and lines on paper that meet or not, many at a time."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from strutwright.values import Floats

__all__ = ["boxes_meet", "line_in_box", "lines_cross", "lines_in_boxes"]


def boxes_meet(one: Floats, two: Floats) -> NDArray[np.bool_]:
    """Return the (n, m) table of which boxes (left, bottom, right, top) share some area."""
    a, b = one[:, None], two[None]
    meets = (a[..., 0] < b[..., 2]) & (a[..., 2] > b[..., 0])
    return np.asarray(meets & (a[..., 1] < b[..., 3]) & (a[..., 3] > b[..., 1]))


def lines_in_boxes(lines: Floats, boxes: Floats) -> NDArray[np.bool_]:
    """Return the (L, B) table of which line (x1, y1, x2, y2) passes through the inside of a box."""
    return line_in_box(lines[:, None], boxes[None])


def line_in_box(lines: Floats, boxes: Floats) -> NDArray[np.bool_]:
    """Return whether each line (..., 4) passes through the inside of its box (..., 4)."""
    start, way = lines[..., :2], lines[..., 2:] - lines[..., :2]
    low, high = boxes[..., :2], boxes[..., 2:]
    with np.errstate(divide="ignore", invalid="ignore"):
        a, b = (low - start) / way, (high - start) / way
    level = np.broadcast_to(way == 0, a.shape)
    inside = (start > low) & (start < high)
    enter = np.where(level, np.where(inside, -np.inf, np.inf), np.minimum(a, b)).max(axis=-1)
    leave = np.where(level, np.where(inside, np.inf, -np.inf), np.maximum(a, b)).min(axis=-1)
    return np.asarray(np.maximum(enter, 0.0) + 1e-9 < np.minimum(leave, 1.0))


def lines_cross(one: Floats, two: Floats) -> NDArray[np.bool_]:
    """Return the (n, m) table of which lines cross which, touching ends left out."""

    def side(a: Floats, b: Floats, c: Floats) -> Floats:
        first, second = b - a, c - a
        return np.asarray(first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0])

    a, b = one[:, None, :2], one[:, None, 2:]
    c, d = two[None, :, :2], two[None, :, 2:]
    apart = side(a, b, c) * side(a, b, d) < 0
    return np.asarray(apart & (side(c, d, a) * side(c, d, b) < 0))
