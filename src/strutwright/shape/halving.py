"""The upper half of a closed net: cut near the plane of its axis, and levelled onto that plane.

The chart of the half capsule is a strip with two half discs: along it the arc along the axis,
across it the angle from the crown; beyond the tube, polar coordinates about the top of the half
sphere. The base is its outline, at a quarter turn from the crown.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.sparse import coo_array, csr_array
from scipy.sparse.linalg import spsolve

from strutwright.shape import topology
from strutwright.shape.capsule import capsule_points, level_step
from strutwright.shape.cut import NEAR, best_cut
from strutwright.shape.tube import ClosedNet
from strutwright.values import ArrayValue, Faces, Floats, Indices

__all__ = ["HalfNet", "halve"]

QUARTER: Final = np.pi / 2


@dataclass(frozen=True, eq=False)
class HalfNet(ArrayValue):
    """The upper half of a closed net on a chart.

    Parameters
    ----------
    faces : (F, 3) int array
        Hubs 0 to H - 1, anticlockwise from outside.
    along, across : (H,) array, rad
        Place on the chart; the tube has `along` up to its half length (in radii) either way.
    base : (B,) int array
        Base ring, anticlockwise from above.
    closed : (H,) int array
        Number of each hub in the closed net.
    gaps : int
        Steps of the barrel's hub rows over the arch, from base to base.
    levelled : float
        Farthest that a hub was moved onto the plane, in radii; 0 where the plane follows struts.
    """

    faces: Faces
    along: Floats
    across: Floats
    base: Indices
    closed: Indices
    gaps: int
    levelled: float


def halve(net: ClosedNet, half_tube: float) -> HalfNet:
    """Return the upper half of `net` whose base ring has to move least to lie in the plane.

    The half is its own mirror image across the length and across the width. `half_tube` is in
    radii.
    """
    cut = best_cut(net, half_tube)
    used = np.unique(cut.faces)
    new = np.full(len(net.level), -1)
    new[used] = np.arange(len(used))
    faces, base = new[cut.faces], new[cut.ring]
    angle, arc = cut.angle[used], cut.arc[used]
    gaps = _gaps(net, used, angle, base)
    level = cut.far < NEAR
    if level:
        along, across = _on_chart(arc, angle, half_tube)
    else:
        along, across = _levelled(net, used, (arc, angle), (faces, base), half_tube)
    return HalfNet(faces, along, across, base, used, gaps, 0.0 if level else cut.far)


def _on_chart(arc: Floats, angle: Floats, half_tube: float) -> tuple[Floats, Floats]:
    """Return the places on the chart of hubs on the half capsule."""
    points = capsule_points(arc, angle, half_tube)
    beyond = np.abs(points[:, 0]) - half_tube
    out = np.hypot(beyond, points[:, 1])
    polar = np.arctan2(out, points[:, 2])
    scale = polar / np.where(out > 0, out, 1)
    in_tube = beyond <= 0
    along = np.where(
        in_tube, arc, np.sign(arc) * (half_tube + np.where(in_tube, 0, beyond) * scale)
    )
    return along, np.where(in_tube, angle, points[:, 1] * scale)


def _foot(net: ClosedNet, used: Indices, angle: Floats, base: Indices) -> float:
    """Return the angle from the crown of the base row at the middle of the barrel, rad."""
    off = np.abs(2 * net.level[used[base]] - net.levels)
    on_row = off <= (2 if net.rows == "along" else off.min())
    return float(np.abs(angle[base[on_row]]).max())


def _gaps(net: ClosedNet, used: Indices, angle: Floats, base: Indices) -> int:
    """Return the steps of a row over the arch: from one base row of the barrel to the other."""
    steps = 2 * _foot(net, used, angle, base) * net.symmetry * net.frequency / np.pi
    return round(steps if net.rows == "along" else steps / 2)


def _levelled(
    net: ClosedNet,
    used: Indices,
    place: tuple[Floats, Floats],
    surface: tuple[Faces, Indices],
    half_tube: float,
) -> tuple[Floats, Floats]:
    """Return along and across on the chart, with the base hubs on its outline.

    Barrel hubs keep their level and equal steps over the arch; base hubs of the half domes take
    equal steps along the outline; all others lie at the mean of their neighbours, which on a
    convex chart never folds the net (Tutte 1963).
    """
    (arc, angle), (faces, base) = place, surface
    on_base = np.isin(np.arange(len(used)), base)
    inner = np.minimum(net.level, net.levels - net.level)[used]
    limit = half_tube + NEAR + min(level_step(net, half_tube), half_tube)
    barrel = (inner >= net.cap_levels) & (np.abs(arc) <= limit)
    foot = _foot(net, used, angle, base)
    turned = _equal_steps(net, (arc, angle), foot, barrel)
    along, across = np.zeros(len(used)), np.zeros(len(used))
    along[barrel], across[barrel] = _on_chart(arc[barrel], turned[barrel], half_tube)
    fixed = barrel | on_base
    ring_along, ring_across = _outline(arc[base], np.sign(angle[base]), barrel[base], half_tube)
    along[base], across[base] = ring_along, ring_across
    place_now = _settled(faces, np.stack([along, across], axis=1), fixed)
    return place_now[:, 0], place_now[:, 1]


def _equal_steps(
    net: ClosedNet, place: tuple[Floats, Floats], foot: float, barrel: np.ndarray
) -> Floats:
    """Return the angles from the crown with the base rows at a quarter turn."""
    arc, angle = place
    turned = angle.copy()
    if net.rows == "along":
        return np.asarray(turned * (QUARTER / foot))
    for level in np.unique(np.round(arc[barrel], 6)):
        rib = np.flatnonzero(barrel & (np.abs(arc - level) < 1e-5))
        rib = rib[np.argsort(angle[rib])]
        turned[rib] = np.linspace(-QUARTER, QUARTER, len(rib))
    return turned


def _outline(
    arc: Floats, along_way: Floats, in_barrel: np.ndarray, half_tube: float
) -> tuple[Floats, Floats]:
    """Return the places of the base ring on the chart's outline; equal steps round each end.

    `arc`, `along_way` and `in_barrel` (B,) follow the ring; `along_way` is the side, -1 or 1, of
    its barrel hubs.
    """
    n, total = len(arc), half_tube + QUARTER
    run, side = np.abs(arc), np.where(in_barrel, along_way, 0.0)
    poles = np.flatnonzero(total - np.abs(arc) < NEAR)
    for pole in poles:
        for way in (-1, 1):
            chain = [pole]
            while not in_barrel[(chain[-1] + way) % n] and len(chain) < n:
                chain.append((chain[-1] + way) % n)
            foot = (chain[-1] + way) % n
            start = np.abs(arc[foot]) * (1.0 if arc[foot] * arc[pole] >= 0 else -1.0)
            steps = total + (start - total) * np.arange(len(chain)) / len(chain)
            run[chain] = steps
            side[chain] = along_way[foot]
            arc = arc.copy()
            arc[chain] = np.sign(arc[pole]) * np.abs(steps)
    bent = np.maximum(run - half_tube, 0)
    along = np.sign(arc) * (np.minimum(run, half_tube) + QUARTER * np.sin(bent))
    across = side * QUARTER * np.cos(bent)
    across[poles] = 0.0
    return np.asarray(along), np.asarray(across)


def _settled(faces: Faces, places: Floats, fixed: np.ndarray) -> Floats:
    """Return `places` with every loose hub at the mean of its neighbours."""
    loose = np.flatnonzero(~fixed)
    if not len(loose):
        return places
    struts = topology.struts_of(faces)
    both = np.concatenate([struts, struts[:, ::-1]])
    n = len(places)
    graph = csr_array(coo_array((np.ones(len(both)), (both[:, 0], both[:, 1])), shape=(n, n)))
    valence = np.asarray(graph.sum(axis=1)).ravel()
    matrix = (
        csr_array(
            (np.ones(len(loose)), (np.arange(len(loose)), np.arange(len(loose)))),
            shape=(len(loose), len(loose)),
        )
        * valence[loose]
        - graph[loose][:, loose]
    )
    right = graph[loose] @ np.where(fixed[:, None], places, 0.0)
    places = places.copy()
    places[loose] = spsolve(matrix.tocsc(), right).reshape(len(loose), 2)
    return places
