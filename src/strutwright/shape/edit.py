"""Put an edited net together again: struts from faces, roles, numbering, groups."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import numpy as np

from strutwright.shape import topology
from strutwright.shape.shell import Recipe, Shell
from strutwright.values import Faces, HubPoints, Indices

__all__ = ["Net", "assemble", "loosen"]

Pair = tuple[int, int]


@dataclass
class Net:
    """A shell taken apart for editing; hub numbers hold until `assemble` gives new ones.

    Parameters
    ----------
    hubs : (H, 3) array, m
    course : (H,) int array
    faces : (F, 3) int array
    base : list of int
        Base hubs, anticlockwise seen from above.
    roles : dict of (i, j) to str
        Role of each strut that is not a plain ``shell`` strut of a face, or bounds no face; i < j.
    hub_groups, strut_groups, face_groups : dict of str to lists
        Hubs by number, struts by (i, j), faces by sorted hubs; without their prefix.
    """

    hubs: HubPoints
    course: Indices
    faces: Faces
    base: list[int]
    roles: dict[Pair, str] = field(default_factory=dict)
    hub_groups: dict[str, list[int]] = field(default_factory=dict)
    strut_groups: dict[str, list[Pair]] = field(default_factory=dict)
    face_groups: dict[str, list[tuple[int, int, int]]] = field(default_factory=dict)

    def add_hubs(self, points: HubPoints, course: Indices) -> list[int]:
        """Add hubs at `points` (n, 3) of `course` (n,) and return their numbers."""
        first = len(self.hubs)
        self.hubs = np.vstack([self.hubs, points])
        self.course = np.concatenate([self.course, course])
        return list(range(first, len(self.hubs)))

    def set_role(self, i: int, j: int, role: str) -> None:
        """Give the strut between hubs `i` and `j` its role; made if no face brings it."""
        self.roles[pair(i, j)] = role


def pair(i: int, j: int) -> Pair:
    """Return the two hub numbers of a strut, the smaller first."""
    return (int(min(i, j)), int(max(i, j)))


def loosen(shell: Shell) -> Net:
    """Return `shell` taken apart."""
    bounding = set(map(tuple, topology.struts_of(shell.faces).tolist()))
    roles = {
        (i, j): str(role)
        for (i, j), role in zip(shell.struts.tolist(), shell.role, strict=True)
        if role != "shell" or (i, j) not in bounding
    }
    net = Net(
        shell.hubs.copy(), shell.course.copy(), shell.faces.copy(), shell.base.tolist(), roles
    )
    for name, members in shell.groups.items():
        kind, _, rest = name.partition(".")
        if kind == "hubs":
            net.hub_groups[rest] = members.tolist()
        elif kind == "struts":
            net.strut_groups[rest] = [tuple(row) for row in shell.struts[members].tolist()]
        elif kind == "faces":
            rows = np.sort(shell.faces[members], axis=1)
            net.face_groups[rest] = [tuple(row) for row in rows.tolist()]
    return net


def assemble(net: Net, recipe: Recipe) -> Shell:
    """Return the Shell of an edited `net`: unused hubs dropped, everything numbered anew."""
    edges = {tuple(row) for row in topology.struts_of(net.faces).tolist()}
    struts = sorted(edges | set(net.roles))
    used = np.unique(np.array(struts))
    order = used[topology.hub_order(net.hubs[used], net.course[used])]
    new = np.full(len(net.hubs), -1)
    new[order] = np.arange(len(order))
    rows = np.sort(new[np.array(struts)], axis=1)
    by_row = np.lexsort((rows[:, 1], rows[:, 0]))
    rows = rows[by_row]
    role = np.array([net.roles.get(struts[k], "shell") for k in by_row.tolist()])
    faces = _in_order(new[net.faces])
    base = [hub for hub in net.base if new[hub] >= 0]
    return Shell(
        hubs=net.hubs[order],
        struts=rows,
        role=role,
        faces=faces,
        course=net.course[order],
        base=_from_first(new[np.array(base)]),
        groups=_groups(net, new, rows, faces),
        recipe=recipe,
    )


def _in_order(faces: Faces) -> Faces:
    """Return faces turned to start at their smallest hub, in ascending order."""
    turn = np.argmin(faces, axis=1)
    turned = np.take_along_axis(faces, (turn[:, None] + np.arange(3)) % 3, axis=1)
    return turned[np.lexsort(turned.T[::-1])]


def _from_first(base: Indices) -> Indices:
    return np.roll(base, -int(np.argmin(base)))


def _groups(net: Net, new: Indices, rows: Indices, faces: Faces) -> Mapping[str, Indices]:
    at_strut = {tuple(row): k for k, row in enumerate(rows.tolist())}
    at_face = {tuple(sorted(row)): k for k, row in enumerate(faces.tolist())}

    def found(table: dict[tuple[int, ...], int], members: Iterable[tuple[int, ...]]) -> Indices:
        keys = (tuple(sorted(int(new[hub]) for hub in member)) for member in members)
        return np.array(sorted(table[key] for key in keys if key in table), dtype=np.int64)

    groups = {
        f"hubs.{name}": np.array(sorted(new[h] for h in members if new[h] >= 0), dtype=np.int64)
        for name, members in net.hub_groups.items()
    }
    groups |= {f"struts.{name}": found(at_strut, m) for name, m in net.strut_groups.items()}
    groups |= {f"faces.{name}": found(at_face, m) for name, m in net.face_groups.items()}
    return groups
