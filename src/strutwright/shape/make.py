"""From a brief to its shell: the family, and what the brief leaves open."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from strutwright.brief import Brief, Shape
from strutwright.progress import SILENT, Progress, step
from strutwright.sentences import note
from strutwright.shape.apply import apply_openings
from strutwright.shape.choose import division_for, dome_alternatives, nearest_cut
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.fewer import Tradeoff, fewer_lengths
from strutwright.shape.long import brace, long_shell
from strutwright.shape.old_kit import old_shell
from strutwright.shape.shell import Shell
from strutwright.shape.sizing import Sizes
from strutwright.shape.slope import on_the_ground
from strutwright.shape.wishes import family_of, freedom_of, longest_piece, sizes_of
from strutwright.values import ArrayValue, Note

__all__ = ["Shaped", "dome_spec", "make_shell", "shape_of"]

HALF: Final = Fraction(1, 2)


@dataclass(frozen=True, eq=False)
class Shaped(ArrayValue):
    """A shell and what it came from.

    Parameters
    ----------
    shell : Shell
        With braces, openings and legs.
    net : Shell
        Hubs, struts and faces as divided and, where asked for, with fewer lengths; before
        braces, openings and legs.
    tradeoff : Tradeoff or None
        Of the number of lengths, where the brief asks for fewer.
    """

    shell: Shell
    net: Shell
    tradeoff: Tradeoff | None


def make_shell(brief: Brief, progress: Progress = SILENT) -> Shell:
    """Return the shell that `brief` asks for.

    Raises
    ------
    InputError
        ``shape-*``, ``size-*``, ``lengths-*``, ``level-base-impossible``: something in the brief
        cannot be built.
    """
    return shape_of(brief, progress).shell


def shape_of(brief: Brief, progress: Progress = SILENT) -> Shaped:
    """Return the shell that `brief` asks for with the net and the trade-off it came from.

    Raises
    ------
    InputError
        As `make_shell`.
    """
    step(progress, "shape", 0.0)
    family = family_of(brief)
    if family == "dome":
        spec, notes = dome_spec(brief)
        net = dome(spec).with_notes(*notes)
    elif family == "imported":
        net = old_shell(brief, sizes_of(brief))
    else:
        net = long_shell(brief, family, sizes_of(brief), longest_piece(brief))
    net, tradeoff = _with_fewer_lengths(net, brief, progress)
    shell = brace(net, brief) if family in {"long-dome", "vault"} else net
    shell = on_the_ground(apply_openings(shell, brief), brief)
    step(progress, "shape", 1.0)
    return Shaped(shell, net, tradeoff)


def _with_fewer_lengths(
    net: Shell, brief: Brief, progress: Progress
) -> tuple[Shell, Tradeoff | None]:
    """Return `net` with the number of lengths or the drift asked for, if any is."""
    shape = brief.shape
    if shape is None or (shape.lengths is None and shape.drift is None):
        return net, None
    share, between = freedom_of(brief.size)
    width = brief.size.width
    if between is not None and width is not None:
        share = max(0.0, min(width - between[0], between[1] - width) / width)
    # a size that names no freedom is met as the drift allows
    freedom = None if brief.size.freedom is None else share
    return fewer_lengths(net, shape.lengths, shape.drift, freedom=freedom, progress=progress)


def dome_spec(brief: Brief) -> tuple[DomeSpec, tuple[Note, ...]]:
    """Return what the dome of `brief` is made from, and notes on what was chosen for it."""
    shape = brief.shape
    if shape is None:
        like = DomeSpec(level_base=None)
        choices = dome_alternatives(sizes_of(brief), longest_piece(brief), like)
        chosen = choices[0]
        b, c = chosen.division
        said = {"seed": chosen.seed, "courses": chosen.truncation, "n": len(choices)}
        return chosen.spec or like, (note("shape-chosen.free", b=b, c=c, **said),)
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
        b, c = spec.division
        notes.append(note("shape-chosen.division", b=b, c=c, bound=bound))
    if suit_rise:
        spec = replace(spec, truncation=nearest_cut(spec))
        notes.append(note("shape-chosen.truncation", courses=spec.truncation))
    return spec, tuple(notes)
