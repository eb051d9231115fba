"""Where the shell stands, as the loading rules need it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from strutwright.errors import InputError, Problem
from strutwright.loads.standards import asce7_16, asce7_22, en1990, en1991_1_4
from strutwright.loads.standards.dome_arcs import ArcRow

__all__ = ["STANDARDS", "Door", "LoadSite"]

STANDARDS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "en": en1991_1_4.WIND_BASIS,
        "asce7-16": asce7_16.WIND_BASIS,
        "asce7-22": asce7_22.WIND_BASIS,
    }
)
"""Standards and the averaging time of their basic wind speed."""
_RISK: Final = tuple(asce7_16.I_S)
_MOST_SNOW: Final = 20e3
_MOST_WIND: Final = {"10 min mean": 60.0, "3 s gust": 100.0}


@dataclass(frozen=True)
class Door:
    """A door or vent that may stand open.

    Parameters
    ----------
    name : str
    azimuth : float, rad
        Direction it faces, anticlockwise from +x.
    area : float, m2
    hubs : tuple of int
        Hubs round the hole, which take the wind on the leaf; empty when not known.
    """

    name: str
    azimuth: float
    area: float = 0.0
    hubs: tuple[int, ...] = ()


@dataclass(frozen=True)
class LoadSite:
    """Site and standard; all numbers SI.

    Parameters
    ----------
    standard : str
        ``en``, ``asce7-16`` or ``asce7-22``.
    ground_snow : float, Pa
    basic_wind : float, m/s
    wind_basis : str
        Averaging time: ``10 min mean`` (EN) or ``3 s gust`` (ASCE); another is refused.
    exposure : str
        Terrain category 0, I to IV (EN), exposure B to D (ASCE).
    consequence : str
        CC1 to CC3, or risk category I to IV.
    topography : float
        Orography factor c_o (EN) or K_zt (ASCE).
    altitude : float, m
    riser : float, m
        Height of the base ring above the ground.
    heated : bool
        True only where heat is certain; a kit is taken as unheated.
    slippery : bool
        True only for smooth film from which snow can fall clear.
    dome_table : tuple of ArcRow
        Ordinates of the dome arcs, the user's own; the hemisphere is known without.

    Raises
    ------
    InputError
        Everything that is wrong, at once.
    """

    standard: str
    ground_snow: float
    basic_wind: float
    wind_basis: str
    exposure: str
    consequence: str
    topography: float = 1.0
    altitude: float = 0.0
    riser: float = 0.0
    heated: bool = False
    slippery: bool = False
    dome_table: tuple[ArcRow, ...] = ()

    def __post_init__(self) -> None:
        """Check every field against the standard."""
        problems = list(_problems(self))
        if problems:
            raise InputError.of(problems)

    @property
    def is_asce(self) -> bool:
        """True for either edition of ASCE 7."""
        return self.standard != "en"


def _problems(site: LoadSite) -> list[Problem]:
    if site.standard not in STANDARDS:
        known = ", ".join(STANDARDS)
        return [Problem("value-unknown", f"standard {site.standard!r}", "site.standard", known)]
    found = []
    basis = STANDARDS[site.standard]
    if _plain(site.wind_basis) != _plain(basis):
        found.append(
            Problem(
                "wind-basis",
                f"wind speed as {site.wind_basis!r}; {site.standard} takes {basis!r}",
                "site.basic_wind",
                f"give the {basis} speed of the site, or take the standard of that map",
            )
        )
    asce = site.is_asce
    terrain = asce7_16.TERRAIN if asce else en1991_1_4.TERRAIN
    classes = _RISK if asce else tuple(en1990.K_FI)
    for key, value, choices in (
        ("exposure", site.exposure, tuple(terrain)),
        ("consequence", site.consequence, classes),
    ):
        if value not in choices:
            mend = "take one of " + ", ".join(choices)
            found.append(Problem("value-unknown", f"{key} {value!r}", f"site.{key}", mend))
    for key, number, low, high, unit in (
        ("ground_snow", site.ground_snow, 0, _MOST_SNOW, "Pa"),
        ("basic_wind", site.basic_wind, 0, _MOST_WIND[basis], "m/s"),
        ("topography", site.topography, 1, 10, ""),
        ("altitude", site.altitude, -500, 6000, "m"),
        ("riser", site.riser, 0, 5, "m"),
    ):
        if not low <= number <= high:
            what = f"{key} {number:.6g} {unit}, not in {low:g} to {high:g} {unit}".rstrip()
            found.append(Problem("value-out-of-range", what, f"site.{key}", "check the unit"))
    return found


def _plain(text: str) -> str:
    return re.sub(r"[^a-z0-9]", "", text.lower())
