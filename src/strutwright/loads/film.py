"""What presses on the film of a cover, for its own checks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.catalogue import Source
from strutwright.loads.site import Door, LoadSite
from strutwright.loads.snow import peak_snow
from strutwright.loads.standards import asce7_16, asce7_22, en1990
from strutwright.loads.wind import peak_pressures
from strutwright.shape import Shell
from strutwright.values import ArrayValue, Floats

__all__ = ["FilmPressure", "film_pressures"]

_EN: Final = Source("EN 1990", 2002, "6.5.3 eq. 6.14; Tables A1.2, B3", "recalled")
_ASCE: Final = {"asce7-16": asce7_16, "asce7-22": asce7_22}


@dataclass(frozen=True, eq=False)
class FilmPressure(ArrayValue):
    """The worst of wind and snow on each face, either way, one action at a time.

    Parameters
    ----------
    wind, snow : (F,) array, Pa
        In use: characteristic (EN) or with the factors of allowable design (ASCE 7).
    strength : (F,) array, Pa
        The larger with the factors of strength design.
    source : Source
        Of the factors.
    """

    wind: Floats
    snow: Floats
    strength: Floats
    source: Source

    @property
    def service(self) -> Floats:
        """The larger of both in use, (F,), Pa."""
        return np.maximum(self.wind, self.snow)


def film_pressures(shell: Shell, site: LoadSite, doors: tuple[Door, ...] = ()) -> FilmPressure:
    """Return what presses on each face, in use and for strength."""
    wind, snow = peak_pressures(shell, site, doors), peak_snow(shell, site)
    use, full, source = _factors(site)
    factored = np.maximum(full["wind"] * wind, full["snow"] * snow)
    return FilmPressure(use["wind"] * wind, use["snow"] * snow, factored, source)


def _factors(site: LoadSite) -> tuple[Mapping[str, float], Mapping[str, float], Source]:
    """Return the factors in use and for strength, and their source."""
    if site.standard == "en":
        q = en1990.GAMMA["STR"]["Q"] * en1990.K_FI[site.consequence]
        return {"wind": 1.0, "snow": 1.0}, {"wind": q, "snow": q}, _EN
    edition = _ASCE[site.standard]
    use, full = (
        {name: max(line.get(name, 0.0) for line in table.values()) for name in ("wind", "snow")}
        for table in (edition.COMBINATIONS_ASD, edition.COMBINATIONS_LRFD)
    )
    return use, full, edition.SOURCES["COMBINATIONS_LRFD"]
