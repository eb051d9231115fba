"""Stock: what the workshop saws struts from, with its section, mass and usual bars."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache

from strutwright.catalogue.load import Entry, entries, nearest
from strutwright.catalogue.materials import Material, material
from strutwright.catalogue.sections import Section, rectangle, rod, tube
from strutwright.catalogue.source import Source
from strutwright.values import ArrayValue

__all__ = ["Bar", "Stock", "stock", "stock_ids"]


@dataclass(frozen=True)
class Bar:
    """A length in which stock is sold or lies in the rack.

    Parameters
    ----------
    length : float, m
        As sold.
    price : float or None
        Per bar, in the brief's currency; None where none is known.
    quantity : int or None
        How many there are; None without limit.
    stock : str
        Which stock it is a bar of, where that is not plain.
    name : str
        Of a bar in the rack.
    zones : tuple of (float, float), m
        Unusable lengths, from and to, measured from the bar's datum end.
    """

    length: float
    price: float | None = None
    quantity: int | None = None
    stock: str = ""
    name: str = ""
    zones: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, eq=False)
class Stock(ArrayValue):
    """What struts are sawn from.

    Parameters
    ----------
    id, name : str
        Catalogue name; name shown.
    material : Material
    section : Section
    mass : float, kg/m
        As printed where it is, else density times area.
    bars : tuple of Bar
        Usual lengths, longest first.
    process : str
        ``cold-formed``, ``hot-finished``, ``extruded``, ``sawn`` or ``grown``: picks the
        buckling curve.
    sources : mapping of str to Source
        ``outside``, ``wall`` ..., ``mass``, ``bars``, ``process``.
    """

    id: str
    name: str
    material: Material
    section: Section
    mass: float
    bars: tuple[Bar, ...]
    process: str
    sources: Mapping[str, Source] = field(default_factory=dict)

    @property
    def is_tube(self) -> bool:
        """Return True for a hollow section, which can be flattened."""
        return self.section.shape == "tube"


def _section(entry: Entry) -> Section:
    if entry.get("wall") is not None:
        return tube(entry.get("outside"), entry.get("wall"))
    if entry.get("width") is not None:
        return rectangle(entry.get("depth"), entry.get("width"))
    return rod(entry.get("outside"))


def _stock(entry: Entry) -> Stock:
    section, of = _section(entry), material(entry.words["material"])
    sources, mass = dict(entry.sources), entry.get("mass")
    if mass is None:
        mass = of.density * section.area
        sources["mass"] = Source("density times area", how="computed")
    bars = tuple(Bar(length) for length in sorted(entry.get("bars"), reverse=True))
    return Stock(
        id=entry.id,
        name=entry.words["name"],
        material=of,
        section=section,
        mass=mass,
        bars=bars,
        process=entry.words["process"],
        sources=sources,
    )


@cache
def _all() -> Mapping[str, Stock]:
    return {key: _stock(entry) for key, entry in entries("stock").items()}


def stock_ids() -> tuple[str, ...]:
    """Return the ids of all stock in the catalogue, in its order."""
    return tuple(_all())


def stock(name: str, where: str = "struts.stock") -> Stock:
    """Return the stock called `name`.

    Raises
    ------
    InputError
        ``catalogue-unknown``: no such stock; `where` is the key that named it.
    """
    known = _all()
    if name not in known:
        raise nearest(name, known, what="stock", where=where)
    return known[name]
