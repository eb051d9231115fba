"""The factors and coefficients behind the loads of a site, as a report prints them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from strutwright.catalogue import Source
from strutwright.loads.fields import Field
from strutwright.loads.form import Form
from strutwright.loads.site import LoadSite
from strutwright.loads.snow import balanced, drifted, flat_roof_snow, snow_factors, snow_rule
from strutwright.loads.standards import asce7_16, asce7_22, asce7_shared, en1991_1_4
from strutwright.loads.wind import directionality, fields_of, velocity_pressure
from strutwright.values import Floats

__all__ = ["SiteFactor", "ZoneRow", "site_factors", "snow_zones", "wind_zones"]

_BRIEF = Source("the brief, from the map of the place", how="read")
_QUARTERS = (-np.inf, -0.25, 0.25, np.inf)


@dataclass(frozen=True)
class SiteFactor:
    """One number of the load basis.

    Parameters
    ----------
    symbol : str
        As the standard prints it.
    value : float
    unit : str
        ``-``, ``Pa`` or ``m``.
    source : Source
    """

    symbol: str
    value: float
    unit: str
    source: Source


@dataclass(frozen=True)
class ZoneRow:
    """Coefficients of one field, or snow of one case, in the zones across its direction.

    Parameters
    ----------
    name : str
    direction : float or None, rad
    zones : three pairs of float
        Least and largest in the windward quarter, the middle half and the leeward quarter of the
        extent along the direction.
    source : Source
    """

    name: str
    direction: float | None
    zones: tuple[tuple[float, float], ...]
    source: Source


def site_factors(form: Form, site: LoadSite) -> tuple[SiteFactor, ...]:
    """Return the factors of snow and wind of `site` at the height of `form`, with their clauses."""
    return (*_snow(site), *_wind(form, site))


def _snow(site: LoadSite) -> tuple[SiteFactor, ...]:
    flat = "s / mu" if site.standard == "en" else "p_f"
    found = [
        SiteFactor(name, value, "-", source) for name, (value, source) in snow_factors(site).items()
    ]
    ground = "s_k" if site.standard == "en" else "p_g"
    return (
        SiteFactor(ground, site.ground_snow, "Pa", _BRIEF),
        *found,
        SiteFactor(flat, flat_roof_snow(site), "Pa", snow_rule(site)),
    )


def _wind(form: Form, site: LoadSite) -> tuple[SiteFactor, ...]:
    z, q = form.top, velocity_pressure(site, form.top, form)
    if site.standard == "en":
        of = en1991_1_4.SOURCES
        return (
            SiteFactor("z_e", z, "m", of["q_p"]),
            SiteFactor("c_e(z_e)", float(en1991_1_4.c_e(z, site.exposure, site.topography)), "-",
                       of["c_e"]),
            SiteFactor("c_o", site.topography, "-", of["q_p"]),
            SiteFactor("q_p(z_e)", q, "Pa", of["q_p"]),
            SiteFactor("c_s c_d", en1991_1_4.c_s_c_d(z), "-", of["c_s_c_d"]),
            *(SiteFactor("c_pi", value, "-", of["C_PI"]) for value in en1991_1_4.C_PI),
        )  # fmt: skip
    edition = asce7_22 if site.standard == "asce7-22" else asce7_16
    shared = asce7_shared.SOURCES
    return (
        SiteFactor("h", z, "m", shared["C_p_arch"]),
        SiteFactor("K_h", float(edition.K_z(z, site.exposure)), "-", edition.SOURCES["K_z"]),
        SiteFactor("K_zt", site.topography, "-", shared["K_zt"]),
        SiteFactor("K_e", float(asce7_shared.K_e(site.altitude)), "-", shared["K_e"]),
        SiteFactor("K_d", directionality(form), "-", shared["K_D"]),
        SiteFactor("q_h", q, "Pa", edition.SOURCES["q_z"]),
        SiteFactor("G", asce7_shared.G_RIGID, "-", shared["G_RIGID"]),
        *(
            SiteFactor("GC_pi", sign * asce7_shared.GC_PI["enclosed"], "-", shared["GC_PI"])
            for sign in (1, -1)
        ),
    )


def wind_zones(form: Form, site: LoadSite) -> tuple[ZoneRow, ...]:
    """Return the external coefficients of each kind of field in its zones.

    Fields that differ in direction alone are told once, by the first of them.
    """
    if site.basic_wind == 0:
        return ()
    rows: dict[str, ZoneRow] = {}
    for field in fields_of(form, site)[0]:
        if field.name not in rows:
            rows[field.name] = _row(form, field)
    return tuple(rows.values())


def _row(form: Form, field: Field) -> ZoneRow:
    return ZoneRow(
        field.name, field.direction, _zones(form, field.direction, field.c_p), field.source
    )


def snow_zones(form: Form, site: LoadSite) -> tuple[ZoneRow, ...]:
    """Return the snow on plan over that on a flat roof, even and drifted across, in its zones."""
    if site.ground_snow == 0:
        return ()
    source, flat = snow_rule(site), flat_roof_snow(site)
    across = np.pi / 2
    even, drift = balanced(form, site) / flat, drifted(form, site, across) / flat
    return (
        ZoneRow("snow balanced", None, _zones(form, across, even), source),
        ZoneRow("snow drifted", across, _zones(form, across, drift), source),
    )


def _zones(form: Form, direction: float, values: Floats) -> tuple[tuple[float, float], ...]:
    """Return least and largest of (F,) `values` in the three zones along `direction`.

    Faces that lie in one zone whole tell it; where none does, those with their centre there.
    """
    blow = np.array([np.cos(direction), np.sin(direction), 0.0])
    along = form.corners @ blow
    middle, extent = 0.5 * (along.min() + along.max()), np.ptp(along)
    place = (along - middle) / extent
    found = []
    for low, high in pairwise(_QUARTERS):
        within = ((place >= low - 1e-9) & (place <= high + 1e-9)).all(axis=1)
        centred = (place.mean(axis=1) >= low) & (place.mean(axis=1) < high)
        there = values[within if within.any() else centred]
        found.append((float(there.min()), float(there.max())) if len(there) else (0.0, 0.0))
    return tuple(found)
