"""A shell from the lines of an old kit: hubs where ends meet, faces where three struts close."""

from __future__ import annotations

from typing import Final

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import breadth_first_order, connected_components
from scipy.spatial import cKDTree

from strutwright.errors import InputError
from strutwright.sentences import note
from strutwright.shape import topology
from strutwright.shape.edit import Net, assemble
from strutwright.shape.import_base import base_of
from strutwright.shape.shell import Recipe, Shell
from strutwright.shape.surface import ROUND
from strutwright.values import Faces, Floats, HubPoints, Indices, Note, StrutEnds

__all__ = ["shell_from_lines"]

WIDEST_ANGLE: Final = np.deg2rad(150)
"""Three struts with a wider angle are a row of two with an inner brace across it, no face."""
LONG: Final = 1.1
"""A plan longer than wide by more than this has a length that is laid along x."""
STRAIGHT: Final = np.deg2rad(0.1)
SHORTEST: Final = 0.15
LONGEST: Final = 12.0
"""m; the usual strut of a kit lies between these: our choice, beyond them the unit is wrong."""
UNITS: Final = {"mm": 0.001, "cm": 0.01, "in": 0.0254, "ft": 0.3048, "m": 1.0}
UNIT_MEND: Final = "correct unit under [shape], or write the unit behind each value"
MOST_ALONE: Final = 0.25
"""When more than this share of the hubs have one strut, ends do not meet: our choice."""
MEND: Final = "draw every strut as one line from hub centre to hub centre"


def shell_from_lines(lines: Floats, tolerance: float = 0.005) -> Shell:
    """Return the shell whose struts are `lines`.

    Ends within `tolerance` of each other are one hub, at their mean. Faces are the closed
    triples of struts; a strut that bounds none is an inner brace. The lowest free ring is the
    base; it is moved to z = 0 and made level when it is so within `tolerance`, and the plan is
    centred on it.

    Parameters
    ----------
    lines : (S, 2, 3) array, m
    tolerance : float, m

    Raises
    ------
    InputError
        ``import-empty``, ``import-size``, ``import-ends``, ``import-not-a-shell``: with what is
        wrong and where.
    """
    lines = np.asarray(lines, dtype=float)
    if lines.ndim != 3 or lines.shape[1:] != (2, 3) or not len(lines):
        raise InputError("import-empty", "no lines were found", "import", MEND)
    if not np.isfinite(lines).all():
        raise InputError("import-empty", "a coordinate is not a finite number", "import", MEND)
    _check_size(lines)
    hubs, struts, notes = _merge(lines, tolerance)
    _check_ends(hubs, struts, tolerance)
    faces = _wind(hubs, _faces(hubs, struts))
    rings = _rings(faces)
    ring = min(rings, key=lambda one: float(hubs[one, 2].mean()))
    bounding = {tuple(row) for row in topology.struts_of(faces).tolist()}
    free = {tuple(row) for row in struts.tolist()} - bounding
    foot = base_of(hubs, ring, free)
    base = np.array(foot.base)
    hubs, level, more = _settled(hubs, base, tolerance)
    hubs, turn = _along_x(hubs, base)
    notes += [*foot.notes, *more, *turn]
    course = _courses(struts, base, len(hubs))
    roles = {one: "tie" if one in foot.ties else "brace" for one in free}
    net = Net(hubs, course, faces, base.tolist(), roles)
    recipe = Recipe("imported", {"tolerance": tolerance}, base=level, notes=tuple(notes))
    try:
        return assemble(net, recipe)
    except ValueError as error:
        raise InputError("import-not-a-shell", str(error), "import", MEND) from error


def _merge(lines: Floats, tolerance: float) -> tuple[HubPoints, StrutEnds, list[Note]]:
    ends = lines.reshape(-1, 3)
    pairs = cKDTree(ends).query_pairs(tolerance, output_type="ndarray")
    n = len(ends)
    graph = coo_array((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(n, n))
    n_hubs, label = connected_components(graph, directed=False)
    counts = np.bincount(label, minlength=n_hubs)
    hubs = np.stack(
        [np.bincount(label, weights=ends[:, k], minlength=n_hubs) / counts for k in range(3)],
        axis=1,
    )
    rows = np.sort(label.reshape(-1, 2), axis=1).astype(np.int64)
    proper = rows[:, 0] != rows[:, 1]
    struts = np.unique(rows[proper], axis=0)
    notes = []
    if len(struts) < len(lines):
        notes.append(note("import-lines-dropped", n=len(lines) - len(struts)))
    if not len(struts):
        raise InputError("import-empty", "every line is shorter than the tolerance", "import", MEND)
    return hubs, struts, notes


def _check_size(lines: Floats) -> None:
    """Raise InputError ``import-size`` when the struts are no struts: the unit is wrong."""
    usual = float(np.median(np.linalg.norm(lines[:, 1] - lines[:, 0], axis=1)))
    if SHORTEST <= usual <= LONGEST:
        return
    likely = [
        f'"{unit}"' for unit, metres in UNITS.items()
        for other in UNITS.values()
        if unit and SHORTEST <= usual / other * metres <= LONGEST and other != metres
        and abs(np.log(usual / other * metres)) < 1
    ]  # fmt: skip
    said = f": unit = {' or '.join(dict.fromkeys(likely))} would give struts of a usual length"
    what = f"the usual strut would be {usual:.4g} m long"
    raise InputError("import-size", what + (said if likely else ""), "import", UNIT_MEND)


def _check_ends(hubs: HubPoints, struts: StrutEnds, tolerance: float) -> None:
    """Raise InputError ``import-ends`` when many struts end where no other does."""
    alone = np.flatnonzero(np.bincount(struts.ravel(), minlength=len(hubs)) < 2)
    if len(alone) <= MOST_ALONE * len(hubs):
        return
    near = np.asarray(cKDTree(hubs).query(hubs[alone], k=2)[0])[:, 1]
    wide = float(near.max())
    usual = float(np.median(np.linalg.norm(hubs[struts[:, 1]] - hubs[struts[:, 0]], axis=1)))
    what = (
        f"{len(alone)} strut ends meet no other within {tolerance * 1000:.3g} mm; the next end is "
        f"{np.median(near) * 1000:.3g} mm away as a rule"
    )
    mend = MEND
    if wide < usual / 4:
        mend = f'write join = "{np.ceil(1.5 * wide * 1000):.0f} mm" under [shape], or {MEND}'
    raise InputError("import-ends", what, "import", mend)


def _faces(hubs: HubPoints, struts: StrutEnds) -> Faces:
    around: list[set[int]] = [set() for _ in hubs]
    for i, j in struts.tolist():
        around[i].add(j)
        around[j].add(i)
    rows = [(i, j, k) for i, j in struts.tolist() for k in sorted(around[i] & around[j]) if k > j]
    faces = np.array(rows, dtype=np.int64).reshape(-1, 3)
    if not len(faces):
        raise InputError("import-not-a-shell", "no three struts close a face", "import", MEND)
    corners = hubs[faces]
    side = np.stack(
        [
            np.linalg.norm(corners[:, (k + 1) % 3] - corners[:, (k + 2) % 3], axis=1)
            for k in range(3)
        ],
        axis=1,
    )
    longest = np.sort(side, axis=1)
    cosine = (longest[:, 0] ** 2 + longest[:, 1] ** 2 - longest[:, 2] ** 2) / (
        2 * longest[:, 0] * longest[:, 1]
    )
    kept: Faces = faces[cosine > np.cos(WIDEST_ANGLE)]
    return kept


def _wind(hubs: HubPoints, faces: Faces) -> Faces:
    """Return `faces` wound alike and outwards."""
    at: dict[tuple[int, int], list[int]] = {}
    for number, face in enumerate(faces.tolist()):
        for k in range(3):
            edge = tuple(sorted((face[k], face[(k + 1) % 3])))
            at.setdefault((edge[0], edge[1]), []).append(number)
    for edge, members in at.items():
        if len(members) > 2:
            middle = hubs[list(edge)].mean(axis=0)
            raise InputError(
                "import-not-a-shell",
                f"{len(members)} faces meet in one strut",
                f"strut near ({middle[0]:.2f}, {middle[1]:.2f}, {middle[2]:.2f}) m",
                MEND,
            )
    links = np.array([m for m in at.values() if len(m) == 2]).reshape(-1, 2)
    n = len(faces)
    graph = coo_array((np.ones(len(links)), (links[:, 0], links[:, 1])), shape=(n, n)).tocsr()
    order, before = breadth_first_order(graph, 0, directed=False)
    if len(order) < n:
        raise InputError("import-not-a-shell", "the faces form more than one part", "import", MEND)
    wound = faces.copy()
    for number in order[1:].tolist():
        edges = {tuple(e) for e in _edges(wound[before[number]])}
        if edges & {tuple(e) for e in _edges(wound[number])}:
            wound[number] = wound[number][::-1]
    inside = hubs[np.unique(faces)].mean(axis=0)
    if topology.signed_volume(hubs, wound, inside) < 0:
        wound = wound[:, ::-1]
    return wound


def _edges(face: Indices) -> list[tuple[int, int]]:
    a, b, c = face.tolist()
    return [(a, b), (b, c), (c, a)]


def _rings(faces: Faces) -> list[Indices]:
    try:
        topology.check_manifold(faces)
        rings = topology.boundary_rings(faces)
    except ValueError as error:
        raise InputError("import-not-a-shell", str(error), "import", MEND) from error
    if not rings:
        raise InputError(
            "import-not-a-shell", "the shell is closed all round: it has no base", "import",
            "leave out the part below the ground",
        )  # fmt: skip
    return rings


def _settled(hubs: HubPoints, base: Indices, tolerance: float) -> tuple[HubPoints, str, list[Note]]:
    low, high = float(hubs[base, 2].min()), float(hubs[base, 2].max())
    middle = _centre(hubs[base, :2])
    moved = hubs - [middle[0], middle[1], low]
    if high - low <= tolerance:
        moved[base, 2] = 0.0
        return moved, "level", []
    return moved, "uneven", [note("base-uneven.read", spread=high - low)]


def _centre(plan: Floats) -> Floats:
    """Return the centre of the circle through the base hubs, or else the middle of their extent.

    The circle is that of least algebraic distance (Kåsa 1976, recalled).
    """
    rows = np.column_stack([2 * plan, np.ones(len(plan))])
    solution, *_ = np.linalg.lstsq(rows, (plan**2).sum(axis=1), rcond=None)
    reach = np.hypot(*(plan - solution[:2]).T)
    if np.ptp(reach) <= ROUND * reach.max():
        return np.asarray(solution[:2])
    return np.asarray((plan.min(axis=0) + plan.max(axis=0)) / 2)


def _along_x(hubs: HubPoints, base: Indices) -> tuple[HubPoints, list[Note]]:
    """Return `hubs` turned about the axis so that a long plan lies along x, with a note."""
    plan = hubs[base, :2] - hubs[base, :2].mean(axis=0)
    spread, axes = np.linalg.eigh(plan.T @ plan)
    if spread[1] <= LONG**2 * spread[0]:
        return hubs, []
    long = axes[:, 1] * (1 if axes[0, 1] >= 0 else -1)
    angle = float(np.arctan2(long[1], long[0]))
    if abs(angle) < STRAIGHT:
        return hubs, []
    turned = hubs.copy()
    turned[:, :2] = hubs[:, :2] @ np.array([[long[0], -long[1]], [long[1], long[0]]])
    middle = (turned[base, :2].min(axis=0) + turned[base, :2].max(axis=0)) / 2
    turned[:, :2] -= middle
    return turned, [note("import-turned", turn=-angle)]


def _courses(struts: StrutEnds, base: Indices, n_hubs: int) -> Indices:
    """Return the strut distance (H,) of each hub from the base ring."""
    course = np.full(n_hubs, -1)
    course[base] = 0
    step = 0
    while (course < 0).any():
        reached = np.isin(struts, np.flatnonzero(course == step))
        ahead = struts[reached.any(axis=1)]
        fresh = np.unique(ahead[course[ahead] < 0])
        if not fresh.size:
            raise InputError("import-not-a-shell", "some struts hang free", "import", MEND)
        step += 1
        course[fresh] = step
    return course
