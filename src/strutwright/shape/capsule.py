"""Closed nets laid on a capsule: a cylinder of radius 1 with a half sphere at each end.

The place of a hub is its arc from the middle along the meridian and its angle about the axis.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from scipy.optimize import least_squares

from strutwright.shape import topology
from strutwright.shape.tube import ClosedNet
from strutwright.values import Floats, HubPoints, Indices, StrutEnds

__all__ = ["capsule_points", "chord_share", "lay_on_capsule", "level_step"]

SAME_LENGTH: Final = 1e-9
"""Lengths on the unit capsule closer than this belong to one set of struts."""


def chord_share(net: ClosedNet) -> float:
    """Return chord over arc of the steps around: how much shorter the ribs are than their arc."""
    angle = np.pi / (net.symmetry * net.frequency) * (1 if net.rows == "along" else 2)
    return float(2 * np.sin(angle / 2) / angle)


def level_step(net: ClosedNet, half_tube: float) -> float:
    """Return the length of a level of the barrel on the unit capsule.

    The meridian from pole to pole, 2 `half_tube` + pi, is shared among the levels as its polygon
    measures it: the barrel's struts are straight while those of the half domes are chords, so a
    level of the barrel gets arc / chord more (our choice; with equal arcs the half domes would
    come out coarser than the barrel by that much).
    """
    return (2 * half_tube + np.pi) / (net.levels * chord_share(net))


def capsule_points(arc: Floats, angle: Floats, half_tube: float) -> HubPoints:
    """Return the (n, 3) points at `arc` (n,) from the middle and `angle` (n,) from +z, rad."""
    beyond = np.maximum(np.abs(arc) - half_tube, 0)
    along = np.sign(arc) * (np.minimum(np.abs(arc), half_tube) + np.sin(beyond))
    out = np.cos(beyond)
    return np.stack([along, out * np.sin(angle), out * np.cos(angle)], axis=1)


def lay_on_capsule(net: ClosedNet, half_tube: float) -> tuple[Floats, Floats]:
    """Return (arc (V,), angle from the middle of the wedge (V,) rad) of each hub.

    The barrel is a regular lattice. The hubs of the half domes are moved along the surface until
    the lengths of their struts differ as little as they can, with the p-fold symmetry and the
    mirror planes kept: one hub of each orbit stands for all.
    """
    middle = net.levels / 2
    inner = np.minimum(net.level, net.levels - net.level)
    keys = np.stack([inner, np.abs(net.step)], axis=1)
    table, orbit = np.unique(keys, axis=0, return_inverse=True)
    orbit = orbit.ravel()
    start = _start(net, table, half_tube)
    free = _free(net, table, start[:, 0], half_tube)
    side = np.sign(net.level - middle)
    turn = np.sign(net.step)

    def places(orbits: Floats) -> tuple[Floats, Floats]:
        return side * orbits[orbit, 0], turn * orbits[orbit, 1]

    if free.any():
        ends, share = _standing(net, places(start), orbit, np.asarray(free.any(axis=1)), half_tube)
        centre = 2 * np.pi / net.symmetry * net.wedge

        def uneven(values: Floats) -> Floats:
            orbits = start.copy()
            orbits[free] = values
            arc, off = places(orbits)
            points = capsule_points(arc, centre + off, half_tube)
            length = np.linalg.norm(points[ends[:, 0]] - points[ends[:, 1]], axis=1)
            return np.asarray(share * (length - np.average(length, weights=share**2)))

        start[free] = least_squares(uneven, start[free], xtol=1e-12, ftol=1e-12).x
    return places(start)


def _start(net: ClosedNet, table: Indices, half_tube: float) -> Floats:
    """Return (arc, angle off the middle of the wedge) of each orbit, (K, 2), on polygonal rings."""
    middle, total = net.levels / 2, half_tube + np.pi / 2
    from_middle = middle - table[:, 0]
    step = level_step(net, half_tube)
    last = min(_regular(net, half_tube), net.levels // 2 - net.cap_levels)
    share = (from_middle - last) / (middle - last)
    arc = np.where(
        from_middle <= last, from_middle * step, last * step + share * (total - last * step)
    )
    reach = table[:, 0] / 3 if net.rows == "along" else table[:, 0].astype(float)
    reach = np.minimum(reach, net.frequency)
    off = table[:, 1] / np.where(reach > 0, reach, 1) * np.pi / net.symmetry
    return np.stack([arc, off], axis=1)


def _regular(net: ClosedNet, half_tube: float) -> int:
    """Return how many levels from the middle keep the regular lattice of the barrel.

    The barrel and the first level past its end: that one still lies on a nearly straight meridian.
    """
    step = level_step(net, half_tube)
    return int((half_tube + min(step, half_tube)) / step + SAME_LENGTH)


def _free(net: ClosedNet, table: Indices, arc: Floats, half_tube: float) -> np.ndarray:
    """Return (K, 2): whether arc and angle of each orbit may move."""
    last = min(_regular(net, half_tube), net.levels // 2 - net.cap_levels)
    loose = (net.levels / 2 - table[:, 0] > last) & (table[:, 0] > 0)
    slope = 3 if net.rows == "along" else 1
    on_ray = slope * table[:, 1] == np.minimum(table[:, 0], net.cap_levels)
    return np.stack([loose & (arc > 0), loose & (table[:, 1] > 0) & ~on_ray], axis=1)


def _standing(
    net: ClosedNet,
    places: tuple[Floats, Floats],
    orbit: Indices,
    loose: np.ndarray,
    half_tube: float,
) -> tuple[StrutEnds, Floats]:
    """Return one strut (n, 2) of each set that symmetry lays on one another; root of quantity."""
    struts = topology.struts_of(net.faces)
    struts = struts[loose[orbit[struts]].any(axis=1)]
    centre = 2 * np.pi / net.symmetry * net.wedge
    points = capsule_points(places[0], centre + places[1], half_tube)
    length = np.linalg.norm(points[struts[:, 0]] - points[struts[:, 1]], axis=1)
    kinds = np.column_stack(
        [np.sort(orbit[struts], axis=1), np.rint(length / SAME_LENGTH).astype(np.int64)]
    )
    _, first, quantity = np.unique(kinds, axis=0, return_index=True, return_counts=True)
    return struts[first], np.sqrt(quantity.astype(float))
