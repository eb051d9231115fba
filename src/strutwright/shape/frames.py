"""The frames that stand in the hole of an opening."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.shape.corridor import Corridor, Hole
from strutwright.shape.edit import Net
from strutwright.shape.measure import node_lengths
from strutwright.shape.shell import Shell
from strutwright.values import Floats, HubPoints, Indices

__all__ = ["Frame", "can_stand", "door_frame", "slot_frame"]

SNAP: Final = 0.3
"""A jamb hub of a slot that is nearer to a hub of the hole than this share of a usual strut gives
way to it: our choice; a shorter stub could hardly be made and would be one more length."""
JAMB: Final = 0.9
"""m; hubs of a jamb stand about so far apart, or a usual strut if that is longer: our choice, a
light tube of that length still carries the wind on door and infill."""
CORNER: Final = np.deg2rad(80)
"""rad; a base line that turns by more between two struts has a corner there, where no door stands:
our choice, between the 72 degrees of a base of five struts and the 90 of a rectangle."""
MEETS: Final = 1e-6
"""A foot nearer to a base hub than this share of a usual strut is that hub."""
ROUND: Final = 1e-6
"""Hubs lie on one sphere when they leave it by less than this share of its radius."""


@dataclass(frozen=True)
class Frame:
    """The hubs of a frame, from the foot on the left (seen from outside) over the head."""

    chain: list[int]
    head: list[tuple[int, int]]


def door_frame(net: Net, shell: Shell, corridor: Corridor, hole: Hole) -> Frame:
    """Add an upright door frame on the base line to `net` and return it.

    Feet stand where the sides of the way cross the base line; the head is level. Jambs have
    hubs between foot and head, which the infill holds: a jamb in one length would bend too much.
    """
    bottom, usual = _feet(shell, corridor, hole), _usual(shell)
    n = max(1, int(np.rint(corridor.top / max(usual, JAMB))))
    course = max(int(shell.course[list(hole.chain)].max()) - 1, 1)
    sides = []
    ends = hole.chain[0], hole.chain[-1]
    for foot in bottom:
        share = np.linspace(0.0, 1.0, n + 1)
        points = foot + share[:, None] * np.array([0.0, 0.0, corridor.top - foot[2]])
        at = np.rint(share * course).astype(np.int64)
        at[1:] = np.maximum(at[1:], 1)
        there = [hub for hub in ends if np.linalg.norm(net.hubs[hub] - foot) < MEETS * usual]
        sides.append([*there[:1], *net.add_hubs(points[len(there) :], at[len(there) :])])
    left, right = sides
    return Frame([*left, *right[::-1]], [(left[-1], right[-1])])


def _usual(shell: Shell) -> float:
    """Return the median node length, m."""
    return float(np.median(node_lengths(shell)))


def slot_frame(net: Net, shell: Shell, corridor: Corridor, hole: Hole) -> Frame:
    """Add jambs that follow the shell on both sides of a slot to `net` and return the frame."""
    feet = _feet(shell, corridor, hole)
    chain = list(hole.chain)
    middle = len(chain) // 2
    usual = _usual(shell)
    numbers: list[list[int]] = []
    for side, foot, stretch in ((-1, feet[0], chain[:middle]), (1, feet[1], chain[:middle:-1])):
        points = _jamb(shell, corridor, side * corridor.width / 2)
        points[0] = foot
        course = np.rint(np.linspace(0, shell.course.max(), len(points))).astype(np.int64)
        numbers.append(_placed(net, points, course, stretch, SNAP * usual))
    left, right = numbers
    return Frame([*left, *right[::-1]], [(left[-1], right[-1])])


def _placed(
    net: Net, points: HubPoints, course: Indices, stretch: list[int], near: float
) -> list[int]:
    """Return the hubs of a jamb: a hub of the hole where one is near, a new one elsewhere."""
    hubs: list[int] = []
    left = list(stretch)
    for k, point in enumerate(points):
        away = [float(np.linalg.norm(net.hubs[hub] - point)) for hub in left]
        if away and k < len(points) - 1 and min(away) < near:
            at = int(np.argmin(away))
            hubs.append(left[at])
            left = left[at + 1 :]
        else:
            hubs.extend(net.add_hubs(point[None], course[k : k + 1]))
    return hubs


def can_stand(shell: Shell, corridor: Corridor, hole: Hole) -> bool:
    """Return whether both sides of the way cross the base line, with no corner between them."""
    local = _cut_base(shell, corridor, hole)
    left, right = (_crossings(local, side * corridor.width / 2) for side in (-1, 1))
    if not len(left) or not len(right) or left[0] > right[0]:
        return False
    ways = np.diff(local[left[0] : right[0] + 2, :2], axis=0)
    heading = np.unwrap(np.arctan2(ways[:, 1], ways[:, 0]))
    return bool((np.abs(np.diff(heading)) < CORNER).all())


def _cut_base(shell: Shell, corridor: Corridor, hole: Hole) -> HubPoints:
    """Return the local (n, 3) base hubs from one end of the hole to the other."""
    base = shell.base.tolist()
    start, end = base.index(hole.chain[0]), base.index(hole.chain[-1])
    between = base[start : end + 1] if start < end else base[start:] + base[: end + 1]
    return corridor.local(shell.hubs[between])


def _crossings(local: HubPoints, side: float) -> Indices:
    """Return the base struts, by their place along the hole, that cross sideways `side`."""
    s = local[:, 1]
    return np.flatnonzero((s[:-1] <= side) & (s[1:] >= side))


def _feet(shell: Shell, corridor: Corridor, hole: Hole) -> HubPoints:
    """Return the (2, 3) points where the sides of the way cross the base line, left first."""
    local = _cut_base(shell, corridor, hole)
    feet = []
    for side in (-corridor.width / 2, corridor.width / 2):
        s = local[:, 1]
        k = int(_crossings(local, side)[0])
        share = (side - s[k]) / (s[k + 1] - s[k])
        feet.append(local[k] + share * (local[k + 1] - local[k]))
    return corridor.world(np.array(feet))


def _jamb(shell: Shell, corridor: Corridor, side: float) -> HubPoints:
    """Return points (n, 3) along the shell at sideways distance `side`, base first.

    They are as far apart as a usual strut is long and lie on the sphere where the shell has
    one, on the faces otherwise.
    """
    profile = _profile(shell, corridor, side)
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(profile, axis=0), axis=1))])
    usual = _usual(shell)
    n = max(2, int(np.rint(run[-1] / usual)) + 1)
    at = np.linspace(0, run[-1], n)
    points = np.stack([np.interp(at, run, profile[:, k]) for k in range(3)], axis=1)
    world = corridor.world(points)
    sphere = _sphere(shell.hubs)
    return world if sphere is None else _onto(sphere, world, corridor)


def _profile(shell: Shell, corridor: Corridor, side: float) -> Floats:
    """Return the (n, 3) local points where the plane s = `side` cuts the faces, base first."""
    local = corridor.local(shell.hubs)
    i, j = shell.struts[shell.role != "brace"].T
    a, b = local[i], local[j]
    with np.errstate(divide="ignore", invalid="ignore"):
        share = (side - a[:, 1]) / (b[:, 1] - a[:, 1])
    cut = (share >= 0) & (share <= 1) & np.isfinite(share)
    points = a[cut] + share[cut, None] * (b[cut] - a[cut])
    # seen from the middle of the floor the line rises from the base and falls beyond the apex
    order = np.argsort(np.arctan2(points[:, 2], points[:, 0]), kind="stable")
    before = points[order][points[order, 0] >= -corridor.back]
    return np.vstack([before, _end(points, corridor)])


def _end(points: Floats, corridor: Corridor) -> Floats:
    """Return the (1, 3) local point of the profile at the far end of the way."""
    order = np.argsort(points[:, 0], kind="stable")
    high = points[order][points[order][:, 2] > 0.5 * points[:, 2].max()]
    z = np.interp(-corridor.back, high[:, 0], high[:, 2])
    return np.array([[-corridor.back, points[0, 1], z]])


def _sphere(hubs: HubPoints) -> tuple[Floats, float] | None:
    """Return centre and radius of the sphere through all hubs, or None when there is none."""
    rows = np.column_stack([2 * hubs, np.ones(len(hubs))])
    solution, *_ = np.linalg.lstsq(rows, (hubs**2).sum(axis=1), rcond=None)
    centre = solution[:3]
    radius = float(np.sqrt(solution[3] + centre @ centre))
    off = np.abs(np.linalg.norm(hubs - centre, axis=1) - radius)
    return (centre, radius) if float(off.max()) < ROUND * radius else None


def _onto(sphere: tuple[Floats, float], points: HubPoints, corridor: Corridor) -> HubPoints:
    """Return `points` moved onto the sphere within their plane s = constant."""
    centre, radius = sphere
    local = corridor.local(points)
    middle = corridor.local(centre[None])[0]
    across = local[:, 1] - middle[1]
    ring = np.sqrt(radius**2 - across**2)
    out = local[:, [0, 2]] - middle[[0, 2]]
    out *= (ring / np.linalg.norm(out, axis=1))[:, None]
    local[:, [0, 2]] = middle[[0, 2]] + out
    return corridor.world(local)
