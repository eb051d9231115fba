"""Covers: films and sheets."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache

from strutwright.catalogue.load import Entry, entries, nearest
from strutwright.catalogue.source import Source
from strutwright.values import ArrayValue

__all__ = ["Cover", "cover", "cover_ids"]


@dataclass(frozen=True, eq=False)
class Cover(ArrayValue):
    """A cover material, one layer of it.

    Parameters
    ----------
    id, name, kind : str
        Catalogue name; name shown; ``film`` or ``sheet``.
    mass : float, kg/m2
    thickness : float, m
    strength, tension : float or None, N/m
        Of a film: tensile strength, and design tension.
    bending, modulus : float or None, Pa
        Of a sheet, in its weaker direction: characteristic strength in bending, and stiffness.
    transmittance, transmittance_double : float or None, W/m2K
        Heat through one layer and through two with air between.
    roll_widths, roll_lengths : tuple of float, m
        Usual; empty for sheets.
    sheet : (float, float) or None, m
        Width and length of a sheet.
    least_radius : float or None, m
        Of cold bending.
    expansion : float or None, 1/K
    harmed_by : tuple of str
        Kinds of material that must not touch it.
    fluted : bool
        A sheet with flutes along its length, which have to run down the slope.
    sources : mapping of str to Source
    """

    id: str
    name: str
    kind: str
    mass: float
    thickness: float
    strength: float | None = None
    tension: float | None = None
    bending: float | None = None
    modulus: float | None = None
    transmittance: float | None = None
    transmittance_double: float | None = None
    roll_widths: tuple[float, ...] = ()
    roll_lengths: tuple[float, ...] = ()
    sheet: tuple[float, float] | None = None
    least_radius: float | None = None
    expansion: float | None = None
    harmed_by: tuple[str, ...] = ()
    fluted: bool = False
    sources: Mapping[str, Source] = field(default_factory=dict)


def _cover(entry: Entry) -> Cover:
    return Cover(
        id=entry.id,
        name=entry.words["name"],
        kind=entry.words["kind"],
        harmed_by=tuple(entry.words.get("harmed_by", ())),
        fluted=bool(entry.words.get("fluted", False)),
        sources=entry.sources,
        **entry.numbers,
    )


@cache
def _all() -> Mapping[str, Cover]:
    return {key: _cover(entry) for key, entry in entries("covers").items()}


def cover_ids() -> tuple[str, ...]:
    """Return the ids of all covers in the catalogue, in its order."""
    return tuple(_all())


def cover(name: str, where: str = "cover.material") -> Cover:
    """Return the cover called `name`.

    Raises
    ------
    InputError
        ``catalogue-unknown``: no such cover; `where` is the key that named it.
    """
    known = _all()
    if name not in known:
        raise nearest(name, known, what="cover", where=where)
    return known[name]
