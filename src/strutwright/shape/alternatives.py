"""What else there is: other divisions, ends and grids that meet the same wish."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from strutwright.brief import Brief, Shape
from strutwright.errors import InputError
from strutwright.shape.choose import (
    FITTING_STRUT,
    Alternative,
    alternative,
    dome_alternatives,
    rank,
)
from strutwright.shape.dome import DomeSpec
from strutwright.shape.long import long_shell
from strutwright.shape.shell import Shell
from strutwright.shape.stretch import SYMMETRIES
from strutwright.shape.wishes import family_of, longest_piece, sizes_of

__all__ = ["alternatives"]

GRIDS: Final = ("three-way", "lamella")
MOST_FREQUENCY: Final = 8
"""Largest b of a long dome that is listed: our choice, as when none is given."""


def alternatives(brief: Brief, chosen: Shell) -> tuple[Alternative, ...]:
    """Return shells that meet the wish of `brief`, at least three: `chosen` first.

    Domes vary in seed, division and cut; long domes in division, symmetry and bays; vaults in
    row gaps and grid. Where the brief gives no shape, a long wish is met by both families. What
    has struts within the bound of stock and carrier comes first, fewest struts first.

    Parameters
    ----------
    brief : Brief
    chosen : Shell
        The net that the brief is built from.
    """
    sizes = sizes_of(brief)
    bound = min(longest_piece(brief), sizes.longest_strut or FITTING_STRUT)
    first = alternative(chosen, bound)
    family = family_of(brief)
    if family == "imported":
        return (first,)
    if family == "dome":
        others = list(_domes(brief))
    else:
        others = [alternative(shell, bound) for shell in _long_shells(brief, first)]
    found = {_key(first): first}
    for other in sorted(others, key=rank):
        found.setdefault(_key(other), other)
    return tuple(found.values())


def _key(choice: Alternative) -> tuple[object, ...]:
    return (choice.family, choice.seed, choice.division, choice.truncation, choice.bays,
            choice.kind)  # fmt: skip


def _domes(brief: Brief) -> tuple[Alternative, ...]:
    like = DomeSpec(level_base=None)
    if brief.shape is not None:
        like = replace(like, point_law=brief.shape.point_law)
    return dome_alternatives(sizes_of(brief), longest_piece(brief), like)


def _long_shells(brief: Brief, first: Alternative) -> Iterator[Shell]:
    """Yield the long domes and vaults that can be made among the neighbours of `first`."""
    for shape in _neighbours(brief, first):
        lines = tuple(
            line for line in brief.lines
            if line[0] != "shape.rows" or shape.family == first.family
        )  # fmt: skip
        trial = replace(brief, shape=shape, lines=lines)
        try:
            yield long_shell(trial, shape.family, sizes_of(trial), longest_piece(trial))
        except InputError:
            continue  # this neighbour cannot be made: it is no alternative


def _neighbours(brief: Brief, first: Alternative) -> Iterator[Shape]:
    own = brief.shape or Shape(first.family)
    if first.family == "long-dome":
        yield from _long_domes(brief, own, first)
        if brief.shape is None:
            yield Shape("vault")
        return
    gaps = first.division[0]
    for n in (gaps - 2, gaps + 2, gaps + 4):
        yield replace(own, division=(n, 0))
    for grid in GRIDS:
        if grid != own.grid:
            yield replace(own, grid=grid, division=(gaps, 0))


def _long_domes(brief: Brief, own: Shape, first: Alternative) -> Iterator[Shape]:
    b, c = first.division
    for k in (b - 1, b + 1):
        if 1 <= k <= MOST_FREQUENCY:
            yield replace(own, division=(k, k if c else 0))
    for symmetry in SYMMETRIES:
        if symmetry != own.cap_symmetry:
            yield replace(own, division=(b, c), cap_symmetry=symmetry)
    if brief.size.length is None:
        for bays in (first.bays - 1, first.bays + 1):
            if bays >= 0:
                yield replace(own, division=(b, c), bays=bays)
