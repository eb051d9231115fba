"""The way an opening takes through a shell: which faces it removes and the hole they leave."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from strutwright.shape import topology
from strutwright.values import Faces, Floats, HubPoints, Indices

__all__ = ["Corridor", "Hole", "hole_of", "touched", "triangulate_strip"]

TOUCH: Final = 1e-6
"""A face that reaches into a corridor by less than this share of its width is left standing."""
WELL_OUT: Final = 0.1
"""Volume spanned by three unit vectors along the struts of a hub above which they hold it: our
choice, about 6 degrees out of plane."""


@dataclass(frozen=True)
class Corridor:
    """A straight way from the inside out.

    Parameters
    ----------
    azimuth : float, rad
        Direction it faces, anticlockwise from +x.
    width : float, m
    top : float, m
        Height up to which it is open, above z = 0; infinite for a slot.
    back : float, m
        How far it reaches past the centre, against its direction (0 for a door).
    """

    azimuth: float
    width: float
    top: float
    back: float = 0.0

    def local(self, points: HubPoints) -> Floats:
        """Return (n, 3) points as outward u, sideways s (left positive, seen outward), height z."""
        c, s = np.cos(self.azimuth), np.sin(self.azimuth)
        x, y, z = np.asarray(points).T
        return np.stack([c * x + s * y, c * y - s * x, z], axis=1)

    def world(self, local: Floats) -> HubPoints:
        """Return (n, 3) local points (u, s, z) in the shell's axes."""
        c, s = np.cos(self.azimuth), np.sin(self.azimuth)
        u, t, z = np.asarray(local).T
        return np.stack([c * u - s * t, s * u + c * t, z], axis=1)


def touched(corridor: Corridor, hubs: HubPoints, faces: Faces) -> Indices:
    """Return the faces that reach into `corridor`, ascending.

    Separating axes between each triangle and the box, in the plane across the way (s, z) and
    in plan (s, u).
    """
    corners = corridor.local(hubs)[faces]
    u, s, z = corners[..., 0], corners[..., 1], corners[..., 2]
    half = corridor.width / 2 * (1 - TOUCH)
    slack = corridor.width * TOUCH
    front = u.max(axis=1) > -corridor.back + slack
    across = _meets(np.stack([s, z], axis=-1), (-half, half), (-np.inf, corridor.top - slack))
    plan = _meets(np.stack([s, u], axis=-1), (-half, half), (-corridor.back + slack, np.inf))
    return np.flatnonzero(front & across & plan)


def _meets(
    triangle: Floats, first: tuple[float, float], second: tuple[float, float]
) -> NDArray[np.bool_]:
    """Return (F,) True where (F, 3, 2) triangles meet the box first x second."""
    far = 4 * float(np.abs(triangle).max())
    low = np.array([max(first[0], -far), max(second[0], -far)])
    high = np.array([min(first[1], far), min(second[1], far)])
    meets: NDArray[np.bool_] = ((triangle.min(axis=1) < high) & (triangle.max(axis=1) > low)).all(
        axis=1
    )
    box = np.array([[low[0], low[1]], [low[0], high[1]], [high[0], low[1]], [high[0], high[1]]])
    for k in range(3):
        edge = triangle[:, (k + 1) % 3] - triangle[:, k]
        axis = np.stack([-edge[:, 1], edge[:, 0]], axis=1)
        own = np.einsum("fij,fj->fi", triangle, axis)
        other = axis @ box.T
        apart = (own.max(axis=1) <= other.min(axis=1)) | (own.min(axis=1) >= other.max(axis=1))
        # an edge seen end on has no side: it parts nothing
        meets &= ~(apart & (np.abs(axis).max(axis=1) > TOUCH * np.ptp(box[:, 0])))
    return meets


@dataclass(frozen=True)
class Hole:
    """What a corridor removes.

    Parameters
    ----------
    removed : (n,) int array
        Faces taken out.
    chain : tuple of int
        Hubs round the hole from the base hub left of it (seen from outside: right) over the
        top to the base hub on the other side, in the order in which the standing faces run.
    """

    removed: Indices
    chain: tuple[int, ...]


def hole_of(faces: Faces, base: list[int], removed: Indices) -> Hole | None:
    """Return the hole that `removed` faces leave, or None when it is not one chain over the base.

    Faces that would hang on by a hub alone are taken out as well.
    """
    gone = np.zeros(len(faces), dtype=bool)
    gone[removed] = True
    for _ in range(len(faces)):
        loose = _pinched(faces, gone)
        if not loose.size:
            break
        gone[loose] = True
    if gone.all() or not gone.any():
        return None
    rings = topology.boundary_rings(faces[~gone])
    taken = set(np.unique(faces[gone]).tolist())
    on_base = set(base)
    found = [ring for ring in rings if taken & set(ring.tolist())]
    if len(found) != 1 or topology.components(faces[~gone]) != topology.components(faces):
        return None
    return _chain(found[0].tolist(), on_base, faces[gone], gone)


def _chain(ring: list[int], on_base: set[int], gone_faces: Faces, gone: Indices) -> Hole | None:
    old_edges = {tuple(edge) for edge in topology.directed_edges(gone_faces)[:, ::-1].tolist()}
    n = len(ring)
    new = [(ring[k], ring[(k + 1) % n]) in old_edges for k in range(n)]
    starts = [k for k in range(n) if new[k] and not new[k - 1]]
    if len(starts) != 1:
        return None
    k = starts[0]
    chain = [ring[k]]
    while new[k % n]:
        chain.append(ring[(k + 1) % n])
        k += 1
    if len(chain) > n or chain[0] not in on_base or chain[-1] not in on_base:
        return None
    return Hole(np.flatnonzero(gone), tuple(chain))


def _pinched(faces: Faces, gone: Indices) -> Indices:
    """Return the standing faces in the smaller fans of hubs whose faces form more than one fan."""
    standing = np.flatnonzero(~gone)
    touched_hubs = np.unique(faces[gone])
    loose: list[int] = []
    for hub in touched_hubs.tolist():
        around = standing[(faces[standing] == hub).any(axis=1)]
        fans = _fans(faces, around.tolist(), hub)
        if len(fans) > 1:
            fans.sort(key=lambda fan: (len(fan), fan))
            loose.extend(face for fan in fans[:-1] for face in fan)
    return np.unique(np.array(loose, dtype=np.int64))


def _fans(faces: Faces, around: list[int], hub: int) -> list[list[int]]:
    left = {face: set(faces[face].tolist()) - {hub} for face in around}
    fans = []
    while left:
        fan, hubs = [], set(left[min(left)])
        grown = True
        while grown:
            grown = False
            for face in [f for f, ends in left.items() if ends & hubs]:
                hubs |= left.pop(face)
                fan.append(face)
                grown = True
        fans.append(sorted(fan))
    return fans


def triangulate_strip(hubs: HubPoints, outer: list[int], inner: list[int]) -> Faces:
    """Return the (n, 3) faces between two chains of hubs that run side by side.

    The sum of the lengths of the struts across is least (dynamic programming). `outer` and
    `inner` start side by side and end side by side; where both pass through one hub the strip
    is cut there. Faces are wound so that `outer` is run through backwards.
    """
    shared = [hub for hub in inner if hub in outer]
    marks = [(outer.index(hub), inner.index(hub)) for hub in shared]
    ends = (len(outer) - 1, len(inner) - 1)
    cuts = [(0, 0), *marks, ends]
    rows = [
        row
        for (i, j), (k, m) in itertools.pairwise(cuts)
        for row in _strip(hubs, outer[i : k + 1], inner[j : m + 1])
    ]
    return np.array(rows, dtype=np.int64)


def _strip(hubs: HubPoints, outer: list[int], inner: list[int]) -> list[tuple[int, int, int]]:
    """Return the faces of a strip of least cost, by the steps along both chains.

    Two steps along `inner` on end leave the hub between them one strut across; where that lies
    in the plane of the two others the hub can move out of it, which costs more than any length.
    """
    n, m = len(outer), len(inner)
    across = np.linalg.norm(hubs[outer][:, None] - hubs[inner][None], axis=2)
    dear = _loose_cost(hubs, outer, inner) * across.sum()
    cost = np.full((2, n, m), np.inf)  # by the last step: along outer, along inner
    before = np.zeros((2, n, m), dtype=np.int64)
    cost[:, 0, 0] = 0.0
    for i, j in itertools.product(range(n), range(m)):
        if i:
            before[0, i, j] = int(np.argmin(cost[:, i - 1, j]))
            cost[0, i, j] = cost[:, i - 1, j].min() + across[i, j]
        if j:
            steps = cost[:, i, j - 1] + [0.0, dear[i, j - 1]]
            before[1, i, j] = int(np.argmin(steps))
            cost[1, i, j] = steps.min() + across[i, j]
    rows = []
    i, j, last = n - 1, m - 1, int(np.argmin(cost[:, -1, -1]))
    while i or j:
        last_before = int(before[last, i, j])
        if last == 0:
            rows.append((outer[i], outer[i - 1], inner[j]))
            i -= 1
        else:
            rows.append((inner[j - 1], inner[j], outer[i]))
            j -= 1
        last = last_before
    return [row for row in rows if len(set(row)) == 3]


def _loose_cost(hubs: HubPoints, outer: list[int], inner: list[int]) -> Floats:
    """Return (n, m) how loose hub j of `inner` is when its one strut across goes to i of `outer`.

    0 where its three struts stand well out of one plane, 1 where they lie in it; 0 at both ends.
    """
    loose = np.zeros((len(outer), len(inner)))
    if len(inner) < 3:
        return loose
    at = hubs[inner]
    ways = [at[:-2] - at[1:-1], at[2:] - at[1:-1]]
    ways = [way / np.linalg.norm(way, axis=1, keepdims=True) for way in ways]
    third = hubs[outer][:, None] - at[None, 1:-1]
    length = np.linalg.norm(third, axis=2)
    volume = np.abs(np.einsum("nmi,mi->nm", third, np.cross(ways[0], ways[1])))
    out = np.divide(volume, length, out=np.zeros_like(volume), where=length > 0)
    loose[:, 1:-1] = np.maximum(0.0, 1.0 - out / WELL_OUT)
    return loose
