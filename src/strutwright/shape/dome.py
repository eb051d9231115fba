"""Domes: a subdivided seed on a sphere, set up in a pose, cut at a course and set on z = 0."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.shape import topology
from strutwright.shape.courses import courses_from_top, courses_kept, keep_courses
from strutwright.shape.pointlaws import spread_points
from strutwright.shape.seeds import make_seed, seed_mirrors, top_of
from strutwright.shape.shell import Recipe, Shell
from strutwright.shape.subdivide import Net, subdivide
from strutwright.values import Faces, Floats, HubPoints, Indices, Note

__all__ = ["DomeSpec", "dome"]

LEVEL: Final = 1e-9
"""A base ring whose heights differ by less than this share of R is level already."""


@dataclass(frozen=True)
class DomeSpec:
    """What a dome is made from; lengths in m.

    Parameters
    ----------
    radius : float
        Radius of the sphere, m.
    seed : str
        ``icosahedron``, ``octahedron`` or ``tetrahedron``.
    division : (int, int)
        (b, c): class I (b, 0), class II (b, b), class III else.
    point_law : str
        How the points are spread.
    pose : str
        ``vertex``, ``edge`` or ``face``: what of the seed is up.
    truncation : str, Fraction or int
        Share of the sphere's courses, or courses kept, counted from the top.
    level_base : str
        ``ring``, ``whole`` or ``none``.
    """

    radius: float = 1.0
    seed: str = "icosahedron"
    division: tuple[int, int] = (2, 0)
    point_law: str = "flat"
    pose: str = "vertex"
    truncation: str | Fraction | int = "1/2"
    level_base: str = "none"


def dome(spec: DomeSpec) -> Shell:
    """Return the dome that `spec` describes.

    Raises
    ------
    InputError
        ``shape-radius``, ``shape-seed``, ``shape-division``, ``shape-point-law``, ``shape-pose``
        or ``shape-truncation``: the setting is not one that can be built.
    """
    if not (np.isfinite(spec.radius) and spec.radius > 0):
        what = f"radius {spec.radius} m is not a positive length"
        raise InputError("shape-radius", what, "size.width", "give a size above zero")
    seed = make_seed(spec.seed)
    net = subdivide(seed, spec.division)
    top = top_of(seed, spec.pose)
    upright = spread_points(net, "flat") @ top
    steps = courses_from_top(net.faces, upright)
    total = int(steps.max())
    kept, notes = courses_kept(spec.truncation, total)
    part = keep_courses(net.faces, steps, kept)
    points = _set_up(net, spread_points(net, spec.point_law), part, top)
    return _shell(spec, points * spec.radius, part, kept - steps, notes)


def _set_up(net: Net, points: HubPoints, part: Faces, top: Floats) -> HubPoints:
    """Return `points` turned so that `top` is +z and the first base hub lies over +x.

    The first base hub is one on a mirror plane of the seed where there is one, so that the dome
    is its own mirror image in the xz plane.
    """
    ring = topology.boundary_rings(part)[0]
    mirrors = seed_mirrors(net.seed, top, points[ring])
    if len({*net.division, 0}) > 2:
        mirrors[:] = False
    first = points[ring[np.argmax(mirrors)]]
    across = first - (first @ top) * top
    forward = across / np.linalg.norm(across)
    frame = np.stack([forward, np.cross(top, forward), top])
    return np.asarray(points @ frame.T)


def _shell(
    spec: DomeSpec, points: HubPoints, part: Faces, rows: Indices, notes: tuple[Note, ...]
) -> Shell:
    used = np.unique(part)
    hubs, course = points[used], rows[used]
    base = course == 0
    heights = hubs[base, 2]
    hubs[:, 2] -= heights.min()
    spread = float(np.ptp(heights))
    level = spread < LEVEL * spec.radius
    if level:
        hubs[base, 2] = 0.0
    order = topology.hub_order(hubs, course)
    place = np.full(len(points), -1)
    place[used[order]] = np.arange(len(used))
    faces = place[part]
    first = faces.argmin(axis=1)
    faces = np.take_along_axis(faces, (first[:, None] + np.arange(3)) % 3, axis=1)
    faces = faces[np.lexsort(faces.T[::-1])]
    struts = topology.struts_of(faces)
    settings = {
        "seed": spec.seed,
        "division": list(spec.division),
        "point_law": spec.point_law,
        "pose": spec.pose,
        "truncation": str(spec.truncation),
        "courses": int(course.max()),
        "level_base": spec.level_base,
        "sphere_centre": [0.0, 0.0, -float(heights.min())],
    }
    return Shell(
        hubs=hubs[order],
        struts=struts,
        role=np.full(len(struts), "shell"),
        faces=faces,
        course=course[order],
        base=topology.boundary_rings(faces)[0],
        groups={},
        recipe=Recipe("dome", settings, spec.radius, "level" if level else "uneven", (), notes),
    )
