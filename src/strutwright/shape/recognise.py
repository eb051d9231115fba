"""Which dome a bundle of old struts belongs to, from their lengths and numbers alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.shape.courses import courses_from_top, keep_courses
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.measure import node_lengths
from strutwright.shape.pointlaws import spread_points
from strutwright.shape.seeds import make_seed, top_of
from strutwright.shape.shell import Shell
from strutwright.shape.subdivide import subdivide
from strutwright.shape.topology import struts_of
from strutwright.values import Floats

__all__ = ["Match", "recognise"]

SEEDS: Final = ("icosahedron", "octahedron")
DIVISIONS: Final = (*((b, 0) for b in range(1, 9)), *((b, b) for b in range(1, 5)))
LAWS: Final = ("flat", "arc")
CLOSE: Final = 0.01
"""Lengths fit when none leaves the dome's by more than this share of the longest."""
LONGEST_ALLOWANCE: Final = 0.15
"""m; a joint takes up at most so much of a strut at each end: larger fits are chance."""


@dataclass(frozen=True)
class Match:
    """A dome whose struts have these lengths and numbers.

    Parameters
    ----------
    spec : DomeSpec
        Its radius is that of the sphere through the hub centres.
    allowance : float, m
        What the joint takes at each end: half of node length minus the length given.
    misfit : float, m
        Largest difference between a length given and the dome's.
    hubs : int
    width : float, m
    """

    spec: DomeSpec
    allowance: float
    misfit: float
    hubs: int
    width: float


def recognise(lengths: Sequence[tuple[float, int]]) -> tuple[Match, ...]:
    """Return the domes that struts of these `lengths` (m, number of each) can be, best first.

    The lengths may be sawn or from hub centre to hub centre: radius and joint allowance are
    fitted together where there are three or more different lengths, else the lengths are
    taken from centre to centre.

    Raises
    ------
    InputError
        ``recognise-lengths``: no lengths, or one that is not positive;
        ``recognise-nothing``: no dome has so many struts in such proportions.
    """
    if not lengths or min(length for length, _ in lengths) <= 0 or min(n for _, n in lengths) < 1:
        raise InputError(
            "recognise-lengths", f"{list(lengths)} is no list of lengths with their numbers",
            "lengths", "give each length above zero with how many there are",
        )  # fmt: skip
    given = np.sort(np.repeat([x for x, _ in lengths], [n for _, n in lengths]))
    found = [
        match
        for spec, shell in _candidates(len(given))
        if (match := _match(spec, shell, given, len(lengths)))
    ]
    if not found:
        raise InputError(
            "recognise-nothing", f"no dome known here has {len(given)} struts in such proportions",
            "lengths", "count again, leave out door frames and spares, or enter hubs and struts",
        )  # fmt: skip
    return tuple(sorted(found, key=lambda match: match.misfit))


def _candidates(n_struts: int) -> Iterator[tuple[DomeSpec, Shell]]:
    for seed in SEEDS:
        for division in DIVISIONS:
            for kept, found in enumerate(_strut_counts(seed, division), start=1):
                if found == n_struts:
                    spec = DomeSpec(
                        seed=seed, division=division, truncation=kept, level_base="none"
                    )
                    yield spec, dome(spec)
                    yield from _variants(spec)


@cache
def _strut_counts(seed: str, division: tuple[int, int]) -> tuple[int, ...]:
    """Return the struts of each cut of a sphere, by courses kept from 1 on."""
    net = subdivide(make_seed(seed), division)
    steps = courses_from_top(net.faces, spread_points(net, "flat") @ top_of(net.seed, "vertex"))
    counts = []
    for kept in range(1, int(steps.max())):
        try:
            counts.append(len(struts_of(keep_courses(net.faces, steps, kept))))
        except InputError:
            break
    return tuple(counts)


def _variants(spec: DomeSpec) -> Iterator[tuple[DomeSpec, Shell]]:
    """Yield the domes of the net of `spec` with every point law, and with their base made level."""
    for law in LAWS:
        plain = replace(spec, point_law=law)
        shell = dome(plain)
        if law != spec.point_law:
            yield plain, shell
        if shell.recipe.base == "level" or law != LAWS[0]:
            continue  # with all hubs moved the point laws lead to nearly the same
        for level in ("whole", "ring"):
            try:
                yield (other := replace(plain, level_base=level)), dome(other)
            except InputError:
                continue  # this base cannot be made level


def _match(spec: DomeSpec, shell: Shell, given: Floats, n_types: int) -> Match | None:
    own = np.sort(node_lengths(shell))
    rows = np.column_stack([own, np.full(len(own), -2.0)])
    if n_types < 3:
        rows = rows[:, :1]
    solution, *_ = np.linalg.lstsq(rows, given, rcond=None)
    radius = float(solution[0])
    allowance = float(solution[1]) if n_types >= 3 else 0.0
    misfit = float(np.abs(given - rows @ solution).max())
    if misfit > CLOSE * given[-1] or not -CLOSE * given[-1] <= allowance <= LONGEST_ALLOWANCE:
        return None
    ring = shell.hubs[shell.base, :2]
    width = 2 * radius * float(np.hypot(*ring.T).mean())
    return Match(replace(spec, radius=radius), allowance, misfit, len(shell.hubs), width)
