"""What a brief asks of a kit: loads, combinations, and what it stands on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from strutwright.brief import Brief
from strutwright.brief.files import read_text
from strutwright.catalogue import cover
from strutwright.errors import InputError
from strutwright.loads import (
    Combination,
    Door,
    LoadCase,
    Loads,
    LoadSite,
    Masses,
    combinations,
    load_cases,
)
from strutwright.loads.case import Format
from strutwright.loads.standards import practice
from strutwright.loads.standards.dome_arcs import ArcRow, read_dome_table
from strutwright.parts import Kit
from strutwright.shape import Shell
from strutwright.structure.answers import Setting
from strutwright.structure.bars import Family

__all__ = [
    "combinations_of",
    "doors_of",
    "load_site",
    "loads_of",
    "setting_of",
    "steady_of",
    "strength_format",
]

GRAVITY: Final = 9.81
LARGEST_TABLE: Final = 64 * 1024
"""Bytes of a table of dome coefficients; our choice: some thousand rows."""
DOME_TABLE: Final = "write the head line f_over_d,h_over_d,A,B,C,source and a line for each shape"
ALLOWABLE: Final = {"plastic": ("en", "us"), "bamboo": ("en", "us"), "timber": ("us",)}
"""Kinds of material and families of standards whose rules take allowable loads."""


def setting_of(brief: Brief) -> Setting:
    """Return what a kit of `brief` stands on and in."""
    family: Family = "en" if brief.site.standard == "en" else "us"
    base = brief.site.base
    hottest = max(brief.site.temperature)
    laid = brief.site.ballast
    ballast = None if laid is None else laid * GRAVITY
    return Setting(base, family, hottest, ballast=ballast)  # type: ignore[arg-type]  # brief's word


def strength_format(kit: Kit, family: Family) -> Format:
    """Return whether the rules for the kit's material take factored or allowable loads."""
    takes_allowable = family in ALLOWABLE.get(kit.stock.material.kind, ())
    return "allowable" if takes_allowable else "factored"


def combinations_of(
    cases: Sequence[LoadCase], brief: Brief, format_: Format
) -> tuple[Combination, ...]:
    """Return the combinations of `cases` by the standard of `brief`, in one format."""
    site = brief.site
    return combinations(
        cases,
        site.standard,
        format_,
        consequence=site.consequence,
        altitude=site.altitude,
    )


def load_site(brief: Brief) -> LoadSite | None:
    """Return the site of `brief` as the loads want it; None without snow or wind."""
    site = brief.site
    if site.ground_snow is None or site.basic_wind is None:
        return None
    return LoadSite(
        standard=site.standard,
        ground_snow=site.ground_snow,
        basic_wind=site.basic_wind.value,
        wind_basis=site.basic_wind.basis,
        exposure=site.exposure,
        consequence=site.consequence,
        topography=site.topography,
        altitude=site.altitude,
        riser=site.riser,
        dome_table=_dome_table(brief),
    )


def _dome_table(brief: Brief) -> tuple[ArcRow, ...]:
    """Return the rows of the user's own table of dome coefficients; none where none is named."""
    name = brief.site.dome_table
    if name is None:
        return ()
    path, where = brief.beside(name), brief.where("site.dome_table")
    text = read_text(
        path,
        LARGEST_TABLE,
        lambda what: InputError("dome-table", f"{path}: {what}", where, DOME_TABLE),
    )
    return read_dome_table(text, name)


def loads_of(kit: Kit, brief: Brief) -> Loads:
    """Return all load cases of `kit` on the site of `brief`, which gives snow and wind."""
    site = load_site(brief)
    if site is None:
        msg = "the brief gives no snow or no wind"
        raise ValueError(msg)
    return load_cases(
        kit.shell,
        _masses(kit, brief),
        site,
        hung=brief.loads.hung,
        crop=brief.loads.crop,
        doors=doors_of(kit.shell),
    )


def _masses(kit: Kit, brief: Brief) -> Masses:
    shell = kit.shell
    valence = np.bincount(shell.struts.ravel(), minlength=len(shell.hubs))
    at_hubs = kit.mass - kit.masses.get("struts", 0.0)
    mass, film = 0.0, None
    if brief.cover.material is not None:
        skin = cover(brief.cover.material)
        mass = skin.mass * brief.cover.layers
        if skin.kind == "film":
            film = practice.FILM_MODULUS * skin.thickness * brief.cover.layers
    n = len(shell.struts)
    return Masses(
        np.full(n, kit.stock.mass),
        np.full(n, kit.stock.section.depth),
        at_hubs * valence / valence.sum(),
        mass,
        film,
    )


def doors_of(shell: Shell) -> tuple[Door, ...]:
    """Return the doors of `shell` as the wind sees them."""
    doors = []
    for name, hubs in shell.groups.items():
        kind, _, rest = name.partition(".")
        if kind != "hubs" or not rest.endswith(".frame"):
            continue
        points = shell.hubs[hubs]
        middle = points.mean(axis=0)
        feet = points[points[:, 2] <= points[:, 2].min() + 1e-6]
        wide = float(np.linalg.norm(feet[-1] - feet[0]))
        area = wide * float(np.ptp(points[:, 2]))
        azimuth = float(np.arctan2(middle[1], middle[0]))
        doors.append(Door(rest.removesuffix(".frame"), azimuth, area, tuple(hubs.tolist())))
    return tuple(doors)


def steady_of(loads: Loads, brief: Brief, format_: Format) -> tuple[Combination, ...]:
    """Return the combinations for stability of the base where strength takes loads unfactored.

    EN 1990 judges it with factors (EQU) whatever the struts are made of.
    """
    if format_ == "factored" or brief.site.standard != "en":
        return ()
    if brief.site.base not in {"ballast", "free"}:
        return ()
    factored = combinations_of(loads.cases, brief, "factored")
    return tuple(replace(c, format="-") for c in factored if c.limit_state == "EQU")
