"""What a brief asks of a finished net: doors, slots and vents cut."""

from __future__ import annotations

from collections import Counter
from typing import Literal

import numpy as np

from strutwright.brief import Brief, Opening
from strutwright.errors import InputError, Problem
from strutwright.sentences import note, told
from strutwright.shape.fitting import Door, Slot, is_endwise
from strutwright.shape.openings import open_door, open_slot
from strutwright.shape.shell import Shell
from strutwright.shape.surface import floor_area
from strutwright.shape.vents import Vent, open_vents

__all__ = ["apply_openings", "azimuth_of"]

ORDER = ("slot", "door", "vent")
"""Slots cut most and go first; vents are faces that are left."""


def azimuth_of(bearing: float, north: float) -> float:
    """Return the plan angle (rad, anticlockwise from +x) of a compass `bearing` (rad).

    `north` is the bearing of +y, as [site] north gives it.
    """
    return np.pi / 2 + north - bearing


def apply_openings(shell: Shell, brief: Brief) -> Shell:
    """Return `shell` with the openings of `brief` cut: slots, doors, vents.

    An opening without a direction faces +x, the second of its kind -x: the ends of a long
    shell. All that do not fit are reported at once.

    Raises
    ------
    InputError
        ``opening-does-not-fit``, ``vents-beyond-faces``, ``opening-size``.
    """
    problems: list[Problem] = []
    counts: Counter[str] = Counter()
    named = []
    for number, wish in enumerate(brief.openings):
        counts[wish.kind] += 1
        named.append((ORDER.index(wish.kind), number, f"{wish.kind}_{counts[wish.kind]}", wish))
    for _, number, name, wish in sorted(named, key=lambda item: item[:2]):
        try:
            shell = _open(shell, brief, name, wish)
        except InputError as error:
            where = brief.where(f"openings[{number}]")
            problems += [Problem(p.code, p.what, where, p.mend) for p in error.problems]
    if problems:
        raise InputError.of(problems)
    return shell


def _open(shell: Shell, brief: Brief, name: str, wish: Opening) -> Shell:
    nth = int(name.rsplit("_", 1)[1])
    facing = np.pi * ((nth - 1) % 2)
    if wish.facing is not None:
        facing = azimuth_of(wish.facing, brief.site.north)
    if wish.kind == "vent":
        towards = None if wish.facing is None else facing
        place: Literal["low", "high"] = "low" if wish.place == "low" else "high"
        return open_vents(shell, Vent(name, _vent_area(shell, wish), place, towards))
    if wish.width is None or (wish.kind == "door" and wish.height is None):
        raise InputError(
            "opening-size", f"a {wish.kind} needs its width" +
            (" and height" if wish.kind == "door" else ""), name, "give its size with units",
        )  # fmt: skip
    if wish.kind == "slot":
        return open_slot(shell, Slot(name, wish.width, facing))
    door = Door(name, wish.width, wish.height or 0.0, facing, brief.site.riser)
    return _end_door(shell, name) if is_endwise(shell, door) else open_door(shell, door)


def _end_door(shell: Shell, name: str) -> Shell:
    """Return the vault with a note on which door at its end is the one that is wished for.

    Raises
    ------
    InputError
        ``opening-does-not-fit``: the end wall had no room for it.
    """
    if shell.recipe.settings["ends"] == "open":
        return shell.with_notes(note("door-in-end.open", name=name))
    for said in shell.recipe.notes:
        if said.code == "vault-no-door":
            mend = "make it smaller, or raise the vault with rise or side_walls"
            what = told(said.text, system="both")
            raise InputError("opening-does-not-fit", what, "openings", mend)
    return shell.with_notes(note("door-in-end.wall", name=name))


def _vent_area(shell: Shell, wish: Opening) -> float:
    if wish.share is not None:
        return wish.share * floor_area(shell)
    if wish.width is not None and wish.height is not None:
        return wish.width * wish.height
    raise InputError(
        "opening-size", "a vent needs a share of the floor, or width and height", "openings",
        'give share = "15 %", or a size',
    )  # fmt: skip
