"""Which other cuts of a sphere have a base that can be levelled with the seed's symmetry."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

import numpy as np

from strutwright.errors import InputError, ResultError
from strutwright.shape import topology
from strutwright.shape.courses import courses_from_top, keep_courses, keep_height
from strutwright.shape.level import LEVEL_SPREAD, level_whole
from strutwright.shape.pointlaws import spread_points
from strutwright.shape.subdivide import Net
from strutwright.values import Faces, Floats, HubPoints, Indices

__all__ = ["nearest_whole"]

TRIED: Final = 16
"""Cuts tried on either side of the one asked for: our choice, beyond them a cut is another dome."""
HIGHEST: Final = 0.9
"""Cuts whose base lies further from the middle than this share of R are caps or whole balls: our
choice, they are not offered."""


def nearest_whole(
    net: Net, points: HubPoints, top: Floats, wanted: float, *, by_courses: bool
) -> tuple[str, ...]:
    """Return the nearest cuts, above and below, that `level_whole` can level, as briefs write them.

    Parameters
    ----------
    points : (V, 3) array, on the unit sphere
        As the point law spreads them.
    top : (3,) array
        The upright axis.
    wanted : float
        Mean height of the base ring that could not be levelled, in R from the middle.
    by_courses : bool
        Offer whole numbers of courses instead of shares of the sphere's height.
    """
    cuts = _by_courses(net, points, top) if by_courses else _by_height(net, points, top)
    found = []
    for side in (1, -1):
        there = sorted(
            (
                cut
                for cut in cuts
                if side * (cut[0] - wanted) > LEVEL_SPREAD and abs(cut[0]) < HIGHEST
            ),
            key=lambda cut: abs(cut[0] - wanted),
        )
        for _, said, part in there[:TRIED]:
            if _can_be_level(net, points, _ring(part), top):
                found.append(said)
                break
    return tuple(found)


def _ring(part: Faces) -> Indices:
    return topology.boundary_rings(part)[0]


def _can_be_level(net: Net, points: HubPoints, ring: Indices, top: Floats) -> bool:
    if np.ptp(points[ring] @ top) < LEVEL_SPREAD:
        return True
    try:
        level_whole(net, points, ring, top)
    except ResultError:
        return False
    return True


def _by_courses(net: Net, points: HubPoints, top: Floats) -> list[tuple[float, str, Faces]]:
    """Return (height of the base ring, courses kept as text, faces) of each whole course."""
    steps = courses_from_top(net.faces, spread_points(net, "flat") @ top)
    cuts = []
    for kept in range(1, int(steps.max())):
        try:
            part = keep_courses(net.faces, steps, kept)
        except InputError:
            continue
        cuts.append((float((points[_ring(part)] @ top).mean()), str(kept), part))
    return cuts


def _by_height(net: Net, points: HubPoints, top: Floats) -> list[tuple[float, str, Faces]]:
    """Return (height of the base ring, share as text, faces) of each cut that a share can name."""
    height = spread_points(net, "flat") @ top
    cuts: dict[bytes, tuple[float, str, Faces]] = {}
    for thousandths in range(10, 1000, 10):
        share = Fraction(thousandths, 1000)
        part = keep_height(net.faces, height, share)
        if part is None:
            continue
        level = float((points[_ring(part)] @ top).mean())
        off = abs(level - float(1 - 2 * share))
        known = cuts.get(part.tobytes())
        if known is None or off < abs(known[0] - (1 - 2 * float(known[1].strip('"')))):
            cuts[part.tobytes()] = (level, f'"{float(share):g}"', part)
    return list(cuts.values())
