"""Where a closed net is cut in half: near its axis, so that least has to be levelled."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.shape import topology
from strutwright.shape.capsule import capsule_points, lay_on_capsule
from strutwright.shape.tube import ClosedNet, closed_net
from strutwright.values import ArrayValue, Faces, Floats, Indices

__all__ = ["NEAR", "Cut", "best_cut"]

NEAR: Final = 1e-9
"""Places on the unit capsule nearer than this to the plane lie on it."""
SLACK: Final = 1e-5
"""Hubs up to this far below a row, in radii, are kept with it."""
MODEL_LEVELS: Final = 8
MODEL_TUBE: Final = 1.0
"""The choice is made once, on a barrel of 8 levels and 2 radii, so that it does not change with
the number of bays."""


@dataclass(frozen=True, eq=False)
class Cut(ArrayValue):
    """One way to halve a closed net.

    Parameters
    ----------
    faces : (F, 3) int array
        Faces kept.
    ring : (B,) int array
        Base ring, anticlockwise from above.
    arc, angle : (V,) array, rad
        Place of every hub on the unit capsule, the angle from the crown.
    far : float
        Distance of the farthest base hub from the plane, in radii.
    way : (float, float)
        Share of a wedge by which the net is turned, and height of the row that is kept last.
    rank : tuple
        Least is best.
    """

    faces: Faces
    ring: Indices
    arc: Floats
    angle: Floats
    far: float
    way: tuple[float, float]
    rank: tuple[float, ...]


def best_cut(net: ClosedNet, half_tube: float) -> Cut:
    """Return the cut of `net` on a capsule of `half_tube` radii that needs the least levelling.

    Both mirror planes of the cap are tried upright, and every row of barrel hubs near the plane
    as the base row.

    Raises
    ------
    InputError
        ``shape-cap``: the net is too coarse to have a half with hubs over its base.
    """
    model = closed_net(net.symmetry, net.frequency, net.rows, MODEL_LEVELS)
    models = _cuts(model, MODEL_TUBE)
    if not models:
        what = f"b = {net.frequency} of symmetry {net.symmetry} leaves no hub over its base row"
        raise InputError("shape-cap", what, "shape.division", "take a larger b")
    wanted = min(models, key=lambda cut: cut.rank).way
    found = _cuts(net, half_tube)
    same = [cut for cut in found if np.allclose(cut.way, wanted)]
    return min(same or found, key=lambda cut: cut.rank)


def _cuts(net: ClosedNet, half_tube: float) -> list[Cut]:
    arc, off = lay_on_capsule(net, half_tube)
    cuts = []
    for turn in (0.5, 0.0):  # a ray through five-way hubs, or the middle of a wedge, on top
        angle = _wrapped(2 * np.pi / net.symmetry * (net.wedge + turn) + off)
        middle = np.abs(2 * net.level - net.levels) <= 2
        rows = np.unique(np.round(np.cos(angle[middle]), 9))
        for row in rows[np.abs(rows) < np.sin(np.pi / 3)]:
            cut = _cut(net, (arc, angle), half_tube, (turn, float(row)))
            if cut is not None:
                cuts.append(cut)
    return cuts


def _wrapped(angle: Floats) -> Floats:
    """Return angles between -pi (left out) and pi."""
    return np.asarray(angle - 2 * np.pi * np.ceil((angle - np.pi) / (2 * np.pi) - NEAR))


def _cut(
    net: ClosedNet, place: tuple[Floats, Floats], half_tube: float, way: tuple[float, float]
) -> Cut | None:
    """Return the half above a row, if it has one plain base ring through both poles."""
    arc, angle = place
    height = capsule_points(arc, angle, half_tube)[:, 2]
    faces = _peeled(net.faces[(height[net.faces] > way[1] - SLACK).all(axis=1)])
    if faces is None:
        return None
    ring = topology.boundary_rings(faces)[0]
    poles = np.flatnonzero(np.isin(net.level, (0, net.levels)))
    if _has_chord(faces, ring) or not np.isin(poles, ring).all():
        return None
    inner = np.minimum(net.level, net.levels - net.level)[ring]
    off = np.abs(height[ring])
    rows = len(np.unique(np.round(np.abs(angle[ring][inner > net.cap_levels]), 6)))
    mixed = rows > (1 if net.rows == "along" else 2)
    # the half domes alone count in the mean, then the larger half
    mean = float(off[inner <= net.cap_levels].mean())
    rank = (float(mixed), round(float(off.max()), 6), round(mean, 6), -float(len(faces)))
    return Cut(faces, ring, arc, angle, float(off.max()), way, rank)


def _has_chord(faces: Faces, ring: Indices) -> bool:
    """Return True when a strut off the ring joins two of its hubs: it would lie in the plane."""
    struts = topology.struts_of(faces)
    return int(np.isin(struts, ring).all(axis=1).sum()) > len(ring)


def _peeled(faces: Faces) -> Faces | None:
    """Return `faces` without those that hang on by one edge; None when nothing sound is left."""
    while len(faces):
        edges = topology.directed_edges(faces)
        width = int(faces.max()) + 1
        free = ~np.isin(edges @ [width, 1], edges[:, ::-1] @ [width, 1])
        loose = free.reshape(3, -1).sum(axis=0) >= 2
        if not loose.any():
            try:
                topology.check_manifold(faces)
                rings = topology.boundary_rings(faces)
            except ValueError:
                return None
            return faces if len(rings) == 1 else None
        faces = faces[~loose]
    return None
