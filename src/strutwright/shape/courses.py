"""Courses of a closed net, and the part of it that a truncation keeps.

The course of a hub is counted in struts from the top: the hubs nearest to the upright axis (one
hub when the axis runs through a hub, the two or three round it when it runs through a strut or a
face). A cut at k keeps the faces whose hubs are all at most k struts from the top, so the base
ring always follows struts.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import dijkstra

from strutwright.errors import InputError
from strutwright.shape import topology
from strutwright.values import Faces, Floats, Indices, Note

__all__ = ["courses_from_top", "courses_kept", "keep_courses", "steps_from"]

SAME_HEIGHT: Final = 1e-9
"""Heights on the unit sphere closer than this are one: our choice, far above rounding."""


def courses_from_top(faces: Faces, height: Floats) -> Indices:
    """Return the (V,) number of struts from the top of the closed net `faces` to each hub.

    height : (V,) array, on the unit sphere
    """
    return steps_from(faces, np.flatnonzero(height > height.max() - SAME_HEIGHT))


def steps_from(faces: Faces, start: Indices) -> Indices:
    """Return the (V,) number of struts from the nearest of the hubs `start` to each hub."""
    struts = topology.struts_of(faces)
    n = int(faces.max()) + 1
    graph = coo_array((np.ones(len(struts)), (struts[:, 0], struts[:, 1])), shape=(n, n))
    steps = dijkstra(graph.tocsr(), directed=False, indices=start, unweighted=True, min_only=True)
    return np.rint(steps).astype(np.int64)


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
        try:
            share = Fraction(truncation)
        except (ValueError, ZeroDivisionError):
            what = f'"{truncation}" is no share'
            raise InputError("shape-truncation", what, "shape.truncation", mend) from None
        exact = share * total
        kept = (2 * exact + 1).__floor__() // 2
        if 0 < share < 1:
            kept = min(max(kept, 1), total - 1)
        if kept != exact:
            text = (
                f"{share} of {total} courses is {float(exact):g}: {kept} courses are kept, "
                "the nearest whole number"
            )
            notes = (Note("shape-truncation-rounded", text),)
    if not 1 <= kept <= total - 1:
        what = f"truncation {truncation} keeps {kept} of {total} courses of the sphere"
        raise InputError("shape-truncation", what, "shape.truncation", mend)
    return kept, notes


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
