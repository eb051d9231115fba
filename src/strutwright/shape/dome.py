"""Domes: a subdivided seed on a sphere, set up in a pose, cut at a course and set on z = 0."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

import numpy as np

from strutwright.errors import InputError, ResultError
from strutwright.sentences import note
from strutwright.shape import topology
from strutwright.shape.courses import (
    courses_from_base,
    courses_from_top,
    courses_kept,
    keep_courses,
    keep_height,
    share_of,
)
from strutwright.shape.level import LEVEL_SPREAD, check_level, level_ring, level_whole
from strutwright.shape.pointlaws import spread_points
from strutwright.shape.seeds import make_seed, seed_mirrors, top_of
from strutwright.shape.shell import Recipe, Shell
from strutwright.shape.sizing import Sizes, check_sizes, measure_sizes, scale_for
from strutwright.shape.subdivide import Net, division_class, subdivide
from strutwright.shape.whole_cuts import nearest_whole
from strutwright.values import Faces, Floats, HubPoints, Indices, Note

__all__ = ["DomeSpec", "cut_ratios", "dome"]

ROUNDING: Final = 1e-14
"""Coordinates on the unit sphere nearer to zero than this are zero: rounding of doubles."""


@dataclass(frozen=True)
class DomeSpec:
    """What a dome is made from; lengths in m.

    Parameters
    ----------
    radius : float or None
        Radius of the sphere, m. None: it follows from `sizes`.
    seed : str
        ``icosahedron``, ``octahedron`` or ``tetrahedron``.
    division : (int, int)
        (b, c): class I (b, 0), class II (b, b), class III else.
    point_law : str
        How the points are spread: ``flat``, ``arc`` or ``even``.
    pose : str
        ``vertex``, ``edge`` or ``face``: what of the seed is up.
    truncation : str, Fraction or int
        Share of the sphere's courses (class I, vertex-up) or of its height (else), or courses
        kept, counted from the top; see `courses`.
    level_base : str or None
        ``ring``, ``whole`` or ``none``. None: ``whole`` where it is possible, else ``ring``, else
        ``none``, with a note.
    sizes : Sizes or None
        Used when there is no radius.
    scale_rise : bool
        Whether a rise that the cut does not give is reached by scaling the height.
    """

    radius: float | None = 1.0
    seed: str = "icosahedron"
    division: tuple[int, int] = (2, 0)
    point_law: str = "flat"
    pose: str = "vertex"
    truncation: str | Fraction | int = "1/2"
    level_base: str | None = None
    sizes: Sizes | None = None
    scale_rise: bool = False


def dome(spec: DomeSpec) -> Shell:
    """Return the dome that `spec` describes.

    Raises
    ------
    InputError
        ``shape-*``: a setting is not one that can be built; ``size-*``: sizes are missing or
        disagree; ``level-base-impossible``: the sphere cannot be levelled as asked for.
    """
    if spec.radius is not None and not (np.isfinite(spec.radius) and spec.radius > 0):
        what = f"radius {spec.radius} m is not a positive length"
        raise InputError("shape-radius", what, "size", "give a size above zero")
    if spec.level_base is not None:
        check_level(spec.level_base)
    net = subdivide(make_seed(spec.seed), spec.division)
    top = top_of(net.seed, spec.pose)
    part, course, notes = _cut(spec, net, spread_points(net, "flat") @ top)
    points, how, level_notes = _levelled(spec, net, part, top)
    unit = _shell(replace(spec, level_base=how), points, part, course)
    return _sized(spec, unit, (*notes, *level_notes))


def _cut(spec: DomeSpec, net: Net, height: Floats) -> tuple[Faces, Indices, tuple[Note, ...]]:
    """Return the faces kept, the course of each of the V hubs from the base, and notes."""
    steps = courses_from_top(net.faces, height)
    is_regular = division_class(*net.division) == "I" and spec.pose == "vertex"
    if not is_regular and not isinstance(spec.truncation, int):
        share = share_of(spec.truncation)
        part = keep_height(net.faces, height, share) if 0 < share < 1 else None
        if part is not None:
            ring = topology.boundary_rings(part)[0]
            below, spread = float(1 - height[ring].mean()) / 2, float(np.ptp(height[ring]))
            course = courses_from_base(part, len(height))
            return part, course, (note("shape-cut-by-height", share=below, spread=spread),)
    kept, notes = courses_kept(spec.truncation, int(steps.max()))
    return keep_courses(net.faces, steps, kept), kept - steps, notes


def cut_ratios(spec: DomeSpec) -> tuple[tuple[int, float], ...]:
    """Return (courses kept, rise over width) of every cut of the sphere of `spec`.

    Heights are those of the mean of the base ring, before it is levelled.
    """
    net = subdivide(make_seed(spec.seed), spec.division)
    points = spread_points(net, spec.point_law)
    heights = points @ top_of(net.seed, spec.pose)
    steps = courses_from_top(net.faces, spread_points(net, "flat") @ top_of(net.seed, spec.pose))
    ends = topology.struts_of(net.faces)
    step = steps[ends]
    crossing = step[:, 0] != step[:, 1]
    upper = np.unique(np.where(step[:, 0] < step[:, 1], ends[:, 0], ends[:, 1])[crossing])
    ratios = []
    for kept in range(1, int(steps.max())):
        level = float(heights[upper[steps[upper] == kept]].mean())
        ratios.append((kept, (float(heights.max()) - level) / (2 * np.sqrt(1 - level**2))))
    return tuple(ratios)


def _levelled(
    spec: DomeSpec, net: Net, part: Faces, top: Floats
) -> tuple[HubPoints, str, tuple[Note, ...]]:
    """Return the (V, 3) points on the unit sphere, upright; how they were levelled; notes."""
    points = spread_points(net, spec.point_law)
    ring = topology.boundary_rings(part)[0]
    spread = float(np.ptp(points[ring] @ top))
    wish = spec.level_base
    if spread < LEVEL_SPREAD or wish == "none":
        return _set_up(net, points, part, top), wish or "whole", ()
    notes: tuple[Note, ...] = ()
    if wish in {"whole", None}:
        try:
            moved = level_whole(net, points, ring, top)
        except ResultError as error:
            if wish == "whole":
                raise _with_nearest(spec, net, points, (ring, top), error) from None
            notes = (note("level-base-ring", why=error.what),)
        else:
            far = float(np.linalg.norm(moved - points, axis=1).max())
            notes = (note("level-base-whole", spread=spread, far=far),)
            return _set_up(net, moved, part, top), "whole", notes
    flat = level_ring(_set_up(net, points, part, top), ring)
    if (np.linalg.det(flat[part]) > 0).all():
        return flat, "ring", notes
    uneven = note("level-base-none", spread=spread)
    if wish == "ring":
        mend = 'keep another number of courses, or set level_base = "none"'
        raise InputError("level-base-impossible", uneven.text, "shape.level_base", mend)
    return _set_up(net, points, part, top), "none", (uneven,)


def _with_nearest(
    spec: DomeSpec,
    net: Net,
    points: HubPoints,
    base: tuple[Indices, Floats],
    error: ResultError,
) -> InputError:
    """Return the refusal of `error` with the nearest cuts that can be levelled.

    base : the (B,) hubs of the ring and the (3,) upright axis
    """
    ring, top = base
    is_regular = division_class(*net.division) == "I" and spec.pose == "vertex"
    level = float((points[ring] @ top).mean())
    cuts = nearest_whole(net, points, top, level, by_courses=is_regular)
    said = " or ".join(f"truncation = {cut}" for cut in cuts)
    mend = f"the nearest that can is {said}" if cuts else "none of the cuts next to it can"
    what = f"{error.what}, where the base ring lies {level + 0.0:+.2f} R from the middle"
    mend = f'{mend}; or set level_base = "ring": the base hubs alone move'
    return InputError(error.code, what, "shape.level_base", mend)


def _set_up(net: Net, points: HubPoints, part: Faces, top: Floats) -> HubPoints:
    """Return `points` turned so that `top` is +z and the first base hub lies over +x.

    The first base hub is one on a mirror plane of the seed where there is one, so that the dome
    is its own mirror image in the xz plane.
    """
    ring = topology.boundary_rings(part)[0]
    mirrors = seed_mirrors(net.seed, top, points[ring])
    if division_class(*net.division) == "III":
        mirrors[:] = False
    first = points[ring[np.argmax(mirrors)]]
    across = first - (first @ top) * top
    forward = across / np.linalg.norm(across)
    frame = np.stack([forward, np.cross(top, forward), top])
    return np.asarray(points @ frame.T)


def _shell(spec: DomeSpec, points: HubPoints, part: Faces, rows: Indices) -> Shell:
    """Return the dome of radius 1: hubs numbered, lowest base hub at z = 0."""
    used = np.unique(part)
    base = np.isin(used, topology.boundary_rings(part)[0])
    # a seed corner low on the sphere may be as far from the top as the ring above which it lies
    hubs, course = points[used], np.where(base, 0, np.maximum(rows[used], 1))
    lowest, spread = float(hubs[base, 2].min()), float(np.ptp(hubs[base, 2]))
    hubs[:, 2] -= lowest
    hubs[np.abs(hubs) < ROUNDING] = 0.0
    level = spread < LEVEL_SPREAD
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
        "sphere_centre": [0.0, 0.0, -lowest],
    }
    return Shell(
        hubs=hubs[order],
        struts=struts,
        role=np.full(len(struts), "shell"),
        faces=faces,
        course=course[order],
        base=topology.boundary_rings(faces)[0],
        groups={},
        recipe=Recipe(
            "dome",
            settings,
            1.0,
            "level" if level else "uneven",
            notes=() if level else (note("base-uneven.share", spread=spread),),
        ),
    )


def _sized(spec: DomeSpec, unit: Shell, notes: tuple[Note, ...]) -> Shell:
    """Return the dome of radius 1 at the size wanted, with `notes` on how it came about."""
    if spec.radius is not None:
        return _scaled(unit, spec.radius, spec.radius, notes)
    wish = spec.sizes or Sizes()
    found = measure_sizes(unit, headroom=wish.headroom is not None)
    cuts = cut_ratios(spec) if wish.width and wish.rise and not spec.scale_rise else ()
    plan, tall, moved = scale_for(wish, found, scale_rise=spec.scale_rise, cuts=cuts)
    shell = _scaled(unit, plan, tall, (*notes, *moved))
    if plan != tall:
        check_sizes(wish, measure_sizes(shell, headroom=wish.headroom is not None))
    return shell


def _scaled(unit: Shell, plan: float, tall: float, notes: tuple[Note, ...]) -> Shell:
    settings = dict(unit.recipe.settings)
    centre = settings.pop("sphere_centre")
    if plan == tall:
        settings["sphere_centre"] = [plan * value for value in centre]
    settings["rise_scale"] = tall / plan
    told = unit.recipe.notes + notes
    recipe = replace(unit.recipe, settings=settings, radius=plan, notes=told)
    return replace(unit, hubs=unit.hubs * (plan, plan, tall), recipe=recipe)
