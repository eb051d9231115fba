"""Symmetry of a shell about the upright axis: which hubs and struts are images of one another."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.spatial import cKDTree

from strutwright.shape.shell import Shell
from strutwright.values import ArrayValue, Floats, HubPoints, Indices

__all__ = ["SAME_PLACE", "Symmetry", "hub_orbits", "strut_orbits", "symmetry"]

SAME_PLACE: Final = 1e-6
"""An image that meets a hub within this share of the shell's size is that hub: our choice, far
above rounding and far below any real difference of shape."""


@dataclass(frozen=True, eq=False)
class Symmetry(ArrayValue):
    """The turns about z and the mirrors through z that map a shell onto itself.

    Parameters
    ----------
    turns : (G, 3, 3) array
        Orthogonal matrices, the identity first; they act about the upright axis through `centre`.
    images : (G, H) int array
        Hub on which each turn lays each hub.
    strut_images : (G, S) int array
        Strut on which each turn lays each strut.
    centre : (3,) array, m
        Point of the axis, at z = 0.
    """

    turns: Floats
    images: Indices
    strut_images: Indices
    centre: Floats


def symmetry(shell: Shell) -> Symmetry:
    """Return all symmetries of `shell` about an upright axis: hubs, struts and roles agree."""
    centre = np.append(shell.hubs[:, :2].mean(axis=0), 0.0)
    points = shell.hubs - centre
    near = SAME_PLACE * shell.size
    tree = cKDTree(points)
    code = shell.struts @ [len(points), 1]
    turns, images, strut_images = [], [], []
    for turn in _candidates(points, near):
        away, image = (np.asarray(found) for found in tree.query(points @ turn.T))
        if away.max() > near:
            continue
        ends = np.sort(image[shell.struts], axis=1)
        place = np.searchsorted(code, ends @ [len(points), 1]) % len(code)
        if not np.array_equal(shell.struts[place], ends):
            continue
        if not np.array_equal(shell.role[place], shell.role):
            continue
        turns.append(turn)
        images.append(image)
        strut_images.append(place)
    return Symmetry(np.array(turns), np.array(images), np.array(strut_images), centre)


def _candidates(points: HubPoints, near: float) -> list[Floats]:
    """Return the turns and mirrors that lay one hub on a hub of its own radius and height."""
    radius = np.hypot(points[:, 0], points[:, 1])
    off_axis = np.flatnonzero(radius > max(100 * near, 0.1 * radius.max()))
    keys = np.rint(np.stack([radius, points[:, 2]], axis=1)[off_axis] / (10 * near))
    _, kind, count = np.unique(keys, axis=0, return_inverse=True, return_counts=True)
    members = off_axis[kind.ravel() == np.argmin(count)]
    azimuth = np.arctan2(points[members, 1], points[members, 0])
    found = []
    for angle in azimuth:
        turn, both = angle - azimuth[0], angle + azimuth[0]
        c, s = np.cos(turn), np.sin(turn)
        found.append(np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]]))
        c, s = np.cos(both), np.sin(both)
        found.append(np.array([[c, s, 0], [s, -c, 0], [0, 0, 1.0]]))
    return found


def hub_orbits(found: Symmetry) -> Indices:
    """Return the (H,) orbit number of each hub, numbered by the first hub of each orbit."""
    return _orbits(found.images)


def strut_orbits(found: Symmetry) -> Indices:
    """Return the (S,) orbit number of each strut, numbered by the first strut of each orbit."""
    return _orbits(found.strut_images)


def _orbits(images: Indices) -> Indices:
    _, orbit = np.unique(images.min(axis=0), return_inverse=True)
    return np.asarray(orbit.ravel(), dtype=np.int64)
