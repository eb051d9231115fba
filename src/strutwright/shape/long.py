"""From a brief to its long dome or vault, and what the brief leaves open."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from strutwright.brief import Brief, Shape
from strutwright.errors import InputError
from strutwright.sentences import note
from strutwright.shape.braces import add_braces
from strutwright.shape.measure import node_lengths
from strutwright.shape.shell import Shell
from strutwright.shape.sizing import Sizes, check_sizes, measure_sizes
from strutwright.shape.stretch import LongDomeSpec, long_dome
from strutwright.shape.vault import VaultSpec, vault
from strutwright.values import Note

__all__ = ["brace", "long_shell"]

MOST_FREQUENCY: Final = 8
"""Largest b that is tried when the brief gives no division: our choice."""


def long_shell(brief: Brief, family: str, sizes: Sizes, bound: float) -> Shell:
    """Return the ``long-dome`` or ``vault`` of `brief`, not yet braced or opened.

    Parameters
    ----------
    family : str
    sizes : Sizes
        What the brief asks for; a headroom is met by the riser first.
    bound : float, m
        Longest strut where the brief gives no division.

    Raises
    ------
    InputError
        ``shape-*``, ``size-*``.
    """
    shape = brief.shape or Shape(family)
    width = sizes.width
    if width is None and sizes.width_range is not None:
        width = sum(sizes.width_range) / 2
    if width is None:
        what = f"a {family} needs a width"
        raise InputError("size-missing", what, "size.width", "give the width across the base")
    limit = bound if sizes.longest_strut is None else min(bound, sizes.longest_strut)
    if family == "vault":
        shell = _vault(brief, shape, width, limit)
    else:
        shell = _long_dome(brief, shape, width, limit)
    check_sizes(sizes, measure_sizes(shell, headroom=sizes.headroom is not None))
    return shell.with_notes(*_floor_note(sizes, shell))


def brace(shell: Shell, brief: Brief) -> Shell:
    """Return `shell` with the inner braces of `brief`; a vault has none unless it asks."""
    wish = "auto" if brief.shape is None else brief.shape.inner_braces
    named = "shape.inner_braces" in dict(brief.lines)
    if shell.recipe.family == "vault" and not named:
        return shell
    return add_braces(shell, wish)


def _long_dome(brief: Brief, shape: Shape, width: float, limit: float) -> Shell:
    rows = shape.rows if "shape.rows" in dict(brief.lines) else None
    spec = LongDomeSpec(
        width=width,
        length=brief.size.length,
        rise=brief.size.rise,
        bays=shape.bays,
        cap_symmetry=shape.cap_symmetry,
        division=shape.division,
        rows=rows,
        profile=shape.profile,
    )
    if shape.division is not None:
        return long_dome(spec)
    along = rows in {None, "along"}
    for b in range(1, MOST_FREQUENCY + 1):
        try:
            shell = long_dome(replace(spec, division=(b, b if along else 0)))
        except InputError as error:
            if error.code != "shape-cap" or b == MOST_FREQUENCY:
                raise
            continue
        longest = float(node_lengths(shell).max())
        if longest <= limit:
            break
    return shell.with_notes(note("shape-chosen.long", b=b, c=b if along else 0, longest=longest))


def _vault(brief: Brief, shape: Shape, width: float, limit: float) -> Shell:
    gaps = None
    if shape.division is not None:
        gaps = shape.division[0]
        if shape.division[1]:
            what = f"division {list(shape.division)} of a vault has a second number"
            mend = f"write [{gaps}, 0]: {gaps} row gaps over the arch"
            raise InputError("shape-gaps", what, brief.where("shape.division"), mend)
    doors = [opening for opening in brief.openings if opening.kind == "door"]
    widths, heights = [d.width or 0.0 for d in doors], [d.height or 0.0 for d in doors]
    spec = VaultSpec(
        width=width,
        length=brief.size.length,
        rise=brief.size.rise,
        bays=shape.bays,
        gaps=gaps,
        longest_strut=limit,
        profile=shape.profile,
        grid=shape.grid,
        side_walls=shape.side_walls,
        ends=shape.ends,
    )
    if max(widths, default=0.0) > 0 and max(heights) > 0:
        spec = replace(spec, door=(max(widths), max(heights)))
    shell = vault(spec)
    if gaps is not None:
        return shell
    found = shell.recipe.settings["gaps"]
    return shell.with_notes(note("shape-chosen.vault", gaps=found, limit=limit))


def _floor_note(sizes: Sizes, shell: Shell) -> tuple[Note, ...]:
    """Return a note when a floor area was wished for that width and length do not give."""
    if sizes.floor_area is None:
        return ()
    found = measure_sizes(shell, headroom=False).floor_area or 0.0
    if np.isclose(found, sizes.floor_area, rtol=0.005):
        return ()
    return (note("size-floor", found=found, wished=sizes.floor_area),)
