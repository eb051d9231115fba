"""Soils that anchors stand in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache

from strutwright.catalogue.load import Entry, entries
from strutwright.catalogue.source import Source
from strutwright.values import ArrayValue

__all__ = ["Soil", "find_soil", "soil_ids"]


@dataclass(frozen=True, eq=False)
class Soil(ArrayValue):
    """A soil.

    Parameters
    ----------
    id, name, kind : str
        Catalogue name; name shown; ``clay``, ``sand``, ``rock`` or ``paved``.
    strength : float or None, Pa
        Undrained strength of a clay; bond of rock to grout.
    friction : float or None, rad
        Angle of friction of a sand.
    unit_weight : float or None, N/m3
    sources : mapping of str to Source
    """

    id: str
    name: str
    kind: str
    strength: float | None = None
    friction: float | None = None
    unit_weight: float | None = None
    sources: Mapping[str, Source] = field(default_factory=dict)


def _soil(entry: Entry) -> Soil:
    words = entry.words
    return Soil(entry.id, words["name"], words["kind"], sources=entry.sources, **entry.numbers)


@cache
def _all() -> Mapping[str, Soil]:
    return {key: _soil(entry) for key, entry in entries("soils").items()}


def soil_ids() -> tuple[str, ...]:
    """Return the ids of all soils in the catalogue, in its order."""
    return tuple(_all())


def find_soil(words: str | None) -> Soil | None:
    """Return the soil that `words` of a brief name, as ``stiff clay``; None where none does."""
    return None if words is None else _all().get("-".join(words.lower().split()))
