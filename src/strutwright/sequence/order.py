"""In which order the hubs of a course go up, each with the struts that hold it."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import numpy as np

from strutwright.sequence.propping import held_directions
from strutwright.shape import Shell
from strutwright.values import Indices

__all__ = ["Net", "Placement", "course_order", "few_types", "net_of", "struts_between", "with_feet"]

LATER: Final = ("brace",)
"""Roles of struts that go in when the course is closed."""


@dataclass(frozen=True)
class Placement:
    """A hub, or -1 for struts alone, with the struts that go up with it and what is left loose."""

    hub: int
    struts: tuple[int, ...]
    loose: int = 0


@dataclass(frozen=True)
class Net:
    """Neighbours of every hub: (other hub, strut), without those struts that go in later."""

    shell: Shell
    neighbours: tuple[tuple[tuple[int, int], ...], ...]
    azimuth: tuple[float, ...]


def net_of(shell: Shell) -> Net:
    """Return the neighbours of every hub."""
    near: list[list[tuple[int, int]]] = [[] for _ in shell.hubs]
    for strut, (i, j) in enumerate(shell.struts.tolist()):
        if shell.role[strut] not in LATER:
            near[i].append((j, strut))
            near[j].append((i, strut))
    azimuth = np.arctan2(shell.hubs[:, 1], shell.hubs[:, 0])
    return Net(shell, tuple(tuple(row) for row in near), tuple(azimuth.tolist()))


def struts_between(net: Net, hub: int, placed: Iterable[int]) -> tuple[int, ...]:
    """Return the struts from `hub` to hubs that are `placed`, lower ends first."""
    there = set(placed)
    rows = [(other, strut) for other, strut in net.neighbours[hub] if other in there]
    return tuple(strut for _, strut in sorted(rows))


def course_order(
    net: Net, hubs: Indices, placed: Iterable[int], *, start: int, turn: int, on_ground: bool
) -> list[Placement]:
    """Return the hubs of a course in the order of placing.

    The best held hub comes next; of those the nearest round the shell, from hub `start` on,
    anticlockwise for `turn` +1 and clockwise for -1: short ways for the ladder.

    Parameters
    ----------
    hubs : (n,) int array
        Hubs to place.
    placed : iterable of int
        Hubs that stand already.
    on_ground : bool
        The hubs rest on the ground: nothing needs to hold them.
    """
    there, left = set(placed), [start, *(int(h) for h in hubs if h != start)]
    known: dict[int, int] = {hub: _loose(net, hub, there, on_ground=on_ground) for hub in left}
    out: list[Placement] = []
    at = net.azimuth[start]
    while left:
        hub = start if not out else min(left, key=lambda h: (known[h], _way(net, h, at, turn), h))
        out.append(Placement(hub, struts_between(net, hub, there), known[hub]))
        left.remove(hub)
        there.add(hub)
        at = net.azimuth[hub]
        for other, _ in net.neighbours[hub]:
            if other in known and other not in there:
                known[other] = _loose(net, other, there, on_ground=on_ground)
    return out


def with_feet(net: Net, order: list[Placement], placed: Iterable[int]) -> list[Placement]:
    """Return `order` with the foot of each leg placed just before the hub on it."""
    shell = net.shell
    there = set(placed)
    out: list[Placement] = []
    for one in order:
        feet = sorted(o for o, _ in net.neighbours[one.hub] if shell.course[o] < 0)
        for foot in feet:
            if foot not in there and shell.role[_strut(net, one.hub, foot)] == "leg":
                out.append(Placement(foot, struts_between(net, foot, there)))
                there.add(foot)
        struts = struts_between(net, one.hub, there)
        ends = shell.struts[list(struts)]
        others = ends[ends != one.hub]
        held, _ = held_directions(shell.hubs[one.hub], shell.hubs[others])
        out.append(Placement(one.hub, struts, 3 - held))
        there.add(one.hub)
    return out


def few_types(
    net: Net, order: Iterable[Placement], placed: Iterable[int], type_of: Indices, most: int
) -> list[Placement]:
    """Return `order` with the struts of a hub split where they are of more than `most` types.

    The hub goes up with three unlike struts of as few types as may be, one of them to what is
    `placed` before the course where there is any, and with its leg; the rest follow.
    """
    shell = net.shell
    before = list(placed)
    out: list[Placement] = []
    for one in order:
        if len(set(type_of[list(one.struts)].tolist())) <= most:
            out.append(one)
            continue
        choices = []
        for three in combinations(one.struts, 3):
            ends = shell.struts[list(three)]
            held, _ = held_directions(shell.hubs[one.hub], shell.hubs[ends[ends != one.hub]])
            legs = set(three) >= {s for s in one.struts if shell.role[s] == "leg"}
            apart = not (legs and np.isin(ends, before).any())
            choices.append((apart, -held, len(set(type_of[list(three)].tolist())), three))
        _, held, _, three = min(choices)
        rest = tuple(strut for strut in one.struts if strut not in three)
        loose = one.loose if one.loose == 0 and held == -3 else 3 + held
        out += [Placement(one.hub, three, loose), Placement(-1, rest)]
    return out


def _strut(net: Net, hub: int, other: int) -> int:
    return next(strut for near, strut in net.neighbours[hub] if near == other)


def _loose(net: Net, hub: int, there: set[int], *, on_ground: bool) -> int:
    if on_ground:
        return 0
    others = [other for other, _ in net.neighbours[hub] if other in there]
    points = net.shell.hubs
    return 3 - held_directions(points[hub], points[others])[0]


def _way(net: Net, hub: int, at: float, turn: int) -> float:
    return round((turn * (net.azimuth[hub] - at)) % (2 * math.pi), 9)
