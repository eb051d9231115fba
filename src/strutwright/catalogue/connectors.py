"""Connectors: how struts meet in a hub, with what is known and what must be tested."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Final, Literal

from strutwright.catalogue.load import Entry, entries, nearest
from strutwright.catalogue.source import Source
from strutwright.errors import InputError
from strutwright.values import ArrayValue

__all__ = ["FASTENERS", "Connector", "FastenerItem", "connector", "connector_ids"]

FASTENERS: Final = Source(
    "counts and masses of fasteners, our choice and common tables", how="recalled"
)


@dataclass(frozen=True)
class FastenerItem:
    """A fastener of a joint.

    Parameters
    ----------
    item : str
        As ordered, such as ``bolt M8x40 8.8``.
    per_end, per_hub, per_coupler : int
        How many a strut end, a hub and a coupler take.
    grip : str
        What a bolt goes through, which decides its length: ``stack`` of flattened ends, ``stock``,
        or empty where the length is fixed; `item` then holds ``{length}``.
    grip_extra : float, m
        Washers, nut and protruding thread.
    mass : float or None, kg
        Of one.
    price : float or None
        Of one, in the brief's currency.
    """

    item: str
    per_end: int = 0
    per_hub: int = 0
    per_coupler: int = 0
    grip: str = ""
    grip_extra: float = 0.0
    mass: float | None = None
    price: float | None = None


@dataclass(frozen=True, eq=False)
class Connector(ArrayValue):
    """A way of joining struts; a value of None is to be tested.

    Parameters
    ----------
    id, name : str
    kind : str
        ``flattened`` (overlapped flattened tube ends on one bolt), ``socket``, ``plate``, or
        ``own``: the user's, of which only its numbers are known.
    materials : tuple of str
        Kinds of material that it takes.
    outside : (float, float), m
        Smallest and largest outside dimension of stock that it takes.
    allowance : float, m
        From the hub centre to the sawn end; negative where the end reaches past the centre.
    allowance_per_width : float
        Added to `allowance`, times the stock's width along the shell's surface.
    foot_allowance : float, m
        The same at the foot of a leg or post, which stands on the ground.
    least_cut : float, m
        Shortest strut that it can be made on.
    bolt_diameter, hole_diameter : float or None, m
    bolt_grade : str
        Such as ``8.8``; empty where there is no bolt.
    bolt_from_end, bolt_from_side : float or None, m
        Hole centre to the sawn end and to the side of the flat or strut.
    bolt_from_centre : float or None, m
        Hub centre to the hole a tape can be held at, along the strut.
    outside_from_centre : float or None, m
        Hub centre to the outermost point of the hub along a strut line, where a tape can be held.
    eccentricity : float or None, m
        Strut axis to the hub centre, across the strut; of stacked flats the step of one ply is
        two walls and this is the offset of the flat from the tube axis.
    is_stacked : bool
        Struts lie on one another on the bolt, so that each has its own eccentricity.
    is_handed : bool
        A hub and its mirror image are two different parts.
    rotational_stiffness : (float, float) or None, Nm/rad
        Range, lowest and highest.
    fixity : (float, float) or None
        Range of kL/EI to run where the stiffness was not tested.
    axial_stiffness : (float, float) or None, N/m
    strength : float or None, N
        Axial, of one end, characteristic; None where it is to be worked out or tested.
    slip : float or None, m
        Play of an end along the strut.
    tie_rating : float or None, N
        Loop strength of the ties, before `tie_group` and `tie_shares`.
    tie_shares : mapping of str to float
        Share of the rating that may be used, by load duration.
    tie_group : float or None
        Effective share of several ties on one end.
    coupler_stiffness : float or None, Nm/rad
        Of the coupler between two pieces of a strut.
    coupler_moment : float or None, Nm
        Bending moment that a coupler carries, characteristic.
    coupler_pull : float or None, N
        Pull that a coupler carries, characteristic.
    hub_mass : float or None, kg
        Of the hub body, whatever its valence.
    hub_mass_per_end : float or None, kg
        Of the hub body, for each strut end.
    hub_tube_per_end : float or None, m
        The same, as a length of the stock that weighs as much.
    coupler_tube : float or None, m
        Length of the stock that weighs as much as a coupler.
    hub_price, coupler_price : float or None
        In the brief's currency.
    fasteners : tuple of FastenerItem
    remarks : tuple of str
    sources : mapping of str to Source
    """

    id: str
    name: str
    kind: Literal["flattened", "socket", "plate", "own"]
    materials: tuple[str, ...] = ()
    outside: tuple[float, float] = (0.0, 1.0)
    allowance: float = 0.0
    allowance_per_width: float = 0.0
    foot_allowance: float = 0.0
    least_cut: float = 0.0
    bolt_diameter: float | None = None
    hole_diameter: float | None = None
    bolt_grade: str = ""
    bolt_from_end: float | None = None
    bolt_from_side: float | None = None
    bolt_from_centre: float | None = None
    outside_from_centre: float | None = None
    eccentricity: float | None = None
    is_stacked: bool = False
    is_handed: bool = False
    rotational_stiffness: tuple[float, float] | None = None
    fixity: tuple[float, float] | None = None
    axial_stiffness: tuple[float, float] | None = None
    strength: float | None = None
    slip: float | None = None
    coupler_stiffness: float | None = None
    coupler_moment: float | None = None
    coupler_pull: float | None = None
    tie_rating: float | None = None
    tie_shares: Mapping[str, float] = field(default_factory=dict)
    tie_group: float | None = None
    hub_mass: float | None = None
    hub_mass_per_end: float | None = None
    hub_tube_per_end: float | None = None
    hub_price: float | None = None
    coupler_tube: float | None = None
    coupler_price: float | None = None
    fasteners: tuple[FastenerItem, ...] = ()
    remarks: tuple[str, ...] = ()
    sources: Mapping[str, Source] = field(default_factory=dict)


def _fasteners(entry: Entry) -> tuple[FastenerItem, ...]:
    return tuple(
        FastenerItem(
            item=row["item"],
            per_end=row.get("per_end", 0),
            per_hub=row.get("per_hub", 0),
            per_coupler=row.get("per_coupler", 0),
            grip=row.get("grip", ""),
            grip_extra=row.get("grip_extra_mm", 0) / 1000,
            mass=row["mass_g"] / 1000 if "mass_g" in row else None,
        )
        for row in entry.words.get("fasteners", ())
    )


def _connector(entry: Entry) -> Connector:
    words = entry.words
    return Connector(
        id=words.get("id", entry.id),
        name=words["name"],
        kind=words["kind"],
        materials=tuple(words["materials"]),
        bolt_grade=words.get("bolt_grade", ""),
        is_stacked=words.get("is_stacked", False),
        is_handed=words.get("is_handed", False),
        fasteners=_fasteners(entry),
        remarks=tuple(words.get("remarks", ())),
        sources={**entry.sources, "fasteners": FASTENERS},
        **entry.numbers,
    )


@cache
def _all() -> Mapping[str, tuple[Connector, ...]]:
    found: dict[str, tuple[Connector, ...]] = {}
    for entry in entries("connectors").values():
        made = _connector(entry)
        found[made.id] = (*found.get(made.id, ()), made)
    return found


def connector_ids() -> tuple[str, ...]:
    """Return the ids of all connectors in the catalogue, in its order."""
    return tuple(_all())


def connector(name: str, outside: float, where: str = "hubs.connector") -> Connector:
    """Return the connector called `name` in the size that takes stock of `outside`, m.

    Raises
    ------
    InputError
        ``catalogue-unknown``: no such connector; ``connector-size``: none of its sizes takes the
        stock; `where` is the key that named it.
    """
    known = _all()
    if name not in known:
        raise nearest(name, known, what="connector", where=where)
    for made in known[name]:
        if made.outside[0] <= outside <= made.outside[1]:
            return made
    low = min(made.outside[0] for made in known[name])
    high = max(made.outside[1] for made in known[name])
    raise InputError(
        "connector-size",
        f"{name} takes stock from {low * 1000:g} to {high * 1000:g} mm across, "
        f"not {outside * 1000:.1f} mm",
        where,
        "choose another connector or another stock",
    )
