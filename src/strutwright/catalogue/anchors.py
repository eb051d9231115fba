"""Anchors: what holds the base down, with design resistances and where they come from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache

from strutwright.catalogue.load import Entry, entries, nearest
from strutwright.catalogue.source import Source
from strutwright.values import ArrayValue

__all__ = ["Anchor", "anchor", "anchor_ids"]


@dataclass(frozen=True, eq=False)
class Anchor(ArrayValue):
    """A ground anchor or a ballast; a value of None is worked out from the soil or tested.

    Parameters
    ----------
    id, name, kind : str
        Catalogue name; name shown; ``stake``, ``helical``, ``plate``, ``footing``, ``ballast``.
    bases : tuple of str
        Values of ``site.base`` that it serves.
    diameter, length : float or None, m
    guyed : float or None, N
        Design resistance to an inclined pull; never a vertical one.
    uplift : float or None, N
        Design resistance to a vertical pull.
    torque_factor : float or None, 1/m
        Ultimate uplift of a helical anchor over its installing torque.
    safety : float or None
        On an ultimate value or a pull test.
    mass : float or None, kg
    friction : float or None
        Of ballast on the ground.
    unit_weight : float or None, N/m3
        Of a footing.
    remarks : tuple of str
    sources : mapping of str to Source
    """

    id: str
    name: str
    kind: str
    bases: tuple[str, ...] = ()
    diameter: float | None = None
    length: float | None = None
    guyed: float | None = None
    uplift: float | None = None
    torque_factor: float | None = None
    safety: float | None = None
    mass: float | None = None
    friction: float | None = None
    unit_weight: float | None = None
    remarks: tuple[str, ...] = ()
    sources: Mapping[str, Source] = field(default_factory=dict)


def _anchor(entry: Entry) -> Anchor:
    return Anchor(
        id=entry.id,
        name=entry.words["name"],
        kind=entry.words["kind"],
        bases=tuple(entry.words.get("bases", ())),
        remarks=tuple(entry.words.get("remarks", ())),
        sources=entry.sources,
        **entry.numbers,
    )


@cache
def _all() -> Mapping[str, Anchor]:
    return {key: _anchor(entry) for key, entry in entries("anchors").items()}


def anchor_ids() -> tuple[str, ...]:
    """Return the ids of all anchors in the catalogue, in its order."""
    return tuple(_all())


def anchor(name: str, where: str = "site.base") -> Anchor:
    """Return the anchor called `name`.

    Raises
    ------
    InputError
        ``catalogue-unknown``: no such anchor; `where` is the key that named it.
    """
    known = _all()
    if name not in known:
        raise nearest(name, known, what="anchor", where=where)
    return known[name]
