"""Which part a measured piece is, and where it sits."""

from __future__ import annotations

from dataclasses import dataclass

from strutwright.store.orders import Order

__all__ = ["FoundPart", "find_part"]


@dataclass(frozen=True)
class FoundPart:
    """A part that a measured piece may be.

    Parameters
    ----------
    label : str
        Of the piece; of its strut type where that is one piece.
    length : float, m
        As it was sawn.
    apart : float, m
        Measured less sawn.
    places : tuple of (int, int, int)
        Strut and its two hubs.
    courses : tuple of int
        Courses in which it sits.
    """

    label: str
    length: float
    apart: float
    places: tuple[tuple[int, int, int], ...]
    courses: tuple[int, ...]


def find_part(
    order: Order, length: float, sockets: int | None = None, within: float = 0.005
) -> list[FoundPart]:
    """Return the parts of `order` that a piece of `length` (m) may be, the nearest first.

    Parameters
    ----------
    order : Order
    length : float, m
    sockets : int or None
        Number of sockets of the hub at one of its ends; None where nobody counted.
    within : float, m
        How far a tape and a saw may be off.
    """
    parts = order.parts
    found = []
    for kind in parts["struts"]:
        places = tuple(
            (int(strut), int(i), int(j))
            for strut, (i, j) in zip(kind["ids"], kind["ends"], strict=True)
            if sockets is None or sockets in {parts["valence"][i], parts["valence"][j]}
        )
        if not places:
            continue
        courses = tuple(sorted({max(parts["course"][i], parts["course"][j]) for _, i, j in places}))
        for label, sawn in kind["pieces"]:
            if abs(length - sawn) <= within:
                found.append(FoundPart(label, sawn, length - sawn, places, courses))
    return sorted(found, key=lambda one: (abs(one.apart), one.label))
