"""Carriers: limits of a parcel, dated data that a workshop edits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache

from strutwright.catalogue.load import Entry, entries, nearest
from strutwright.catalogue.source import Source
from strutwright.values import ArrayValue

__all__ = ["Carrier", "carrier", "carrier_ids"]


@dataclass(frozen=True, eq=False)
class Carrier(ArrayValue):
    """What a carrier takes.

    Parameters
    ----------
    id, name, as_of : str
        Catalogue name; name shown; when the limits were looked up.
    length : float or None, m
        Longest side of a parcel.
    length_and_girth : float or None, m
        Most of length + 2 (width + height).
    mass : float, kg
        Most of one parcel.
    heavy : float or None, kg
        Above this a parcel needs a tag.
    packing_mass : float, kg
        What we pack into one parcel, so that one person lifts it.
    packaging : float, m
        Wrapping at both ends together: the longest piece is that much shorter than `length`.
    width, height : float or None, m
    sources : mapping of str to Source
    """

    id: str
    name: str
    as_of: str
    mass: float
    packing_mass: float
    packaging: float
    length: float | None = None
    length_and_girth: float | None = None
    heavy: float | None = None
    width: float | None = None
    height: float | None = None
    sources: Mapping[str, Source] = field(default_factory=dict)

    @property
    def longest_piece(self) -> float | None:
        """Longest piece that fits into a parcel, m; None without a limit."""
        return None if self.length is None else self.length - self.packaging


def _carrier(entry: Entry) -> Carrier:
    return Carrier(
        id=entry.id,
        name=entry.words["name"],
        as_of=entry.words["as_of"],
        sources=entry.sources,
        **entry.numbers,
    )


@cache
def _all() -> Mapping[str, Carrier]:
    return {key: _carrier(entry) for key, entry in entries("carriers").items()}


def carrier_ids() -> tuple[str, ...]:
    """Return the ids of all carriers in the catalogue, in its order."""
    return tuple(_all())


def carrier(name: str, where: str = "delivery.carrier") -> Carrier:
    """Return the carrier called `name`.

    Raises
    ------
    InputError
        ``catalogue-unknown``: no such carrier; `where` is the key that named it.
    """
    known = _all()
    if name not in known:
        raise nearest(name, known, what="carrier", where=where)
    return known[name]
