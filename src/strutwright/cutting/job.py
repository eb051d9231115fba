"""A cutting job in whole numbers: what the search works on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from math import gcd
from typing import Final

import numpy as np

from strutwright.catalogue import Bar
from strutwright.cutting.values import Piece, Saw
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
    """How one bar is cut: which kind of bar, and how many of each width (tuple of counts)."""

    bar: int
    counts: tuple[int, ...]


@dataclass(frozen=True)
class Job:
    """A cutting job: n pieces take the sum of their widths, kerf included in both sides.

    Parameters
    ----------
    widths : (m,) int array
        Distinct widths with kerf, the widest first.
    demand : (m,) int array
    capacities : (b,) int array
        Of the bars, less the trim, plus one kerf.
    costs : (b,) array
    quantities : (b,) int array
        Bars there are; at most as many as there are pieces.
    """

    widths: Indices
    demand: Indices
    capacities: Indices
    costs: Floats
    quantities: Indices


def make_job(
    pieces: Sequence[Piece], bars: Sequence[Bar], saw: Saw, costs: Sequence[float]
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
    job = Job(-distinct, demand, room, np.array(costs, dtype=np.float64), np.array(limits))
    return job, np.asarray(place.ravel(), dtype=np.int64)


def _check(
    pieces: Sequence[Piece], widths: Indices, room: Indices, bars: Sequence[Bar], saw: Saw
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
