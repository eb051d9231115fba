"""`pack`: pieces into parcels, the fewest, and each with as few build stages as may be."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, sqrt
from typing import Final

from strutwright.catalogue import Carrier
from strutwright.errors import InputError
from strutwright.packing.model import place
from strutwright.packing.values import Content, Item, PackingPlan, Parcel, Room
from strutwright.sentences import note
from strutwright.values import Note

__all__ = ["pack", "room_of"]

WIDEST: Final = 0.8
"""Side of a bundle where the carrier sets no limit across, m: what two people carry. Our choice."""


def room_of(carrier: Carrier, longest: float) -> Room:
    """Return what a parcel of `carrier` holds whose longest piece is `longest`, m.

    A limit on length and girth, L + 2 (w + h), leaves the most cross-section to a square one.
    """
    outside = longest + carrier.packaging
    width, height = carrier.width or WIDEST, carrier.height or WIDEST
    if carrier.length_and_girth is not None:
        half = (carrier.length_and_girth - outside) / 4
        width, height = min(width, half), min(height, half)
    mass = min(carrier.mass, carrier.packing_mass)
    return Room(longest, width, height, mass, ends=carrier.packaging)


def pack(items: Sequence[Item], carrier: Carrier, extra: float = 0.0) -> PackingPlan:
    """Return the parcels of `items` for `carrier`.

    Struts lie side by side on a square grid of their width, which more pieces than that never
    need; hubs lie one behind the other. `extra` (kg) of small parts are put into the lightest
    parcel where it can take them, else into one of their own.

    Raises
    ------
    InputError
        ``parcel-too-small``: a piece is longer, wider or heavier than any parcel may be.
    """
    wanted = [item for item in items if item.quantity]
    if not wanted:
        return PackingPlan(carrier.id, (), proven=True, bound=0)
    longest = max(item.length for item in wanted)
    room = room_of(carrier, longest)
    _check(wanted, room, carrier)
    found = place(wanted, room)
    parcels = [_parcel(wanted, row, room) for row in found.rows]
    parcels.sort(key=lambda one: (one.stages, -one.mass))
    if extra:
        parcels = _with_extra(parcels, extra, room)
    everything = sum(item.mass * item.quantity for item in wanted) + extra
    bound = max(found.bound, ceil(everything / (room.mass - room.empty) - 1e-9))
    notes = _tagged(parcels, carrier)
    return PackingPlan(carrier.id, tuple(parcels), len(parcels) == bound, bound, notes)


def _tagged(parcels: Sequence[Parcel], carrier: Carrier) -> tuple[Note, ...]:
    heavy = carrier.heavy
    if heavy is None or all(one.mass <= heavy for one in parcels):
        return ()
    return (note("parcel-heavy", heavy=heavy),)


def _check(items: Sequence[Item], room: Room, carrier: Carrier) -> None:
    side = min(room.width, room.height)
    limit = carrier.longest_piece
    for item in items:
        too_long = limit is not None and item.length > limit * (1 + 1e-9)
        if too_long or item.width > side or item.mass > room.mass - room.empty:
            most = f"{limit:.3f} m long, " if limit is not None else ""
            raise InputError(
                "parcel-too-small",
                f"{item.label} is {item.length:.3f} m long, {item.width:.3f} m wide and "
                f"{item.mass:.2f} kg; a parcel of {carrier.id} takes {most}{side:.3f} m wide and "
                f"{room.mass - room.empty:.2f} kg",
                "delivery.carrier",
                "choose another carrier, or a finer division with shorter struts",
            )


def _parcel(items: Sequence[Item], row: Sequence[int], room: Room) -> Parcel:
    """Return the parcel that holds ``row[k]`` of ``items[k]``, in the least square bundle."""
    held = [(item, n) for item, n in zip(items, row, strict=True) if n]
    length = max(item.length for item, _ in held)
    area = sum(taken(item, n, length) for item, n in held)
    side = max(sqrt(area), *(item.width for item, _ in held))
    width = min(side, room.width)
    return Parcel(
        contents=tuple(
            Content(item.label, item.stage, n)
            for item, n in sorted(held, key=lambda one: (one[0].stage, one[0].label))
        ),
        length=length + room.ends,
        width=width,
        height=min(area / width, room.height) if width < side else side,
        mass=sum(item.mass * n for item, n in held) + room.empty,
        lightest=min(item.mass for item, _ in held),
    )


def taken(item: Item, n: int, length: float) -> float:
    """Return the cross-section that `n` of `item` take up in a parcel of `length`, m2."""
    behind = max(int(length / item.length), 1) if item.is_hub else 1
    return ceil(n / behind) * item.width**2


def _with_extra(parcels: list[Parcel], extra: float, room: Room) -> list[Parcel]:
    """Return the parcels with `extra` kg of small parts in the lightest one, or in one more."""
    k = min(range(len(parcels)), key=lambda one: parcels[one].mass)
    one = parcels[k]
    if one.mass + extra <= room.mass:
        heavier = Parcel(
            one.contents, one.length, one.width, one.height, one.mass + extra, one.lightest
        )
        return [*parcels[:k], heavier, *parcels[k + 1 :]]
    n = ceil(extra / (room.mass - room.empty))
    small = Parcel((), 0.4, 0.3, 0.2, extra / n + room.empty, extra / n)
    return [*parcels, *[small] * n]
