"""The upper half of a closed net: cut near the plane of its axis, and levelled onto that plane.

The chart of the half capsule is a strip with two half discs: along it the arc along the axis,
across it the angle from the crown; beyond the tube, polar coordinates about the top of the half
sphere. The base is its outline, at a quarter turn from the crown.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array, csr_array
from scipy.sparse.linalg import spsolve

from strutwright.errors import InputError
from strutwright.shape import topology
from strutwright.shape.capsule import capsule_points, level_step
from strutwright.shape.cut import NEAR, Cut, all_cuts, cut_like
from strutwright.shape.tube import ClosedNet, closed_net
from strutwright.values import ArrayValue, Faces, Floats, Indices

__all__ = ["HalfNet", "halve"]

QUARTER: Final = np.pi / 2
MODEL_LEVELS: Final = 8
MODEL_TUBE: Final = 1.0
"""Levels and half length, in radii, of the barrel on which the cut is chosen."""


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
    """Return the upper half of `net`, its own mirror image across the length and the width.

    A plane that follows struts is taken where there is one; else, of all ways to cut, the one
    whose faces keep the largest least angle after levelling. The choice is made once on a barrel
    of `MODEL_LEVELS`, so that it does not change with the number of bays. `half_tube` is in radii.

    Raises
    ------
    InputError
        ``shape-cap``: the net is too coarse to have a half with hubs over its base.
    """
    model, wanted = _model(net.symmetry, net.frequency, net.rows)
    return _halved(net, cut_like(net, half_tube, model, wanted), half_tube)


@lru_cache(maxsize=64)
def _model(symmetry: int, frequency: int, rows: str) -> tuple[ClosedNet, Cut]:
    """Return the net on which the cut is chosen, and the cut: no length has a part in it."""
    model = closed_net(symmetry, frequency, rows, MODEL_LEVELS)
    models = all_cuts(model, MODEL_TUBE)
    if not models:
        what = f"b = {frequency} of symmetry {symmetry} leaves no hub over its base row"
        raise InputError("shape-cap", what, "shape.division", "take a larger b")
    if models[0].far < NEAR:
        return model, models[0]
    merits = [_least_angle(_halved(model, cut, MODEL_TUBE), MODEL_TUBE) for cut in models]
    return model, models[int(np.argmax(np.round(merits, 6)))]


def _halved(net: ClosedNet, cut: Cut, half_tube: float) -> HalfNet:
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


def _least_angle(half: HalfNet, half_tube: float) -> float:
    """Return the least angle of a face of `half` on the unit capsule, rad; 0 when one is folded."""
    beyond = np.maximum(np.abs(half.along) - half_tube, 0)
    polar = np.hypot(beyond, half.across)
    share = np.sin(polar) / np.where(polar > 0, polar, 1)
    x = np.sign(half.along) * (np.minimum(np.abs(half.along), half_tube) + share * beyond)
    corners = np.stack([x, share * half.across, np.cos(polar)], axis=1)[half.faces]
    forth, back = np.roll(corners, -1, axis=1) - corners, np.roll(corners, 1, axis=1) - corners
    cross = np.cross(forth[:, 0], back[:, 0])
    middle = corners.mean(axis=1)
    middle[:, 0] -= np.clip(middle[:, 0], -half_tube, half_tube)
    if (np.einsum("ij,ij->i", cross, middle) <= 0).any():
        return 0.0
    dot = np.einsum("fkd,fkd->fk", forth, back)
    return float(np.arctan2(np.linalg.norm(np.cross(forth, back), axis=2), dot).min())


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
    foot = _foot(net, used, angle, base)
    # rows along are staggered: a level more makes the lattice end in whole triangles
    over = min(level_step(net, half_tube), half_tube) if net.rows == "along" else 0.0
    barrel = (inner >= net.cap_levels) & (np.abs(arc) <= half_tube + over + NEAR)
    barrel &= _is_regular(net, net.level[used], angle, foot, on_base)
    turned = _equal_steps(net, (arc, angle), foot, barrel)
    along, across = np.zeros(len(used)), np.zeros(len(used))
    along[barrel], across[barrel] = _on_chart(arc[barrel], turned[barrel], half_tube)
    fixed = barrel | on_base
    along[base], across[base] = _outline(arc[base], barrel[base], half_tube)
    place_now = _settled(faces, np.stack([along, across], axis=1), fixed)
    return place_now[:, 0], place_now[:, 1]


def _is_regular(
    net: ClosedNet, level: Indices, angle: Floats, foot: float, on_base: NDArray[np.bool_]
) -> NDArray[np.bool_]:
    """Return (H,): whether the rib of a hub runs from base row to base row like all others."""
    regular = np.zeros(len(level), dtype=bool)
    row = np.pi / (net.symmetry * net.frequency)
    for one in np.unique(level):
        rib = np.flatnonzero(level == one)
        last = rib[np.abs(angle[rib]) > np.abs(angle[rib]).max() - NEAR]
        reach = float(np.abs(angle[last]).max())
        if net.rows == "along":
            short = abs(reach - foot + row) < NEAR
            regular[rib] = short or (abs(reach - foot) < NEAR and on_base[last].all())
        else:
            regular[rib] = on_base[last].all()
    return regular


def _equal_steps(
    net: ClosedNet, place: tuple[Floats, Floats], foot: float, barrel: NDArray[np.bool_]
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


def _outline(arc: Floats, on_lattice: NDArray[np.bool_], half_tube: float) -> tuple[Floats, Floats]:
    """Return the places of the base ring on the chart's outline.

    `arc` and `on_lattice` (B,) follow the ring. Poles and hubs on the barrel's lattice keep their
    arc; the hubs between two of these share the way evenly.
    """
    n, total = len(arc), half_tube + QUARTER
    first, last = int(np.argmax(arc)), int(np.argmin(arc))
    turned = np.roll(np.arange(n), -first)
    far = int(np.flatnonzero(turned == last)[0])
    kept = on_lattice | (total - np.abs(arc) < NEAR)
    ring = np.append(turned, first)
    known = np.flatnonzero(kept[ring])
    place = np.interp(np.arange(n), known, arc[ring[known]])
    side = np.where(np.arange(n) < far, 1.0, -1.0)
    bent = np.maximum(np.abs(place) - half_tube, 0)
    along, across = np.zeros(n), np.zeros(n)
    along[turned] = np.sign(place) * (np.minimum(np.abs(place), half_tube) + QUARTER * np.sin(bent))
    across[turned] = side * QUARTER * np.cos(bent)
    across[[first, last]] = 0.0
    return along, across


def _settled(faces: Faces, places: Floats, fixed: NDArray[np.bool_]) -> Floats:
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
