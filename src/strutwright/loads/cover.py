"""From what lies or presses on the faces to loads on struts and hubs.

Each point of a face hands its load to the nearest strut: each strut gets the triangle between it
and the centre of the inscribed circle, a load that rises to a peak and falls again. It is put on
the strut as a uniform load 4/3 as large, since a triangle W with its peak at mid-length bends a
simply supported strut by W L/6 and a uniform W only by W L/8 (with built-in ends the uniform load
then bends the ends 7 per cent too much). The hubs get what makes each face exact again: together
hub and line loads have the force of the face, and its moment about every point.

Film pulls, too: its tension is worked out here once, for the frame and for what holds the film. So
is the bending of rigid sheets.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.loads.standards.practice import (
    FILM_POISSON,
    strip_tension,
    strip_tension_elastic,
)
from strutwright.shape import Shell
from strutwright.shape.surface import face_areas, face_normals
from strutwright.values import Floats, Indices

__all__ = [
    "PEAKED",
    "circle_spans",
    "edge_pull",
    "face_struts",
    "film_sag",
    "film_tension",
    "onto_struts",
    "sheet_moment",
    "sheet_sag",
]

PEAKED: Final = 4 / 3
"""Uniform load over triangular load of the same bending moment, simply supported."""


def face_struts(shell: Shell) -> Indices:
    """Return the (F, 3) struts of each face: from corner 0 to 1, 1 to 2, 2 to 0."""
    ends = np.sort(np.stack([shell.faces, np.roll(shell.faces, -1, axis=1)], axis=2), axis=2)
    n = len(shell.hubs)
    order = shell.struts @ [n, 1]
    return np.asarray(np.searchsorted(order, ends @ [n, 1]))


def onto_struts(shell: Shell, forces: Floats) -> tuple[Floats, Floats]:
    """Return the loads that evenly loaded faces put on the frame.

    Parameters
    ----------
    shell : Shell
    forces : (F, 3) array, N
        Total force on each face, spread evenly over it.

    Returns
    -------
    hub_forces : (H, 3) array, N
    line_loads : (S, 3) array, N/m
        Bending the struts; hub forces make up the rest (and undo what line loads have too much).
    """
    struts = face_struts(shell)
    corners = shell.hubs[shell.faces]
    edges = np.linalg.norm(np.roll(corners, -1, axis=1) - corners, axis=2)
    per_metre = PEAKED * forces / edges.sum(axis=1)[:, None]
    lines = np.zeros((len(shell.struts), 3))
    hubs = np.zeros((len(shell.hubs), 3))
    for k in range(3):
        np.add.at(lines, struts[:, k], per_metre)
        np.add.at(hubs, shell.faces[:, k], forces / 3)
        half = per_metre * edges[:, k, None] / 2
        np.subtract.at(hubs, shell.faces[:, k], half)
        np.subtract.at(hubs, shell.faces[:, (k + 1) % 3], half)
    return hubs, lines


def circle_spans(shell: Shell) -> Floats:
    """Return the diameter of the largest circle in each face, (F,), m."""
    corners = shell.hubs[shell.faces]
    around = np.linalg.norm(np.roll(corners, -1, axis=1) - corners, axis=2).sum(axis=1)
    return np.asarray(4 * face_areas(shell) / around)


def film_tension(shell: Shell, pressure: Floats, stiffness: float) -> Floats:
    """Return the largest tension of the film in each face, (F,), N/m.

    That of a strip laid flat as wide as the largest circle in the face, which cannot draw in
    along its edges: T^3 = J a^2 p^2/24 with J = E t/(1 - nu^2). A triangle held all round takes
    between 0 and 6 per cent less, whatever its shape (tests/crosscheck/test_film_triangle.py).

    Parameters
    ----------
    shell : Shell
    pressure : (F,) array, Pa
        Across each face.
    stiffness : float, N/m
        Modulus times thickness of the film.
    """
    return strip_tension_elastic(pressure, circle_spans(shell), stiffness / (1 - FILM_POISSON**2))


def film_sag(shell: Shell, pressure: Floats, stiffness: float) -> Floats:
    """Return how far the film sags in each face, (F,), m: s = p a^2/(8 T) of the same strip.

    Parameters
    ----------
    shell, pressure, stiffness : as for `film_tension`
    """
    tension = film_tension(shell, pressure, stiffness)
    # T = p a^2/(8 s), read for the sag
    unit = strip_tension(pressure, circle_spans(shell), 1.0)
    return np.divide(unit, tension, out=np.zeros_like(tension), where=tension > 0)


def sheet_moment(shell: Shell, pressure: Floats) -> Floats:
    """Return the largest bending moment in a sheet over each face, (F,), Nm/m.

    That of a strip as wide as the largest circle in the face, which may turn along its edges:
    p a^2/8. No principal moment of a plate held along the three edges is larger: the sum of its
    moments over 1 + nu obeys Poisson's equation and stays below p r^2/2 (Payne's bound for convex
    outlines, recalled); of an equilateral triangle it is less than half of it (Timoshenko and
    Woinowsky-Krieger, Theory of Plates and Shells, art. 71, recalled).

    Parameters
    ----------
    shell : Shell
    pressure : (F,) array, Pa
        Across each face.
    """
    return np.asarray(np.abs(pressure) * circle_spans(shell) ** 2 / 8)


def sheet_sag(shell: Shell, pressure: Floats, stiffness: float) -> Floats:
    """Return how far a sheet over each face sags at most, (F,), m: 5 p a^4/(384 EI) of that strip.

    Parameters
    ----------
    shell : Shell
    pressure : (F,) array, Pa
        Across each face.
    stiffness : float, Nm
        E t^3/12 of the sheet in its weaker direction.
    """
    return np.asarray(5 * np.abs(pressure) * circle_spans(shell) ** 4 / (384 * stiffness))


def edge_pull(shell: Shell, pressure: Floats, stiffness: float) -> tuple[Floats, Floats]:
    """Return the pull of the film on the struts at its free edges.

    At the base ring and round openings the film hangs on one side alone and bends the strut in
    the plane of the cover with its whole tension, that of `film_tension`. The hubs of the strut
    take the opposite forces: the film's way through the rest of the cover is not followed, and
    between two panels, where the pulls meet, none is counted.

    Parameters
    ----------
    shell : Shell
    pressure : (F,) array, Pa
        Across each face.
    stiffness : float, N/m
        Modulus times thickness of the film.

    Returns
    -------
    hub_forces : (H, 3) array, N
    line_loads : (S, 3) array, N/m
        Together they have no resultant.
    """
    struts = face_struts(shell)
    count = np.bincount(struts.ravel(), minlength=len(shell.struts))
    corners = shell.hubs[shell.faces]
    normals = face_normals(shell)
    tension = film_tension(shell, pressure, stiffness)
    lines = np.zeros((len(shell.struts), 3))
    for k in range(3):
        free = np.flatnonzero(count[struts[:, k]] == 1)
        edge = corners[free, (k + 1) % 3] - corners[free, k]
        inward = np.cross(normals[free], edge / np.linalg.norm(edge, axis=1)[:, None])
        np.add.at(lines, struts[free, k], tension[free, None] * inward)
    ends = shell.hubs[shell.struts]
    half = lines * np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)[:, None] / 2
    hubs = np.zeros((len(shell.hubs), 3))
    np.subtract.at(hubs, shell.struts[:, 0], half)
    np.subtract.at(hubs, shell.struts[:, 1], half)
    return hubs, lines
