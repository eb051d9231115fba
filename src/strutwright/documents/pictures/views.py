"""Plan, elevations and isometric view of a shell, with hub numbers and strut labels."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from strutwright.documents.pictures.signs import TypeSign, neat_scale, scale_foot
from strutwright.drawing import (
    FINE,
    GREY,
    MEDIUM,
    POINT,
    QUIET,
    WIDE,
    Box,
    Camera,
    Line,
    Mark,
    Pen,
    Pieces,
    Placing,
    Point,
    Sheet,
    Text,
    Wish,
    along,
    around,
    bands,
    ground_line,
    hub_dot,
    label_marks,
    north_arrow,
    place_labels,
    project,
    see,
)
from strutwright.shape import Shell
from strutwright.values import Floats, HubPoints, Indices

__all__ = ["View", "view", "view_labels"]

EDGE: Final = 11.0
"""Kept round the shell for labels beyond it, mm."""
FOOT: Final = 11.0
"""Height of the strip with the scale bar at the foot of a picture, mm."""
GAP: Final = 0.7
"""White on either side of a strut that passes before another, mm."""
DOT: Final = 0.65
"""Radius of the dot of a hub, mm."""
LEAST_SHOWN: Final = 0.5
"""A strut of which less than this share is seen is not labelled; another view shows it."""
SHORTEST_BANDED: Final = 8.0
"""Struts shorter than this on paper bear no bands: the strokes would run together, mm."""
MOST_LABELLED: Final = 800
"""With more struts on one picture no label can be read: all are left out, and it says so."""
HUB_SIZE: Final = 7 * POINT
STRUT_SIZE: Final = 8 * POINT


@dataclass(frozen=True)
class View:
    """What is asked of a picture of a shell.

    Parameters
    ----------
    camera : Camera
    title : str
        Its name, as in ``Plan``.
    width : float
        Width of the picture, mm.
    height : float
        Most that it may be high, mm.
    north : float or None
        Azimuth of north, rad anticlockwise from +x; drawn on a plan when given.
    show : callable
        Gives a length (m) in the reader's units, for the scale bar.
    hub_numbers, strut_labels : bool
        Whether hubs bear their numbers and struts their letters.
    drawn : (S,) bool array or None
        Struts that stand already or are placed; None draws all.
    fresh : (S,) bool array or None
        Struts that are placed now: strong and labelled, with their hubs; the others are grey.
        None makes all of them fresh.
    words : tuple of str
        For a picture without scale, the scale, and the number of labels left out, in the
        reader's language.
    """

    camera: Camera
    title: str
    width: float = 174.0
    height: float = 210.0
    north: float | None = None
    show: Callable[[float], str] = "{:g} m".format
    hub_numbers: bool = True
    strut_labels: bool = True
    drawn: NDArray[np.bool_] | None = None
    fresh: NDArray[np.bool_] | None = None
    words: tuple[str, str, str] = (
        "not to scale",
        "scale 1:{scale}",
        "{count} labels left out for want of room",
    )


@dataclass(frozen=True, eq=False)
class _Scene:
    """A shell on paper: hubs (H, 3) in mm, pieces of struts, the scale, the size of the sheet."""

    hubs: Floats
    pieces: Pieces
    scale: float
    height: float
    left: float
    right: float


def _set_up(shell: Shell, view: View) -> _Scene:
    seen = project(view.camera, shell.hubs)
    low, high = seen[:, :2].min(axis=0), seen[:, :2].max(axis=0)
    across, up = (high - low).tolist()
    scale = max(
        neat_scale(across, view.width - 2 * EDGE),
        neat_scale(up, view.height - 2 * EDGE - FOOT),
    )
    hubs = seen * (1000 / scale)
    left = (view.width - across * 1000 / scale) / 2
    hubs[:, :2] += np.array([left, EDGE + FOOT]) - low * (1000 / scale)
    height = up * 1000 / scale + 2 * EDGE + FOOT
    pieces = _seen(shell, view, hubs)
    return _Scene(hubs, pieces, scale, height, left, view.width - left)


def _seen(shell: Shell, view: View, hubs: HubPoints) -> Pieces:
    """Return what is seen of the struts that are drawn, behind the faces that they close."""
    if view.drawn is None:
        return see(hubs, shell.struts, shell.faces, gap=GAP)
    kept = np.flatnonzero(view.drawn)
    known = set(map(tuple, shell.struts[kept].tolist()))
    closed = [
        all(tuple(sorted((face[k - 1], face[k]))) in known for k in range(3))
        for face in shell.faces.tolist()
    ]
    pieces = see(hubs, shell.struts[kept], shell.faces[np.array(closed)], gap=GAP)
    return replace(pieces, segment=kept[pieces.segment])


def view(shell: Shell, type_of: Indices, types: Sequence[TypeSign], view: View) -> Sheet:
    """Return the picture of `shell` that `view` asks for, with its scale and what it shows.

    Parameters
    ----------
    shell : Shell
    type_of : (S,) int array
        Strut type of each strut.
    types : sequence of TypeSign
    """
    scene = _set_up(shell, view)
    marks: list[Mark] = []
    level = abs(view.camera.height) < 1e-9
    if level:
        y = float(scene.hubs[:, 1].min())
        marks += ground_line((scene.left - 8, y), (scene.right + 8, y))
    marks += _struts(shell, type_of, types, view, scene)
    hubs = _shown_hubs(shell, scene)
    marks += [hub_dot(_at(scene.hubs[k]), DOT) for k in hubs.tolist()]
    placing = _labels(shell, type_of, types, view, scene)
    marks += label_marks(placing)
    marks += _foot(view, scene, len(placing.left_out))
    text = f"{view.title}, {_scale_words(view, scene)}"
    return Sheet(view.width, scene.height, tuple(marks), view.title, text)


def view_labels(shell: Shell, type_of: Indices, types: Sequence[TypeSign], view: View) -> Placing:
    """Return the labels of the picture in their places, and those that found none."""
    return _labels(shell, type_of, types, view, _set_up(shell, view))


def _at(row: Floats) -> Point:
    return (float(row[0]), float(row[1]))


def _struts(
    shell: Shell, type_of: Indices, types: Sequence[TypeSign], view: View, scene: _Scene
) -> list[Mark]:
    fresh = _fresh(shell, view)
    marks: list[Mark] = []
    pieces = scene.pieces
    inside = ~np.isin(shell.role, ("shell", "jamb", "head"))
    for k, segment in enumerate(pieces.segment.tolist()):
        sign = types[int(type_of[segment])]
        start, end = _at(pieces.start[k]), _at(pieces.end[k])
        if pieces.hidden[k]:
            if inside[segment]:
                marks.append(Line(start, end, Pen(FINE, QUIET, (1.2, 0.8)), "hidden"))
            continue
        if not fresh[segment]:
            marks.append(Line(start, end, Pen(MEDIUM, GREY), "standing"))
            continue
        marks.append(Line(start, end, Pen(WIDE, sign.colour), f"type {sign.label}"))
    for segment in _shown_struts(shell, scene).tolist():
        if not fresh[segment]:
            continue
        sign = types[int(type_of[segment])]
        i, j = shell.struts[segment]
        a, b = _at(scene.hubs[i]), _at(scene.hubs[j])
        if np.hypot(a[0] - b[0], a[1] - b[1]) >= SHORTEST_BANDED:
            marks += bands(a, b, sign.band, sign.colour, share=0.2, length=1.6)
    return marks


def _fresh(shell: Shell, view: View) -> NDArray[np.bool_]:
    return np.ones(len(shell.struts), dtype=bool) if view.fresh is None else view.fresh


def _shown_struts(shell: Shell, scene: _Scene) -> Indices:
    """Return the struts of which enough is seen."""
    pieces = scene.pieces
    lengths = np.linalg.norm(pieces.end - pieces.start, axis=1)
    seen = np.bincount(
        pieces.segment, np.where(pieces.hidden, 0.0, lengths), minlength=len(shell.struts)
    )
    ends = scene.hubs[shell.struts][..., :2]
    whole = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    return np.flatnonzero((seen >= LEAST_SHOWN * whole) & (whole > 2.0))


def _shown_hubs(shell: Shell, scene: _Scene) -> Indices:
    """Return the hubs at which a piece that is seen ends."""
    pieces = scene.pieces
    hubs = scene.hubs[:, :2]
    shown = np.zeros(len(hubs), dtype=bool)
    for end, column in ((pieces.start, 0), (pieces.end, 1)):
        hub = shell.struts[pieces.segment, column]
        reached = np.linalg.norm(end - hubs[hub], axis=1) < GAP / 2
        shown[hub[reached & ~pieces.hidden]] = True
    return np.flatnonzero(shown)


def _labels(
    shell: Shell, type_of: Indices, types: Sequence[TypeSign], view: View, scene: _Scene
) -> Placing:
    wishes: list[Wish] = []
    fresh = _fresh(shell, view)
    hubs = np.intersect1d(_shown_hubs(shell, scene), shell.struts[fresh])
    struts = _shown_struts(shell, scene)
    struts = struts[fresh[struts]]
    if view.strut_labels:
        for k, segment in enumerate(struts.tolist()):
            sign = types[int(type_of[segment])]
            i, j = shell.struts[segment]
            places = along(_at(scene.hubs[i]), _at(scene.hubs[j]))
            wishes.append(Wish(sign.label, places[0], places, STRUT_SIZE, True, sign.colour, (k,)))
    if view.hub_numbers:
        for hub in hubs.tolist():
            at = _at(scene.hubs[hub])
            places = around(at, 2.6 if hub < 10 else 3.2)
            wishes.append(Wish(str(hub), at, places, HUB_SIZE))
    dots = [(x - DOT, y - DOT, x + DOT, y + DOT) for x, y in (_at(scene.hubs[k]) for k in hubs)]
    ends = scene.hubs[shell.struts[struts]][..., :2].reshape(-1, 4)
    bounds: Box = (1.0, FOOT, view.width - 1.0, scene.height - 1.0)
    return place_labels(wishes, bounds, keep_out=dots, lines=ends)


def _scale_words(view: View, scene: _Scene) -> str:
    if _is_true(view.camera):
        return view.words[1].format(scale=f"{scene.scale:g}")
    return view.words[0]


def _foot(view: View, scene: _Scene, left_out: int) -> list[Mark]:
    """Return the scale bar and the words of the scale where there is one, and north on a plan."""
    marks: list[Mark] = []
    words = f"{view.title}, {_scale_words(view, scene)}"
    if _is_true(view.camera):
        marks += scale_foot(1000 / scene.scale, view.show)
    if left_out:
        words += "; " + view.words[2].format(count=left_out)
    marks.append(Text((view.width - 2, 3.0), words, 9 * POINT, "end", colour=QUIET))
    if view.north is not None:
        marks += north_arrow((view.width - 12, scene.height - 14), view.north)
    return marks


def _is_true(camera: Camera) -> bool:
    """Return True when lengths in the plane of the picture are true: plan and elevations."""
    level = abs(camera.height) < 1e-9 or abs(camera.height - np.pi / 2) < 1e-9
    return camera.distance is None and level
