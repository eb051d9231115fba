"""Where a closed net is cut in half: near its axis, so that little has to be levelled."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from strutwright.shape import topology
from strutwright.shape.capsule import capsule_points, lay_on_capsule
from strutwright.shape.tube import ClosedNet
from strutwright.values import ArrayValue, Faces, Floats, Indices

__all__ = ["NEAR", "Cut", "all_cuts", "cut_like"]

NEAR: Final = 1e-9
"""Places on the unit capsule nearer than this to the plane lie on it."""
SLACK: Final = 1e-5
"""Hubs up to this far below a row, in radii, are kept with it."""


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
    turn : float
        Share of a wedge by which the net is turned.
    """

    faces: Faces
    ring: Indices
    arc: Floats
    angle: Floats
    far: float
    turn: float


def all_cuts(net: ClosedNet, half_tube: float) -> list[Cut]:
    """Return the ways to halve `net` on a capsule of `half_tube` radii, flattest base first.

    Both mirror planes of the cap are tried upright, and every row of barrel hubs near the plane
    as the base row.
    """
    place = lay_on_capsule(net, half_tube)
    cuts = []
    for turn in (0.5, 0.0):  # a ray through five-way hubs, or the middle of a wedge, on top
        angle = _from_crown(net, place[1], turn)
        height = capsule_points(place[0], angle, half_tube)[:, 2]
        middle = np.abs(2 * net.level - net.levels) <= 2
        rows = np.unique(np.round(np.cos(angle[middle]), 9))
        for row in rows[np.abs(rows) < np.sin(np.pi / 3)]:
            cut = _cut(net, (place[0], angle), (height, turn), height > row - SLACK)
            if cut is not None:
                cuts.append(cut)
    return sorted(cuts, key=lambda cut: (cut.far, -len(cut.faces)))


def cut_like(net: ClosedNet, half_tube: float, model: ClosedNet, cut: Cut) -> Cut:
    """Return the cut of `net` that goes through the same places as `cut` of `model`.

    The two nets differ in the levels of their tubes alone; every level of the barrel beyond those
    of the model's is cut like the model's level of the same kind at mid-length.
    """
    deepest = model.levels // 2
    inner = np.minimum(net.level, net.levels - net.level)
    over = np.maximum(inner - deepest, 0)
    keys = zip(inner - over - over % 2, net.wedge, net.step, strict=True)
    own = np.minimum(model.level, model.levels - model.level)
    used = np.unique(cut.faces)
    known = set(zip(own[used], model.wedge[used], model.step[used], strict=True))
    kept = np.array([key in known for key in keys])
    arc, off = lay_on_capsule(net, half_tube)
    angle = _from_crown(net, off, cut.turn)
    height = capsule_points(arc, angle, half_tube)[:, 2]
    found = _cut(net, (arc, angle), (height, cut.turn), kept)
    if found is None:
        msg = "a half of the net has no plain base ring"
        raise RuntimeError(msg)
    return found


def _from_crown(net: ClosedNet, off: Floats, turn: float) -> Floats:
    return _wrapped(2 * np.pi / net.symmetry * (net.wedge + turn) + off)


def _wrapped(angle: Floats) -> Floats:
    """Return angles between -pi (left out) and pi."""
    return np.asarray(angle - 2 * np.pi * np.ceil((angle - np.pi) / (2 * np.pi) - NEAR))


def _cut(
    net: ClosedNet,
    place: tuple[Floats, Floats],
    height_and_turn: tuple[Floats, float],
    kept: NDArray[np.bool_],
) -> Cut | None:
    """Return the half with the hubs `kept` (V,), if one ring through both poles bounds it."""
    faces = _peeled(net.faces[kept[net.faces].all(axis=1)])
    if faces is None:
        return None
    ring = topology.boundary_rings(faces)[0]
    poles = np.flatnonzero(np.isin(net.level, (0, net.levels)))
    if _has_chord(faces, ring) or not np.isin(poles, ring).all():
        return None
    height, turn = height_and_turn
    return Cut(faces, ring, *place, float(np.abs(height[ring]).max()), turn)


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
