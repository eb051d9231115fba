"""Barrel vaults: straight strut rows along the length over an arch, walls under it, closed ends.

Hub rows run along the length; every second one is set half a bay off, and has a hub of its own at
each end, so that both end ribs lie in a plane. The lamella grid has steeper rhombi, each closed by
a purlin along the length: a rhombus of four struts alone is a mechanism and carries no cover.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.sentences import note
from strutwright.shape import topology
from strutwright.shape.archline import ArchLine, arch_line
from strutwright.shape.edit import Net, assemble
from strutwright.shape.gable import Gable, add_gables
from strutwright.shape.shell import Recipe, Shell
from strutwright.values import Floats, Note

__all__ = ["MOST_GAPS", "VaultSpec", "vault", "vault_length_range"]

MOST_GAPS: Final = 80
BAY: Final = {"three-way": 2 / np.sqrt(3), "lamella": 0.83}
"""Bay over row chord: equilateral triangles; rhombi whose acute angle is 45 degrees."""
SHORTEST_BAY: Final = 0.65
LONGEST_BAY: Final = 1.5
"""Shares of that bay which are allowed: our choice, as for long domes."""
LEAST_WALL: Final = 0.2
"""Least height of a side wall as a share of the arch's step: our choice."""
PROFILES: Final = ("circle", "parabola", "pointed")


@dataclass(frozen=True)
class VaultSpec:
    """What a vault is made from; lengths in m.

    Parameters
    ----------
    width : float
        Hub to hub across the base.
    length : float or None
        Hub to hub along the base. None: from the bays.
    rise : float or None
        Of the crown above the base, walls included. None: that of the half circle above the
        walls (of a pointed arch 0.6 of the width).
    bays : int or None
        Steps along the length. None: from the length.
    gaps : int or None
        Row gaps over the arch, an even number from 4. None: from `longest_strut`, else 8.
    longest_strut : float or None
    profile : str
        ``circle``, ``parabola`` or ``pointed``.
    grid : str
        ``three-way`` or ``lamella``.
    side_walls : float
        Height of the straight walls under the arch.
    ends : str
        ``wall``: posts and rails that leave a door; ``open``: a stiff rib.
    door : (float, float)
        Least clear width and height of the door in an end wall, hub to hub.
    """

    width: float = 4.0
    length: float | None = None
    rise: float | None = None
    bays: int | None = None
    gaps: int | None = None
    longest_strut: float | None = None
    profile: str = "circle"
    grid: str = "three-way"
    side_walls: float = 0.0
    ends: str = "wall"
    door: tuple[float, float] = (0.9, 1.9)


@dataclass(frozen=True)
class _Plan:
    arch: ArchLine
    gaps: int
    bays: int
    length: float
    wall_rows: int


def vault(spec: VaultSpec) -> Shell:
    """Return the vault that `spec` describes.

    With g gaps over the arch, w gaps of wall on either side and n bays the barrel has
    (g/2 + 1)(n + 1) + (g/2)(n + 2) hubs in the arch and (g + 2 w)(2 n + 1) faces.

    Raises
    ------
    InputError
        ``shape-profile``, ``shape-grid``, ``shape-ends``, ``shape-gaps``, ``shape-bays``,
        ``size-*``.
    """
    plan = _planned(spec)
    parts = _barrel(spec, plan)
    notes: tuple[Note, ...] = ()
    section = _section(spec, plan)
    if spec.ends == "wall":
        notes = add_gables(
            parts, Gable(section, plan.length, plan.arch.chord(plan.gaps), spec.door)
        )
    else:
        _name_end_ribs(parts, plan, len(section))
        notes = (note("vault-end-rib"),)
    settings = {
        "width": spec.width,
        "length": plan.length,
        "rise": plan.arch.rise + spec.side_walls,
        "bays": plan.bays,
        "bay_length": plan.length / plan.bays,
        "gaps": plan.gaps,
        "profile": spec.profile,
        "grid": spec.grid,
        "side_walls": spec.side_walls,
        "ends": spec.ends,
        "door": list(spec.door),
    }
    return assemble(parts, Recipe("vault", settings, plan.arch.radius, "level", notes=notes))


def vault_length_range(spec: VaultSpec, bays: int) -> tuple[float, float]:
    """Return the least and the largest length, m, that `bays` bays can give."""
    arch = _arch(spec)
    bay = _even_bay(spec, arch, _gaps(spec, arch))
    return SHORTEST_BAY * bays * bay, LONGEST_BAY * bays * bay


def _arch(spec: VaultSpec) -> ArchLine:
    for key, value, known in (
        ("profile", spec.profile, PROFILES),
        ("grid", spec.grid, tuple(BAY)),
        ("ends", spec.ends, ("wall", "open")),
    ):
        if value not in known:
            what = f'{key} "{value}" of a vault is not one of {", ".join(known)}'
            raise InputError(f"shape-{key}", what, f"shape.{key}", "take one of these")
    if not (np.isfinite(spec.side_walls) and 0 <= spec.side_walls <= spec.width):
        what = f"side walls of {spec.side_walls} m are outside 0 to the width {spec.width:.4g} m"
        raise InputError("size-side-walls", what, "shape.side_walls", "give a height in that range")
    rise = None if spec.rise is None else spec.rise - spec.side_walls
    arch = arch_line(spec.profile, spec.width, rise)
    if spec.ends == "wall" and spec.profile == "circle" and arch.rise > spec.width / 2 * (1 + 1e-9):
        what = (
            f"an arch of rise {arch.rise:.4g} m over {spec.width:.4g} m leans out over its base: "
            f"end walls can be built up to {spec.width / 2:.4g} m"
        )
        raise InputError("shape-ends", what, "shape.ends", "lower the rise, or take open ends")
    return arch


def _even_bay(spec: VaultSpec, arch: ArchLine, gaps: int) -> float:
    return float(arch.chord(gaps) * BAY[spec.grid])


def _gaps(spec: VaultSpec, arch: ArchLine) -> int:
    """Return the row gaps over the arch."""
    if spec.gaps is not None:
        if spec.gaps % 2 or not 4 <= spec.gaps <= MOST_GAPS:
            what = f"{spec.gaps} gaps over the arch are not an even number from 4 to {MOST_GAPS}"
            raise InputError("shape-gaps", what, "shape.division", "take an even number")
        return spec.gaps
    if spec.longest_strut is None:
        return 8
    for gaps in range(4, MOST_GAPS + 1, 2):
        chord, bay = arch.chord(gaps), _even_bay(spec, arch, gaps)
        if max(chord, bay, float(np.hypot(chord, bay / 2))) <= spec.longest_strut:
            return gaps
    what = (
        f"struts of at most {spec.longest_strut:.4g} m need more than {MOST_GAPS} gaps over an "
        f"arch of {2 * arch.half_length:.4g} m"
    )
    raise InputError("shape-gaps", what, "size.longest_strut", "allow longer struts")


def _planned(spec: VaultSpec) -> _Plan:
    arch = _arch(spec)
    gaps = _gaps(spec, arch)
    bay = _even_bay(spec, arch, gaps)
    length, bays = spec.length, spec.bays
    if bays is not None and not 1 <= bays <= 200:
        what = f"{bays} bays are outside 1 to 200"
        raise InputError("shape-bays", what, "shape.bays", "take a number in that range")
    if length is None:
        bays = 4 if bays is None else bays
        length = bays * bay
    if not (np.isfinite(length) and length > 0):
        what = f"length {length} m is not a positive length"
        raise InputError("size-length", what, "size.length", "give a length above zero")
    nearest = max(1, round(length / bay))
    bays = nearest if bays is None else bays
    low, high = vault_length_range(spec, bays)
    if not low * (1 - 1e-9) <= length <= high * (1 + 1e-9):
        what = f"length {length:.4g} m: {bays} bays give {low:.4g} m to {high:.4g} m"
        mend = f"take {nearest} bays, or a length in that range"
        raise InputError("size-length", what, "size.length", mend)
    least = LEAST_WALL * arch.chord(gaps)
    if 0 < spec.side_walls < least:
        what = (
            f"side walls of {spec.side_walls:.4g} m are lower than {least:.4g} m, a fifth of a step"
        )
        raise InputError(
            "size-side-walls", what, "shape.side_walls", "raise them or leave them out"
        )
    walls = max(1, round(spec.side_walls / arch.chord(gaps))) if spec.side_walls > 0 else 0
    return _Plan(arch, gaps, bays, length, walls)


def _section(spec: VaultSpec, plan: _Plan) -> Floats:
    """Return (y, z) of each hub row from the base at +y over the crown to the base at -y, m."""
    share = np.linspace(-1, 1, plan.gaps + 1)
    share[plan.gaps // 2] = 0.0
    out, height = plan.arch.at(np.abs(share))
    arch = np.stack([-np.sign(share) * out, height + spec.side_walls], axis=1)
    wall = np.stack(
        [
            np.full(plan.wall_rows, spec.width / 2),
            np.arange(plan.wall_rows) * spec.side_walls / max(plan.wall_rows, 1),
        ],
        axis=1,
    )
    return np.concatenate([wall, arch, wall[::-1] * [-1, 1]])


def _barrel(spec: VaultSpec, plan: _Plan) -> Net:
    """Return hubs, faces, base and groups of the barrel with its side walls."""
    section = _section(spec, plan)
    half, step = plan.length / 2, plan.length / plan.bays
    regular = -half + step * np.arange(plan.bays + 1)
    shifted = np.concatenate([[-half], regular[:-1] + step / 2, [half]])
    rows: list[list[int]] = []
    points: list[tuple[float, float, float]] = []
    for row, (y, z) in enumerate(section):
        places = regular if (row - plan.wall_rows) % 2 == 0 else shifted
        places = (places - places[::-1]) / 2  # its own mirror image to the last bit
        rows.append(list(range(len(points), len(points) + len(places))))
        points += [(x, y, z) for x in places]
    faces = []
    for upper, lower in zip(rows[1:], rows[:-1], strict=True):
        faces += _sewn(np.array(points), lower, upper)
    last = len(section) - 1
    course = np.concatenate([[min(r, last - r)] * len(row) for r, row in enumerate(rows)])
    parts = Net(
        np.array(points, dtype=float),
        course.astype(np.int64),
        np.array(faces, dtype=np.int64),
        rows[-1] + rows[0][::-1],
    )
    _name_groups(parts, spec, plan, rows)
    return parts


def _sewn(points: Floats, lower: list[int], upper: list[int]) -> list[tuple[int, int, int]]:
    """Return the faces between two rows, by ascending x; one row has a hub more than the other."""
    faces = []
    i = j = 0
    while i < len(lower) - 1 or j < len(upper) - 1:
        ahead = [
            (points[a[k], 0] + points[a[k + 1], 0]) / 2 if k < len(a) - 1 else np.inf
            for a, k in ((lower, i), (upper, j))
        ]
        if ahead[0] < ahead[1]:
            faces.append((lower[i], lower[i + 1], upper[j]))
            i += 1
        else:
            faces.append((lower[i], upper[j + 1], upper[j]))
            j += 1
    # rows run from +y over the crown to -y: seen from outside x and that way turn clockwise
    return [(a, c, b) for a, b, c in faces]


def _name_groups(parts: Net, spec: VaultSpec, plan: _Plan, rows: list[list[int]]) -> None:
    walls, groups = plan.wall_rows, parts.hub_groups
    arch = rows[walls : len(rows) - walls]
    groups["barrel"] = [hub for row in arch for hub in row]
    groups["crown"] = list(arch[plan.gaps // 2])
    level = np.round(2 * plan.bays * (parts.hubs[:, 0] / plan.length + 0.5)).astype(int)
    members = np.array(groups["barrel"])
    for rib in range(1, 2 * plan.bays):  # the end ribs have struts of their own and need no brace
        groups[f"rib.{rib - 1}"] = members[level[members] == rib].tolist()
    along = [(a, b) for row in rows[1:-1] for a, b in pairwise(row)]
    parts.strut_groups["purlin" if spec.grid == "lamella" else "along"] = along
    if walls:
        low = {hub for row in (*rows[: walls + 1], *rows[len(rows) - walls - 1 :]) for hub in row}
        struts = topology.struts_of(parts.faces).tolist()
        parts.strut_groups["side_wall"] = [(i, j) for i, j in struts if i in low and j in low]


def _name_end_ribs(parts: Net, plan: _Plan, n_rows: int) -> None:
    ends = np.abs(np.abs(parts.hubs[:, 0]) - plan.length / 2) < 1e-9 * plan.length
    struts = topology.struts_of(parts.faces)
    sides = np.sign(parts.hubs[:, 0])
    rib = ends[struts].all(axis=1) & (sides[struts[:, 0]] == sides[struts[:, 1]])
    parts.strut_groups["end_rib"] = [(i, j) for i, j in struts[rib].tolist()]
    if len(parts.strut_groups["end_rib"]) != 2 * (n_rows - 1):
        msg = "an end rib of the vault is not a chain of its hubs"
        raise RuntimeError(msg)
