"""Courses of a closed net, and the part of it that a truncation keeps.

The course of a hub is counted in struts from the top: the hubs nearest to the upright axis (one
hub when the axis runs through a hub, the two or three round it when it runs through a strut or a
face). A cut at k keeps the faces whose hubs are all at most k struts from the top, so the base
ring always follows struts.

Vertex-up in class I these rings lie nearly level: within 0.08 R on the icosahedron, and better the
nearer to half. In the other classes and poses they do not: 0.35 R at half a class II icosahedron,
0.25 to 0.4 R edge- or face-up, however fine the division. There a share is therefore taken of the
sphere's height: the faces above a level are kept, of the levels near the share the one whose base
ring is flattest and nearest; the ring then differs by about half a strut (0.19 R at (2, 2), 0.12 R
at (3, 3)) and can be levelled. A whole number of courses is always counted in struts.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import dijkstra

from strutwright.errors import InputError
from strutwright.sentences import note
from strutwright.shape import topology
from strutwright.values import Faces, Floats, Indices, Note

__all__ = [
    "courses_from_base",
    "courses_from_top",
    "courses_kept",
    "keep_courses",
    "keep_height",
    "share_of",
    "steps_from",
]

LEVELS_TRIED: Final = 10
"""Hub levels looked at on either side of a share: beyond them the distance alone costs more."""
SAME_HEIGHT: Final = 1e-9
"""Heights on the unit sphere closer than this are one: our choice, far above rounding."""


def courses_from_top(faces: Faces, height: Floats) -> Indices:
    """Return the (V,) number of struts from the top of the closed net `faces` to each hub.

    height : (V,) array, on the unit sphere
    """
    return steps_from(faces, np.flatnonzero(height > height.max() - SAME_HEIGHT))


def courses_from_base(faces: Faces, n_hubs: int) -> Indices:
    """Return the (V,) number of struts from the base ring of the open net `faces` to each hub.

    Hubs of which no face is in `faces` get -1.
    """
    steps = np.full(n_hubs, -1)
    found = steps_from(faces, topology.boundary_rings(faces)[0])
    steps[: len(found)] = found
    return steps


def steps_from(faces: Faces, start: Indices) -> Indices:
    """Return the (V,) number of struts from the nearest of the hubs `start` to each hub.

    -1 for hubs of which no face is in `faces`.
    """
    struts = topology.struts_of(faces)
    n = int(faces.max()) + 1
    graph = coo_array((np.ones(len(struts)), (struts[:, 0], struts[:, 1])), shape=(n, n))
    steps = dijkstra(graph.tocsr(), directed=False, indices=start, unweighted=True, min_only=True)
    return np.where(np.isfinite(steps), np.rint(steps), -1).astype(np.int64)


def courses_kept(truncation: str | Fraction | int, total: int) -> tuple[int, tuple[Note, ...]]:
    """Return how many of `total` courses `truncation` keeps, and the notes on rounding.

    A whole number is courses kept, counted from the top; a share such as ``"1/2"`` is taken to
    the nearest whole course, upwards when it lies just between two.

    Raises
    ------
    InputError
        ``shape-truncation``: nothing, or the whole closed sphere, would be kept.
    """
    mend = f"courses from 1 to {total - 1}, or a share between 0 and 1"
    notes: tuple[Note, ...] = ()
    if isinstance(truncation, int):
        kept = truncation
    else:
        share = share_of(truncation, mend)
        exact = share * total
        kept = (2 * exact + 1).__floor__() // 2
        if 0 < share < 1:
            kept = min(max(kept, 1), total - 1)
        if kept != exact:
            values = {"share": str(share), "total": total, "exact": float(exact), "kept": kept}
            notes = (note("shape-truncation-rounded", **values),)
    if not 1 <= kept <= total - 1:
        what = f"truncation {truncation} keeps {kept} of {total} courses of the sphere"
        raise InputError("shape-truncation", what, "shape.truncation", mend)
    return kept, notes


def share_of(truncation: str | Fraction, mend: str = "a share between 0 and 1") -> Fraction:
    """Return the share that `truncation` names.

    Raises
    ------
    InputError
        ``shape-truncation``: it is no share.
    """
    try:
        return Fraction(truncation)
    except (ValueError, ZeroDivisionError):
        what = f'"{truncation}" is no share'
        raise InputError("shape-truncation", what, "shape.truncation", mend) from None


def keep_courses(faces: Faces, steps: Indices, kept: int) -> Faces:
    """Return the faces whose hubs are all at most `kept` struts from the top.

    Raises
    ------
    InputError
        ``shape-truncation``: the rest would not have one closed base ring.
    """
    part = faces[(steps[faces] <= kept).all(axis=1)]
    rings = topology.boundary_rings(part)
    if len(rings) != 1:
        what = f"a cut at course {kept} leaves {len(rings)} rings at the base"
        mend = "keep fewer courses, or take another pose"
        raise InputError("shape-truncation", what, "shape.truncation", mend)
    return part


def keep_height(faces: Faces, height: Floats, share: Fraction) -> Faces | None:
    """Return the faces above a level near `share` of the sphere's height, measured from the top.

    Of the `LEVELS_TRIED` hub levels next to it on either side that leave one base ring, the one
    for which distance and unevenness of the ring together are least; None when none does.
    """
    target = float(1 - 2 * share)
    levels = np.unique(np.rint(height / SAME_HEIGHT)) * SAME_HEIGHT
    near = levels[np.argsort(np.abs(levels - target), kind="stable")[: 2 * LEVELS_TRIED]]
    best: tuple[float, Faces | None] = (np.inf, None)
    for level in near.tolist():
        part = faces[(height[faces] > level - 2 * SAME_HEIGHT).all(axis=1)]
        if not len(part) or len(part) == len(faces) or not _is_dome(part):
            continue
        ring = topology.boundary_rings(part)[0]
        cost = float(abs(height[ring].mean() - target) + np.ptp(height[ring]))
        if cost < best[0] - SAME_HEIGHT:
            best = cost, part
    return best[1]


def _is_dome(part: Faces) -> bool:
    """Return whether `part` is one piece with one rim and at least one hub inside it."""
    try:
        topology.check_manifold(part)
        rings = topology.boundary_rings(part)
    except ValueError:
        return False
    if len(rings) != 1 or topology.components(part) != 1:
        return False
    return len(np.unique(part)) > len(rings[0])
