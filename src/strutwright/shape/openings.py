"""Doors and slots: struts and faces out, a frame in, and the net closed round it."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import Final

import numpy as np

from strutwright.sentences import note
from strutwright.shape import topology
from strutwright.shape.corridor import Corridor, Hole, hole_of, touched, triangulate_strip
from strutwright.shape.edit import Net, assemble, loosen
from strutwright.shape.fitting import (
    HIGHEST_SHARE,
    Door,
    Slot,
    endwise_slot,
    is_endwise,
    is_sound,
    loose_slot,
    no_fit,
    way_of,
    widest,
    widest_door,
)
from strutwright.shape.frames import can_stand, door_frame, slot_frame
from strutwright.shape.measure import node_lengths
from strutwright.shape.shell import Recipe, Shell
from strutwright.shape.steady import mechanisms, steadied

__all__ = ["open_door", "open_slot"]

TURNS: Final = 6
"""Directions tried to each side of the one asked for, within half a base strut."""
SAME_LENGTH: Final = 0.01
"""m; shortest struts that differ by less do not decide between two places for a door."""
STUB: Final = 0.4
"""A strut shorter than this share of a usual one is a stub: our choice."""


Plan = tuple[Corridor, Hole]


def open_door(shell: Shell, door: Door) -> Shell:
    """Return `shell` with a door in it.

    Every face in the way of the door is taken out. Two upright jambs stand on the line of the
    base ring, with a head across; the hole round them is closed with the fewest metres of new
    struts, so that the door stands in a dormer. The base ring is closed by a threshold tie
    between the jambs; over a riser it is cut instead, with a note, and the legs are tied at the
    ground. Of the directions within half a base strut of the one asked for, the one
    without stubs that leaves fewest struts is used.

    Raises
    ------
    InputError
        ``opening-does-not-fit``: with the largest that does and the course that limits it.
    """
    found = [
        (made, plan[0])
        for turn in _turns(shell, door.azimuth)
        if (plan := _door_plan(shell, replace(door, azimuth=turn)))
        and is_sound(shell, made := _framed(shell, door, *plan))
    ]
    if not found:
        raise no_fit(shell, door, _made)
    best = max(range(len(found)), key=lambda k: _merit(shell, found[k][0]))
    made, way = found[best]
    return steadied(shell, made, door.name, way)


def _merit(before: Shell, after: Shell) -> tuple[float, int, int]:
    """Return what makes one place for a door better than another: higher is better.

    First that no strut is a stub, then that few struts are new or gone, then the longest
    shortest strut.
    """
    shortest = float(node_lengths(after).min())
    stub = STUB * float(np.median(node_lengths(before)))
    return (min(shortest, stub), -len(after.struts), round(shortest / SAME_LENGTH))


def open_slot(shell: Shell, slot: Slot) -> Shell:
    """Return `shell` with a slot from the base to past the apex.

    Jambs follow the shell on both sides of the slot, a head closes it beyond the apex, a
    threshold tie joins the jambs at the base.

    Raises
    ------
    InputError
        ``opening-does-not-fit``: with the widest that does.
    """
    if is_endwise(shell, slot):
        raise endwise_slot(slot)
    made = _made(shell, slot)
    if made is None:
        raise no_fit(shell, slot, _made)
    made = steadied(shell, made, slot.name, way_of(slot))
    if "opening-loose" in {note.code for note in made.recipe.notes}:
        left = mechanisms(made) - mechanisms(shell)
        if left > 0:
            raise loose_slot(slot, left)
    return made


def _made(shell: Shell, opening: Door | Slot) -> Shell | None:
    """Return `shell` with `opening` just where it is asked for, not yet held; None: it cannot."""
    plan = _slot_plan(shell, opening) if isinstance(opening, Slot) else _door_plan(shell, opening)
    if plan is None:
        return None
    made = _framed(shell, opening, *plan)
    return made if is_sound(shell, made) else None


def _turns(shell: Shell, azimuth: float) -> list[float]:
    """Return the directions tried, the one asked for first, then alternately to both sides."""
    reach = np.pi / max(len(shell.base), 3)
    steps = [0.0]
    for k in range(1, TURNS + 1):
        steps += [k / TURNS, -k / TURNS]
    return [azimuth + reach * step for step in steps]


def _door_plan(shell: Shell, door: Door) -> Plan | None:
    corridor = way_of(door)
    if (
        door.width > widest_door(shell, door.azimuth)
        or not 0 < corridor.top < shell.hubs[:, 2].max()
    ):
        return None
    hole = hole_of(shell.faces, shell.base.tolist(), touched(corridor, shell.hubs, shell.faces))
    if hole is None:
        return None
    highest = float(shell.hubs[list(hole.chain), 2].max())
    if highest > HIGHEST_SHARE * float(shell.hubs[:, 2].max()):
        return None
    return (corridor, hole) if can_stand(shell, corridor, hole) else None


def _slot_plan(shell: Shell, slot: Slot) -> Plan | None:
    corridor = way_of(slot)
    if slot.width > widest(shell, slot.azimuth):
        return None
    hole = hole_of(shell.faces, shell.base.tolist(), touched(corridor, shell.hubs, shell.faces))
    if hole is None:
        return None
    if not can_stand(shell, corridor, hole):
        return None
    back = corridor.local(shell.hubs[list(hole.chain)])[:, 0].min()
    return (corridor, hole) if back < -corridor.back else None


def _framed(shell: Shell, opening: Door | Slot, corridor: Corridor, hole: Hole) -> Shell:
    name = opening.name
    is_cut = isinstance(opening, Door) and opening.riser > 0
    net = loosen(shell)
    standing = np.ones(len(net.faces), dtype=bool)
    standing[hole.removed] = False
    net.faces = net.faces[standing]
    make_frame = door_frame if isinstance(opening, Door) else slot_frame
    frame = make_frame(net, shell, corridor, hole)
    outer, inner = list(hole.chain), frame.chain
    strip = triangulate_strip(net.hubs, outer, inner)
    net.faces = np.vstack([net.faces, strip])
    _drop_lost(net)
    for i, j in itertools.pairwise(inner):
        net.set_role(i, j, "jamb")
    for i, j in frame.head:
        net.set_role(i, j, "head")
    if not is_cut:
        net.set_role(inner[0], inner[-1], "tie")
    net.base = _new_base(net.base, outer[0], outer[-1], inner)
    net.hub_groups[f"{name}.frame"] = list(inner)
    net.strut_groups[f"{name}.frame"] = list(itertools.pairwise(inner))
    if isinstance(opening, Door):
        net.strut_groups[f"{name}.hinge"] = [(inner[0], inner[1])]
    net.face_groups[f"{name}.infill"] = [tuple(row) for row in strip.tolist()]
    made = assemble(net, _recipe(shell, opening, corridor))
    gone = len(shell.struts) - len(set(map(tuple, shell.struts.tolist())) & _kept(net))
    way = "opening-cut.cut" if is_cut else "opening-cut.closed"
    return made.with_notes(note(way, name=name, struts=gone, hubs=len(inner)))


def _kept(net: Net) -> set[tuple[int, int]]:
    return {tuple(row) for row in topology.struts_of(net.faces).tolist()} | set(net.roles)


def _recipe(shell: Shell, opening: Door | Slot, corridor: Corridor) -> Recipe:
    turn = float(corridor.azimuth - opening.azimuth)
    kind = type(opening).__name__.lower()
    notes = shell.recipe.notes
    if abs(turn) > np.radians(0.05):
        notes = (*notes, note("opening-turned", name=opening.name, turn=turn))
    step = f"{kind} {opening.name}: {corridor.width:.3f} m wide"
    return replace(shell.recipe, steps=(*shell.recipe.steps, step), notes=notes)


def _drop_lost(net: Net) -> None:
    """Forget the roles of struts (braces) whose hubs have no face any more."""
    alive = set(np.unique(net.faces).tolist())
    feet = {hub for hub in range(len(net.hubs)) if net.course[hub] < 0}
    net.roles = {(i, j): role for (i, j), role in net.roles.items() if {i, j} <= alive | feet}


def _new_base(base: list[int], left: int, right: int, inner: list[int]) -> list[int]:
    """Return the base with the hubs between the ends of the hole replaced by the frame's feet.

    `left` and `right` are the ends of the hole's chain in the order in which the standing
    faces run along it, which is against the base order.
    """
    start = base.index(right)
    turned = base[start:] + base[:start]
    kept = turned[: turned.index(left) + 1]
    feet = [hub for hub in (inner[0], inner[-1]) if hub not in kept]
    return kept + feet
