"""From a brief to its shell: the family, and what the brief leaves open."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Final

from strutwright.brief import Brief, Shape, Size
from strutwright.catalogue import carrier, stock
from strutwright.progress import SILENT, Progress, step
from strutwright.shape.apply import apply_openings, apply_riser
from strutwright.shape.choose import (
    FITTING_STRUT,
    Alternative,
    division_for,
    dome_alternatives,
    nearest_cut,
)
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.fewer import fewer_lengths
from strutwright.shape.long import brace, long_shell
from strutwright.shape.shell import Shell
from strutwright.shape.sizing import Sizes
from strutwright.values import Note

__all__ = ["alternatives", "dome_spec", "family_of", "longest_piece", "make_shell", "sizes_of"]

HALF: Final = Fraction(1, 2)


def make_shell(brief: Brief, progress: Progress = SILENT) -> Shell:
    """Return the shell that `brief` asks for.

    Raises
    ------
    InputError
        ``shape-*``, ``size-*``, ``lengths-*``: something in the brief cannot be built.
    ResultError
        ``level-base-impossible``: the base cannot be levelled as asked for.
    """
    step(progress, "shape", 0.0)
    family = family_of(brief)
    if family == "dome":
        spec, notes = dome_spec(brief)
        shell = dome(spec).with_notes(*notes)
    else:
        shell = long_shell(brief, family, sizes_of(brief), longest_piece(brief))
    shell = _with_fewer_lengths(shell, brief, progress)
    if family != "dome":
        shell = brace(shell, brief)
    shell = apply_riser(apply_openings(shell, brief), brief)
    step(progress, "shape", 1.0)
    return shell


def _with_fewer_lengths(shell: Shell, brief: Brief, progress: Progress) -> Shell:
    """Return `shell` with the number of lengths or the drift asked for, if any is."""
    shape = brief.shape
    if shape is None or (shape.lengths is None and shape.drift is None):
        return shell
    share, between = _freedom(brief.size)
    width = brief.size.width
    if between is not None and width is not None:
        share = max(0.0, min(width - between[0], between[1] - width) / width)
    # a size that names no freedom is met as the drift allows
    freedom = None if brief.size.freedom is None else share
    found, _ = fewer_lengths(shell, shape.lengths, shape.drift, freedom=freedom, progress=progress)
    return found


def family_of(brief: Brief) -> str:
    """Return the family asked for, or the one that follows from the size."""
    if brief.shape is not None:
        return brief.shape.family
    size = brief.size
    is_long = size.length is not None and size.width is not None and size.length > size.width
    return "long-dome" if is_long else "dome"


def alternatives(brief: Brief) -> tuple[Alternative, ...]:
    """Return the domes that meet the wish of `brief`, the one to choose first."""
    like = DomeSpec(level_base=None)
    if brief.shape is not None:
        like = replace(like, point_law=brief.shape.point_law)
    return dome_alternatives(sizes_of(brief), longest_piece(brief), like)


def dome_spec(brief: Brief) -> tuple[DomeSpec, tuple[Note, ...]]:
    """Return what the dome of `brief` is made from, and notes on what was chosen for it."""
    shape = brief.shape
    if shape is None:
        choices = alternatives(brief)
        chosen = choices[0]
        seed, division = chosen.seed, list(chosen.division)
        text = (
            f"no shape is given: {seed}, division {division}, {chosen.truncation} courses, the "
            f"first of {len(choices)} alternatives"
        )
        return chosen.spec, (Note("shape-chosen", text),)
    is_default = shape.level_base == "whole" and "shape.level_base" not in dict(brief.lines)
    spec = DomeSpec(
        radius=None,
        seed=shape.seed,
        division=shape.division or (2, 0),
        point_law=shape.point_law,
        pose=shape.pose,
        truncation=HALF if shape.truncation is None else shape.truncation,
        level_base=None if is_default else shape.level_base,
        sizes=sizes_of(brief),
        scale_rise=shape.scale_rise,
    )
    return _completed(spec, shape, longest_piece(brief))


def _completed(spec: DomeSpec, shape: Shape, bound: float) -> tuple[DomeSpec, tuple[Note, ...]]:
    """Return `spec` with division and cut chosen where `shape` gives none."""
    wish, notes = spec.sizes or Sizes(), []
    suit_rise = shape.truncation is None and None not in {wish.width, wish.rise}
    if shape.division is None:
        spec = replace(spec, division=division_for(spec, bound, suit_rise=suit_rise))
        text = f"no division is given: {list(spec.division)} suits struts of {bound:.3g} m"
        notes.append(Note("shape-chosen", text))
    if suit_rise:
        spec = replace(spec, truncation=nearest_cut(spec))
        text = f"no truncation is given: {spec.truncation} courses come nearest to the rise"
        notes.append(Note("shape-chosen", text))
    return spec, tuple(notes)


def sizes_of(brief: Brief) -> Sizes:
    """Return the sizes wished for; a headroom is met by the riser first."""
    size = brief.size
    headroom = None
    if size.headroom is not None and size.headroom > brief.site.riser:
        headroom = size.headroom - brief.site.riser
    freedom, wide = _freedom(size)
    return Sizes(
        size.width, size.rise, size.floor_area, size.longest_strut, headroom, freedom, wide
    )


def _freedom(size: Size) -> tuple[float, tuple[float, float] | None]:
    free = size.freedom
    if free is None:
        return 0.0, None
    if free.least is not None and free.largest is not None:
        return 0.0, (free.least, free.largest)
    return free.share or 0.0, None


def longest_piece(brief: Brief) -> float:
    """Return the longest strut that bars and carrier allow in one piece, m.

    No longer than what is fitting for struts between hubs.
    """
    wish = brief.struts
    bars = [bar.length for bar in wish.bars]
    if not bars and isinstance(wish.stock, str):
        bars = [bar.length for bar in stock(wish.stock).bars]
    limits = [FITTING_STRUT, *([max(bars)] if bars else [])]
    by = carrier(brief.delivery.carrier)
    if by.length is not None:
        limits.append(by.length - by.packaging)
    return min(limits)
