"""From what lies or presses on the faces to loads on struts and hubs.

Each point of a face hands its load to the nearest strut: each strut gets the triangle between it
and the centre of the inscribed circle, a load that rises to a peak and falls again. It is put on
the strut as a uniform load 4/3 as large, since a triangle W with its peak at mid-length bends a
simply supported strut by W L/6 and a uniform W only by W L/8 (with built-in ends the uniform load
then bends the ends 7 per cent too much). The hubs get what makes each face exact again: together
hub and line loads have the force of the face, and its moment about every point.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.loads.standards.practice import strip_tension_elastic
from strutwright.shape import Shell
from strutwright.values import Floats, Indices

__all__ = ["PEAKED", "edge_pull", "face_struts", "onto_struts"]

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


def edge_pull(shell: Shell, pressure: Floats, stiffness: float) -> tuple[Floats, Floats]:
    """Return the pull of the film on the struts at its free edges.

    At the base ring and round openings the film hangs on one side alone and bends the strut in
    the plane of the cover with its whole tension. The tension is that of a strip as wide as the
    face is high, laid flat, that stretches: T^3 = J p^2 a^2/24. The hubs of the strut take the
    opposite forces: the film's way through the rest of the cover is not followed, and between
    two panels, where the pulls meet, none is counted.

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
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals = cross / np.linalg.norm(cross, axis=1)[:, None]
    lines = np.zeros((len(shell.struts), 3))
    for k in range(3):
        free = np.flatnonzero(count[struts[:, k]] == 1)
        edge = corners[free, (k + 1) % 3] - corners[free, k]
        length = np.linalg.norm(edge, axis=1)
        span = np.linalg.norm(cross[free], axis=1) / length  # height of the face over the edge
        inward = np.cross(normals[free], edge / length[:, None])
        tension = strip_tension_elastic(pressure[free], span, stiffness)
        np.add.at(lines, struts[free, k], tension[:, None] * inward)
    ends = shell.hubs[shell.struts]
    half = lines * np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)[:, None] / 2
    hubs = np.zeros((len(shell.hubs), 3))
    np.subtract.at(hubs, shell.struts[:, 0], half)
    np.subtract.at(hubs, shell.struts[:, 1], half)
    return hubs, lines
