"""Materials: stiffness and strength with their sources, by duration and temperature."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Final

import numpy as np

from strutwright.catalogue.load import Entry, entries, nearest
from strutwright.catalogue.source import Source
from strutwright.errors import InputError
from strutwright.values import ArrayValue, Floats

__all__ = [
    "DURATIONS",
    "Material",
    "material",
    "materials",
    "modulus_at",
    "temperature_factor",
]

DURATIONS: Final = ("permanent", "long", "season", "week", "gust")
"""Load durations after EN 1995-1-1, 2.3.1.2: over 10 years, to 10 years, to 6 months, to 1 week,
gusts."""


@dataclass(frozen=True, eq=False)
class Material(ArrayValue):
    """A material as the structure needs it.

    Parameters
    ----------
    id, name : str
        Catalogue name; name shown.
    kind : str
        ``plastic``, ``steel``, ``aluminium``, ``timber`` or ``bamboo``.
    density : float, kg/m3
        Mean.
    density_low : float or None, kg/m3
        5 % fractile, for timber connections.
    modulus : float, Pa
        Mean modulus of elasticity under a short load at 23 °C.
    modulus_low : float or None, Pa
        Modulus for stability where the standard has its own: 5 % fractile or Emin.
    shear_modulus : float, Pa
        Given, or from Poisson's ratio.
    expansion : float, 1/K
        Thermal expansion along the strut.
    yield_strength, ultimate_strength : float or None, Pa
        Of metals; of plastic the tensile strength stands as ultimate.
    strengths : mapping of str to float, Pa
        By the standard's own symbol: EN 338 ``fm ft0 fc0 fv``, NDS ``Fb Ft Fc Fv``, plastic
        ``working`` (sustained) and ``fifty_years``, bamboo allowable ``Fb Ft Fc Fp Fv``.
    modulus_by_duration : mapping of str to float, Pa
        By `DURATIONS`; empty where duration does not matter to stiffness.
    strength_by_temperature, modulus_by_temperature : (n, 2) array or None
        Temperature in °C against the factor on the value at 23 °C.
    hottest : float or None, °C
        Above this the material may not be used.
    remarks : tuple of str
        What the reader of a report must know.
    sources : mapping of str to Source
        One for every number above.
    """

    id: str
    name: str
    kind: str
    density: float
    modulus: float
    shear_modulus: float
    expansion: float
    density_low: float | None = None
    modulus_low: float | None = None
    yield_strength: float | None = None
    ultimate_strength: float | None = None
    strengths: Mapping[str, float] = field(default_factory=dict)
    modulus_by_duration: Mapping[str, float] = field(default_factory=dict)
    strength_by_temperature: Floats | None = None
    modulus_by_temperature: Floats | None = None
    hottest: float | None = None
    remarks: tuple[str, ...] = ()
    sources: Mapping[str, Source] = field(default_factory=dict)

    @property
    def verified(self) -> bool:
        """Return True when every number was read, computed or tested."""
        return all(source.verified for source in self.sources.values())


def _table(entry: Entry, key: str) -> Floats | None:
    rows = entry.get(key)
    return None if rows is None else np.array(rows, dtype=np.float64)


def _material(entry: Entry) -> Material:
    sources = dict(entry.sources)
    shear = entry.get("shear_modulus")
    if shear is None:
        shear = entry.get("modulus") / (2 * (1 + entry.get("poisson")))
        sources["shear_modulus"] = Source("E / (2 (1 + nu)), isotropic", how="computed")
    return Material(
        id=entry.id,
        name=entry.words["name"],
        kind=entry.words["kind"],
        density=entry.get("density"),
        modulus=entry.get("modulus"),
        shear_modulus=shear,
        expansion=entry.get("expansion"),
        density_low=entry.get("density_low"),
        modulus_low=entry.get("modulus_low"),
        yield_strength=entry.get("yield_strength"),
        ultimate_strength=entry.get("ultimate_strength"),
        strengths=entry.get("strengths") or {},
        modulus_by_duration=entry.get("modulus_by_duration") or {},
        strength_by_temperature=_table(entry, "strength_by_temperature"),
        modulus_by_temperature=_table(entry, "modulus_by_temperature"),
        hottest=entry.get("hottest"),
        remarks=tuple(entry.words.get("remarks", ())),
        sources=sources,
    )


@cache
def materials() -> Mapping[str, Material]:
    """Return all materials of the catalogue by id."""
    return {key: _material(entry) for key, entry in entries("materials").items()}


def material(name: str, where: str = "struts.stock.material") -> Material:
    """Return the material called `name`.

    Raises
    ------
    InputError
        ``catalogue-unknown``: no such material; `where` is the key that named it.
    """
    known = materials()
    if name not in known:
        raise nearest(name, known, what="material", where=where)
    return known[name]


def temperature_factor(of: Material, table: Floats | None, temperature: float) -> float:
    """Return the factor at `temperature` (°C) by linear interpolation; 1 where there is no table.

    Below the table's first temperature the factor is its first value: cold is not counted as gain.

    Raises
    ------
    InputError
        ``material-too-hot``: above what the material may be used at or the table covers.
    """
    limit = of.hottest if of.hottest is not None else np.inf
    if table is not None:
        limit = min(limit, float(table[-1, 0]))
    if temperature > limit:
        raise InputError(
            "material-too-hot",
            f"{temperature:g} °C is above the {limit:g} °C to which {of.name} may be used",
            "site.temperature",
            "choose another material, or shade and ventilate so that the frame stays cooler",
        )
    if table is None:
        return 1.0
    return float(np.interp(temperature, table[:, 0], table[:, 1]))


def modulus_at(of: Material, duration: str, temperature: float = 23.0) -> float:
    """Return the modulus of elasticity for a load `duration` and a `temperature` (°C), Pa."""
    if duration not in DURATIONS:
        msg = f"{duration!r} is not one of {DURATIONS}"
        raise ValueError(msg)
    modulus = of.modulus_by_duration.get(duration, of.modulus)
    return modulus * temperature_factor(of, of.modulus_by_temperature, temperature)
