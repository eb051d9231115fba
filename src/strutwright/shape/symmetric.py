"""Moving the hubs of a closed net on the sphere while the symmetry of its seed is kept.

Hubs that a symmetry of the seed lays on one another form an orbit; one of them stands for all.
For classes I and II the whole symmetry of the seed counts, for class III its turns alone. An
orbit on a mirror plane may move along it, one on an axis of symmetry not at all.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from strutwright.shape.seeds import across_edges
from strutwright.shape.subdivide import Net, division_class
from strutwright.values import ArrayValue, Floats, HubPoints, Indices

__all__ = ["Orbits", "hub_rows", "net_orbits", "spread_out", "tangents"]


@dataclass(frozen=True, eq=False)
class Orbits(ArrayValue):
    """The orbits of the hubs of a net under the symmetry of its seed.

    Parameters
    ----------
    orbit : (V,) int array
        Orbit of each hub.
    turns : (V, 3, 3) array
        Orthogonal matrix that lays the orbit's standing hub on this one.
    standing : (K,) int array
        A hub of each orbit.
    quantity : (K,) int array
        Hubs in each orbit.
    weights : (K, 3) int array
        Weights of the standing hub on the corners of `reference`.
    reference : (3, 3) array
        Corners of the seed face on which the orbits are written, as rows.
    mirrors : bool
        Whether mirror planes count.
    """

    orbit: Indices
    turns: Floats
    standing: Indices
    quantity: Indices
    weights: Indices
    reference: Floats
    mirrors: bool


def net_orbits(net: Net) -> Orbits:
    """Return the orbits of the hubs of `net`."""
    mirrors = division_class(*net.division) != "III"
    corners, weights = _standing_form(net, mirrors=mirrors)
    table, standing, orbit, quantity = np.unique(
        weights, axis=0, return_index=True, return_inverse=True, return_counts=True
    )
    reference = net.seed.points[net.seed.faces[0]]
    # columns: the reference corners go to the hub's own corners in the standing order
    turns = np.swapaxes(net.seed.points[corners], 1, 2) @ np.linalg.inv(reference.T)
    return Orbits(orbit.ravel(), turns, standing, quantity, table, reference, mirrors)


def _standing_form(net: Net, *, mirrors: bool) -> tuple[Indices, Indices]:
    """Return corners and weights (V, 3), reordered so that all hubs of an orbit read alike."""
    corners, weights = net.corners.copy(), net.weights.copy()
    if mirrors:
        order = np.argsort(-weights, axis=1, kind="stable")
        return np.take_along_axis(corners, order, axis=1), np.take_along_axis(weights, order, 1)
    span = int(weights.max()) + 1
    codes = np.stack([np.roll(weights, -k, axis=1) @ [span * span, span, 1] for k in range(3)])
    roll = (codes.argmax(axis=0)[:, None] + np.arange(3)) % 3
    corners, weights = np.take_along_axis(corners, roll, 1), np.take_along_axis(weights, roll, 1)
    # a hub on a seed edge: (a, 0, b) seen from this face is (a, b, 0) seen from beyond the edge
    edge = (weights[:, 1] == 0) & (weights[:, 2] > 0)
    beyond = across_edges(net.seed.faces)
    for hub in np.flatnonzero(edge):
        first, third, last = corners[hub]
        corners[hub] = first, last, beyond[last, first, third]
        weights[hub] = weights[hub, [0, 2, 1]]
    return corners, weights


def tangents(orbits: Orbits, places: HubPoints) -> list[Floats]:
    """Return for each orbit the (3, d) directions, d from 0 to 2, in which it may move.

    places : (K, 3) array, the standing hubs written on the reference face, on the unit sphere
    """
    return [
        _free(orbits, weights.tolist(), place)
        for weights, place in zip(orbits.weights, places, strict=True)
    ]


def _free(orbits: Orbits, weights: list[int], place: Floats) -> Floats:
    corner = orbits.reference
    barred = [place]
    fixed = weights.count(0) == 2 or len(set(weights)) == 1
    fixed |= 0 in weights and len(set(weights) - {0}) == 1
    if fixed:
        return np.zeros((3, 0))
    if orbits.mirrors:
        for i, j in ((0, 1), (1, 2), (0, 2)):
            if weights[i] == weights[j]:
                barred.append(corner[i] - corner[j])
            if weights[3 - i - j] == 0:
                barred.append(np.cross(corner[i], corner[j]))
    _, sizes, rows = np.linalg.svd(np.array(barred))
    return np.asarray(rows[int((sizes > 1e-9).sum()) :].T)


def spread_out(orbits: Orbits, places: HubPoints) -> HubPoints:
    """Return the (V, 3) positions of all hubs for the standing hubs at `places` (K, 3)."""
    return np.asarray(np.einsum("vij,vj->vi", orbits.turns, places[orbits.orbit]))


def hub_rows(orbits: Orbits, free: list[Floats], hubs: Indices) -> Floats:
    """Return (n, 3, U): how the `hubs` (n,) move for a unit of each of the U free movements."""
    first = np.cumsum([0] + [f.shape[1] for f in free])
    rows = np.zeros((len(hubs), 3, first[-1]))
    for row, hub in enumerate(hubs):
        k = orbits.orbit[hub]
        rows[row, :, first[k] : first[k + 1]] = orbits.turns[hub] @ free[k]
    return rows
