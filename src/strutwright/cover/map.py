"""Where each piece of film or panel sits on the shell, seen from above and from the sides."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

import numpy as np

from strutwright.cover.values import FilmLayer, PanelPlan
from strutwright.drawing import (
    FINE,
    INK,
    POINT,
    QUIET,
    WIDE,
    Line,
    Mark,
    Pen,
    Sheet,
    Wish,
    label_marks,
    place_labels,
)
from strutwright.shape import Shell
from strutwright.shape.surface import face_areas, face_normals
from strutwright.values import Floats, Indices

__all__ = ["SIDES", "film_map", "owners", "panel_map"]

SIDES: Final[Mapping[str, tuple[Floats, Floats]]] = MappingProxyType(
    {
        "above": (np.array([1.0, 0, 0]), np.array([0, 1.0, 0])),
        "minus_y": (np.array([1.0, 0, 0]), np.array([0, 0, 1.0])),
        "plus_x": (np.array([0, 1.0, 0]), np.array([0, 0, 1.0])),
        "plus_y": (np.array([-1.0, 0, 0]), np.array([0, 0, 1.0])),
        "minus_x": (np.array([0, -1.0, 0]), np.array([0, 0, 1.0])),
    }
)
"""Where one looks from: the directions of the sheet's right and up in the shell."""
FACING: Final = 0.12
"""Faces whose normal turns to the reader by less than this cosine are left out."""
EDGE: Final = 4.0
"""mm kept free at the edge of the picture."""


def owners(pieces: Sequence[Indices], faces: int) -> Indices:
    """Return for each of `faces` the index of the piece that covers it."""
    owner = np.full(faces, -1)
    for k, covered in enumerate(pieces):
        owner[covered] = k
    return owner


def film_map(film: FilmLayer, shell: Shell, side: str, *, width: float = 84.0) -> Sheet:
    """Return the pieces of a layer on the shell, seen from one of `SIDES`."""
    owner = owners([piece.faces for piece in film.pieces], len(shell.faces))
    return _map(shell, owner, [piece.label for piece in film.pieces], side, width)


def panel_map(plan: PanelPlan, shell: Shell, side: str, *, width: float = 84.0) -> Sheet:
    """Return the panels of a layer by type on the shell, seen from one of `SIDES`."""
    types = plan.types
    kind = owners([panel.faces for panel in types], len(shell.faces))
    names = [types[k].label for k in kind.tolist()]
    return _map(shell, np.arange(len(shell.faces)), names, side, width)


def _map(shell: Shell, owner: Indices, names: Sequence[str], side: str, width: float) -> Sheet:
    right, up = SIDES[side]
    towards = np.cross(right, up)
    shown = np.flatnonzero(face_normals(shell) @ towards > FACING)
    flat = shell.hubs @ np.stack([right, up], axis=1)
    low, high = flat.min(axis=0), flat.max(axis=0)
    factor = (width - 2 * EDGE) / float(high[0] - low[0])
    height = float(high[1] - low[1]) * factor + 2 * EDGE
    place = (flat - low) * factor + EDGE
    marks: list[Mark] = []
    by_edge: dict[tuple[int, int], list[int]] = {}
    for face in shown.tolist():
        hubs = shell.faces[face].tolist()
        for i, j in zip(hubs, hubs[1:] + hubs[:1], strict=True):
            by_edge.setdefault((min(i, j), max(i, j)), []).append(int(owner[face]))
    for (i, j), both in by_edge.items():
        inside = len(both) == 2 and both[0] == both[1]
        pen = Pen(FINE, QUIET) if inside else Pen(WIDE, INK)
        marks.append(Line(_point(place[i]), _point(place[j]), pen))
    bounds = (1.0, 1.0, width - 1.0, height - 1.0)
    marks += _labels(_wishes(shell, owner, shown, place), names, bounds)
    return Sheet(width, height, tuple(marks), side, f"Pieces of the cover: {len(set(names))}.")


def _wishes(
    shell: Shell, owner: Indices, shown: Indices, place: Floats
) -> dict[int, tuple[tuple[float, float], ...]]:
    """Return for each piece that is seen the middles of its faces, nearest its own middle first."""
    areas = face_areas(shell)
    middles = place[shell.faces].mean(axis=1)
    spots = {}
    for piece in np.unique(owner[shown]).tolist():
        mine = shown[owner[shown] == piece]
        centre = np.average(middles[mine], axis=0, weights=areas[mine])
        order = np.argsort(np.linalg.norm(middles[mine] - centre, axis=1), kind="stable")
        spots[piece] = tuple(_point(middles[mine[k]]) for k in order[:4].tolist())
    return spots


def _labels(
    spots: Mapping[int, tuple[tuple[float, float], ...]],
    names: Sequence[str],
    bounds: tuple[float, float, float, float],
) -> tuple[Mark, ...]:
    wishes = [Wish(names[piece], at[0], at, 7 * POINT) for piece, at in spots.items()]
    return label_marks(place_labels(wishes, bounds))


def _point(row: Floats) -> tuple[float, float]:
    return float(row[0]), float(row[1])
