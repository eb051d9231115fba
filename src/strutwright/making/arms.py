"""Plates with folded arms: where the folds lie, and the holes on the flat piece.

The flat of a plate lies under the point where the struts' lines meet. A strut's line runs through
the fold of its arm; where dips differ not all lines meet in one point, and each arm says how far
its line passes by. Holes are set out so that each strut keeps its length: they lie on the arm as
far from the foot of the plumb line from the hub's centre as on the strut.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from strutwright.making.form import HubForm, Spoke

__all__ = ["Arm", "Plate", "Slit", "plates_of"]

SAME: Final = 1e-6
"""m: arms that part no later than this beyond their fold need no slit."""


@dataclass(frozen=True)
class Arm:
    """An arm of a plate, measured on the flat piece from the hub's axis, m and rad.

    Parameters
    ----------
    spoke : Spoke
    fold : float
    holes : tuple of float
    start, end : float
        Of the arm; it starts at the axis or, with a pressed strut end, beyond it.
    passes_by : float
        How far the strut's line passes above the hub's centre; below it where negative.
    level : float
        Of the arm's middle above the plate's, at the axis: pressed ends lie on one another.
    """

    spoke: Spoke
    fold: float
    holes: tuple[float, ...]
    start: float
    end: float
    passes_by: float
    level: float = 0.0


@dataclass(frozen=True)
class Slit:
    """A cut half way between two arms: azimuth rad, from and to m from the axis."""

    between: tuple[str, str]
    azimuth: float
    start: float
    end: float


@dataclass(frozen=True)
class Plate:
    """One plate of a hub, or the stack of its pressed ends.

    Parameters
    ----------
    label : str
    arms : tuple of Arm
    depth : float, m
        Of the middle of its flat below the hub's centre.
    slits : tuple of Slit
        Between arms that lie over one another beyond their fold: cut, or they cannot be folded.
    """

    label: str
    arms: tuple[Arm, ...]
    depth: float
    slits: tuple[Slit, ...] = ()


def plates_of(form: HubForm) -> tuple[Plate, ...]:
    """Return the plates of `form`: one for the shell's struts, another for inner braces.

    Pressed ends are one stack, in the order of their spokes from the inside out. Empty for hubs
    with neither.
    """
    if form.kind == "flattened":
        return (_plate(form, form.label, form.spokes),)
    if form.kind != "plate" or not form.hole:
        return ()
    outer = [spoke for spoke in form.spokes if not spoke.is_brace]
    inner = [spoke for spoke in form.spokes if spoke.is_brace]
    sets = [(form.label, outer), (f"{form.label}-braces", inner)]
    return tuple(_plate(form, label, some) for label, some in sets if some)


def _plate(form: HubForm, label: str, spokes: Sequence[Spoke]) -> Plate:
    fold, is_stack = _fold(form, spokes), form.kind == "flattened"
    tangents = [fold * math.tan(spoke.dip) for spoke in spokes if abs(spoke.dip) < math.pi / 3]
    depth = (max(tangents) + min(tangents)) / 2 if tangents else 0.0
    arms = []
    for n, spoke in enumerate(spokes):
        sine, cosine = math.sin(spoke.dip), math.cos(spoke.dip)
        on_line = fold * cosine + depth * sine  # from the foot of the plumb line to the fold
        more = 0.0 if is_stack else fold - on_line  # the bolt of a stack is the axis itself
        level = (n - (len(spokes) - 1) / 2) * form.thickness if is_stack else 0.0
        arms.append(
            Arm(
                spoke, fold, tuple(hole + more for hole in spoke.holes),
                spoke.start if is_stack else 0.0, spoke.end + more,
                fold * sine - depth * cosine, level,
            )
        )  # fmt: skip
    slits = () if is_stack else _slits(arms, form.width)
    return Plate(label, tuple(arms), depth, slits)


def _fold(form: HubForm, spokes: Sequence[Spoke]) -> float:
    """Return how far from the axis the arms fold: where the first of the struts begins.

    A pressed end folds where its washer ends, as far from the hole as the sawn end.
    """
    if form.kind == "flattened":
        return -min(spoke.start for spoke in spokes)
    begin = min(spoke.start * math.cos(spoke.dip) for spoke in spokes)
    return max(begin, form.thickness)


def _neighbours(spokes: Sequence[Spoke]) -> list[tuple[Spoke, Spoke, float]]:
    ordered = sorted(spokes, key=lambda spoke: spoke.azimuth % (2 * math.pi))
    if len(ordered) == 1:
        return []
    pairs = [*pairwise(ordered), (ordered[-1], ordered[0])]
    return [(a, b, (b.azimuth - a.azimuth) % (2 * math.pi)) for a, b in pairs]


def _slits(arms: Sequence[Arm], width: float) -> tuple[Slit, ...]:
    fold, last = arms[0].fold, max(arm.end for arm in arms)
    slits = []
    for a, b, gap in _neighbours([arm.spoke for arm in arms]):
        if gap >= math.pi:
            continue
        parted = min(width / 2 / math.sin(gap / 2), last) if gap > 0 else last
        if parted > fold / math.cos(gap / 2) + SAME:
            slits.append(Slit((a.label, b.label), a.azimuth + gap / 2, fold, parted))
    return tuple(slits)
