"""What may be wrong with a built shell, each with what it would do."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import combinations
from typing import Final

import numpy as np

from strutwright.parts import Kit
from strutwright.shape.measure import node_lengths
from strutwright.survey.observe import Measure
from strutwright.values import Floats, Indices

__all__ = [
    "LEAST_GAP",
    "PRIOR",
    "Hypothesis",
    "bases_off",
    "far_swaps",
    "misreadings",
    "neighbour_swaps",
    "real_struts",
    "strut_errors",
    "turned_hubs",
    "wrong_types",
]

LEAST_GAP: Final = 0.004
"""Struts that differ by less are not unlike, m: twice the standard deviation of a strut. Ours."""
PRIOR: Final = {
    "nothing-wrong": 0.50,
    "swapped": 0.25,
    "wrong-type": 0.05,
    "turned-hub": 0.03,
    "off-peg": 0.05,
    "base-spread": 0.03,
    "bent": 0.03,
    "brace-missing": 0.02,
    "misread": 0.04,
}
"""How likely each kind is before any reading, shared evenly among its cases. Our choice: a shell
is surveyed because something looks wrong, and swapped struts are the commonest cause."""
OFF_PEG: Final = 0.05
BASE_SPREAD: Final = 0.05
BENT: Final = 0.04
MISREAD: Final = 0.10
"""m. How large each is when it happens, as a standard deviation. Our choice."""


@dataclass(frozen=True, eq=False)
class Hypothesis:
    """One thing that may be wrong.

    Parameters
    ----------
    kind : str
        A key of `PRIOR`.
    struts, hubs : tuple of int
    changed : tuple of (int, float)
        Struts whose length is another, and what it is then, m between hub centres.
    free : tuple of (int, float)
        Struts whose length is not known, and the standard deviation of its error, m.
    side : int
        -1 when that error can only shorten; 0 when either way.
    pushes : tuple of (3H,) arrays
        Patterns of base movement whose size is not known; largest entry 1.
    reach : float, m
        Standard deviation of that size.
    misread : int or None
        Index of the measure that is misread.
    gap : float, m
        Difference of the lengths that were mistaken for each other.
    """

    kind: str
    struts: tuple[int, ...] = ()
    hubs: tuple[int, ...] = ()
    changed: tuple[tuple[int, float], ...] = ()
    free: tuple[tuple[int, float], ...] = ()
    side: int = 0
    pushes: tuple[Floats, ...] = field(default=())
    reach: float = 0.0
    misread: int | None = None
    gap: float = 0.0


def _cuts(kit: Kit) -> tuple[Floats, Floats]:
    ends = kit.allowances.sum(axis=1)
    return node_lengths(kit.shell) - ends, ends


def real_struts(kit: Kit) -> Indices:
    """Return the struts that a survey can tell of: not legs, not ties."""
    above = kit.shell.course[kit.shell.struts].min(axis=1) >= 0
    return np.flatnonzero(above & (kit.shell.role != "tie"))


def neighbour_swaps(kit: Kit) -> Iterator[Hypothesis]:
    """Yield every pair of unlike struts that share a hub, each in the other's place."""
    cuts, ends = _cuts(kit)
    seen: set[tuple[int, int]] = set()
    real = set(real_struts(kit).tolist())
    for hub in range(len(kit.shell.hubs)):
        around = sorted(int(s) for s in kit.sockets(hub) if int(s) in real)
        for place, first in enumerate(around):
            for second in around[place + 1 :]:
                gap = abs(float(cuts[first] - cuts[second]))
                if gap < LEAST_GAP or (first, second) in seen:
                    continue
                seen.add((first, second))
                changed = (
                    (first, float(cuts[second] + ends[first])),
                    (second, float(cuts[first] + ends[second])),
                )
                yield Hypothesis("swapped", (first, second), (), changed, gap=gap)


def far_swaps(kit: Kit, struts: Indices) -> Iterator[Hypothesis]:
    """Yield every pair of unlike struts among `struts` that share no hub, swapped."""
    cuts, ends = _cuts(kit)
    for first, second in combinations(sorted(map(int, struts)), 2):
        gap = abs(float(cuts[first] - cuts[second]))
        apart = not set(kit.shell.struts[first]) & set(kit.shell.struts[second])
        if apart and gap >= LEAST_GAP:
            changed = (
                (first, float(cuts[second] + ends[first])),
                (second, float(cuts[first] + ends[second])),
            )
            yield Hypothesis("swapped", (first, second), (), changed, gap=gap)


def turned_hubs(kit: Kit) -> Iterator[Hypothesis]:
    """Yield every hub put on turned by one spoke either way, each strut in the next socket."""
    cuts, ends = _cuts(kit)
    real = set(real_struts(kit).tolist())
    for hub in range(len(kit.shell.hubs)):
        around = [int(s) for s in kit.sockets(hub)]
        if len(around) < 4 or not set(around) <= real:
            continue
        for turn in (1, -1):
            moved = around[turn:] + around[:turn]
            changed = tuple(
                (here, float(cuts[comes] + ends[here]))
                for here, comes in zip(around, moved, strict=True)
                if abs(cuts[comes] - cuts[here]) >= LEAST_GAP
            )
            if len(changed) > 2:  # two are a swap
                struts = tuple(s for s, _ in changed)
                gap = max(abs(float(made - cuts[s] - ends[s])) for s, made in changed)
                yield Hypothesis("turned-hub", struts, (hub,), changed, gap=gap)


def wrong_types(kit: Kit, struts: Indices) -> Iterator[Hypothesis]:
    """Yield each of `struts` made as another type of its role, up to a quarter longer or shorter.

    What a person would see at once is left out.
    """
    cuts, ends = _cuts(kit)
    known = sorted({(kind.role, kind.label, kind.cut_length) for kind in kit.strut_types})
    for strut in map(int, struts):
        role = kit.shell.role[strut]
        for other, _, cut in known:
            gap = abs(float(cut - cuts[strut]))
            if other == role and LEAST_GAP <= gap <= 0.25 * cuts[strut]:
                changed = ((strut, float(cut + ends[strut])),)
                yield Hypothesis("wrong-type", (strut,), (), changed, gap=gap)


def strut_errors(kit: Kit) -> Iterator[Hypothesis]:
    """Yield each strut bent, so that it is shorter, and each inner brace left out."""
    for strut in map(int, real_struts(kit)):
        if kit.shell.role[strut] == "brace":
            yield Hypothesis("brace-missing", (strut,), free=((strut, BENT),))
        yield Hypothesis("bent", (strut,), free=((strut, BENT),), side=-1)


def bases_off(kit: Kit) -> Iterator[Hypothesis]:
    """Yield each base hub off its peg, and the base ring spread or drawn oval."""
    shell = kit.shell
    n = 3 * len(shell.hubs)
    for hub in map(int, shell.base):
        yield Hypothesis(
            "off-peg", (), (hub,), pushes=tuple(_unit(n, 3 * hub + axis) for axis in range(3)),
            reach=OFF_PEG,
        )  # fmt: skip
    at = shell.hubs[shell.base, :2]
    length, width = np.ptp(at, axis=0)
    hubs = tuple(int(hub) for hub in shell.base)
    if length > 1.2 * width:
        shares = np.cos(np.pi * np.clip(at[:, 0] / length, -0.5, 0.5))
        out = np.column_stack([np.zeros(len(at)), shares * np.sign(at[:, 1])])
        patterns: tuple[Floats, ...] = (_spread_out(n, shell.base, out),)
    else:
        turn = np.arctan2(at[:, 1], at[:, 0])
        radial = at / np.linalg.norm(at, axis=1)[:, None]
        patterns = tuple(
            _spread_out(n, shell.base, radial * wave[:, None])
            for wave in (np.cos(2 * turn), np.sin(2 * turn))
        )
    yield Hypothesis("base-spread", (), hubs, pushes=patterns, reach=BASE_SPREAD)


def misreadings(measures: tuple[Measure, ...]) -> Iterator[Hypothesis]:
    """Yield each reading misread."""
    for index, measure in enumerate(measures):
        yield Hypothesis("misread", (), measure.hubs, misread=index)


def _unit(n: int, place: int) -> Floats:
    one = np.zeros(n)
    one[place] = 1.0
    return one


def _spread_out(n: int, base: Indices, out: Floats) -> Floats:
    pattern = np.zeros(n)
    pattern[3 * base], pattern[3 * base + 1] = out.T
    return pattern
