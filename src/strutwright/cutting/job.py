"""A cutting job in whole numbers: what the search works on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from math import ceil, gcd
from typing import Final

import numpy as np

from strutwright.cutting.values import Piece, Saw
from strutwright.cutting.zones import Part
from strutwright.errors import InputError, Problem
from strutwright.values import Floats, Indices

__all__ = ["Job", "Pattern", "make_job"]

UNIT: Final = 1e-7
"""Lengths are read to this (m): fine enough for every fraction of an inch on a tape."""
GRID: Final = 100
"""Where lengths have no common measure, they are taken up to a multiple of this many units:
10 µm, far below what a saw can do."""
MOST_STEPS: Final = 150_000
"""A bar of more steps of the common measure than this is measured on the grid instead."""


@dataclass(frozen=True)
class Pattern:
    """How one bar is cut: which kind of use of a bar, and how many of each width."""

    bar: int
    counts: tuple[int, ...]


@dataclass(frozen=True)
class Job:
    """A cutting job: n pieces take the sum of their widths, kerf included in both sides.

    A bar is used in one of two kinds of ways: cut up, or with a rest that goes back to the rack
    and is worth something; then the bar costs less by `rates` for each step that is not sawn.

    Parameters
    ----------
    widths : (m,) int array
        Distinct widths with kerf, the widest first.
    demand : (m,) int array
    capacities : (k,) int array
        Of the kinds: the bar less the trim, plus one kerf; less what is kept.
    costs : (k,) array
        Of the kinds, before `rates`.
    quantities : (b,) int array
        Bars there are; at most as many as there are pieces.
    source : (k,) int array
        The bar of each kind.
    rates : (k,) array
        Added to the cost for each step of the widths sawn.
    """

    widths: Indices
    demand: Indices
    capacities: Indices
    costs: Floats
    quantities: Indices
    source: Indices
    rates: Floats

    @property
    def there(self) -> Indices:
        """Return the (k,) number of bars there are for each kind."""
        return np.asarray(self.quantities[self.source])

    def cost(self, one: Pattern) -> float:
        """Return what a bar cut as `one` costs."""
        sawn = float(np.dot(one.counts, self.widths))
        return float(self.costs[one.bar] + self.rates[one.bar] * sawn)


def make_job(
    pieces: Sequence[Piece], bars: Sequence[Part], saw: Saw, costs: Sequence[float]
) -> tuple[Job, Indices]:
    """Return the job and, for each of `pieces`, the index of its width.

    Raises
    ------
    InputError
        ``piece-too-long``: no bar is long enough for a piece; all such pieces are named.
    """
    kerf = round(saw.kerf / UNIT)
    widths = np.array([round(p.length / UNIT) + kerf for p in pieces], dtype=np.int64)
    room = np.array([round((b.length - saw.end_trim) / UNIT) + kerf for b in bars], np.int64)
    _check(pieces, widths, room, bars, saw)
    measure = reduce(gcd, widths.tolist())
    if room.max() // measure > MOST_STEPS:
        measure, widths = GRID, -(-widths // GRID) * GRID
    widths, room = widths // measure, room // measure
    distinct, place = np.unique(-widths, return_inverse=True)
    demand = np.zeros(len(distinct), dtype=np.int64)
    np.add.at(demand, place, [p.quantity for p in pieces])
    total = int(demand.sum())
    limits = [total if b.quantity is None else min(b.quantity, total) for b in bars]
    price, source, rates = np.array(costs, dtype=np.float64), np.arange(len(bars)), 0.0 * room
    if saw.keep is not None and saw.keep_value > 0:
        # the rest is capacity - kerf - widths; it is kept where it is as long as `keep`
        scale = UNIT * measure
        kept = room - ceil((round(saw.keep / UNIT) + kerf) / measure)
        some = np.flatnonzero(kept >= -distinct.max())
        worth = price[some] - saw.keep_value * (room[some] * scale - saw.kerf)
        room, price = np.append(room, kept[some]), np.append(price, worth)
        source = np.append(source, some)
        rates = np.append(rates, np.full(len(some), saw.keep_value * scale))
    job = Job(-distinct, demand, room, price, np.array(limits), source, rates)
    return job, np.asarray(place.ravel(), dtype=np.int64)


def _check(
    pieces: Sequence[Piece], widths: Indices, room: Indices, bars: Sequence[Part], saw: Saw
) -> None:
    there = np.array([b.quantity is None or b.quantity > 0 for b in bars])
    most = int(room[there].max()) if there.any() else 0
    longest = max((most - round(saw.kerf / UNIT)) * UNIT, 0.0)
    found = [
        Problem(
            "piece-too-long",
            f"piece {p.label} is {p.length * 1000:.1f} mm; the longest that fits the bars is "
            f"{longest * 1000:.1f} mm",
            "struts.bars",
            "give a longer bar, or let the strut be split",
        )
        for p, width in zip(pieces, widths, strict=True)
        if width > most
    ]
    if found:
        raise InputError.of(found)
