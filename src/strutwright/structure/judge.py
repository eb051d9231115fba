"""From a kit and its brief to loads, analysis and checks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from strutwright.brief import Brief
from strutwright.catalogue import Source, cover
from strutwright.errors import ResultError
from strutwright.loads import (
    Combination,
    Door,
    LoadCase,
    Loads,
    LoadSite,
    Masses,
    accidents,
    combinations,
    load_cases,
)
from strutwright.loads.case import Format
from strutwright.loads.standards import practice
from strutwright.parts import Kit
from strutwright.shape import Shell
from strutwright.structure.analyse import Analysis, Answers, Setting, analyse, answer_cases
from strutwright.structure.base import base_checks, base_notes
from strutwright.structure.capacity import Capacity, capacity, limit_checks
from strutwright.structure.check import Check, Subject
from strutwright.structure.checks import serviceability_checks, strut_checks
from strutwright.structure.members import Family
from strutwright.structure.uses import use_checks
from strutwright.values import ArrayValue, Note

__all__ = ["Judgement", "doors_of", "judge", "load_site", "setting_of"]

GRAVITY: Final = 9.81
ALLOWABLE: Final = {"plastic": ("en", "us"), "bamboo": ("en", "us"), "timber": ("us",)}
"""Kinds of material and families of standards whose rules take allowable loads."""
SHELL: Final = Subject("shell")
SITE: Final = Source("the loads of the site", how="judgement")


@dataclass(frozen=True, eq=False)
class Judgement(ArrayValue):
    """Whether a kit stands, and everything behind it.

    Parameters
    ----------
    checks : tuple of Check
    loads : Loads or None
        None where the brief gives no site.
    strength, service : Analysis or None
        Of the combinations for strength and for serviceability.
    capacity : Capacity or None
        What may hang and what fails first; None where the kit cannot stand at all.
    notes : tuple of Note
    """

    checks: tuple[Check, ...]
    loads: Loads | None = None
    strength: Analysis | None = None
    service: Analysis | None = None
    capacity: Capacity | None = None
    notes: tuple[Note, ...] = ()


def judge(kit: Kit, brief: Brief, *, limits: bool = True) -> Judgement:
    """Return the judgement of `kit` on the site of `brief`: linear, low end of joint stiffness.

    Parameters
    ----------
    limits : bool
        Also how much more it can carry; left out where many kits are tried.

    Raises
    ------
    InputError
        Site and standard do not fit together, or the material may not be used so hot.
    """
    site = brief.site
    if site.ground_snow is None or site.basic_wind is None:
        missing = "snow" if site.ground_snow is None else "wind"
        why = f"the brief gives no {missing} load"
        check = Check.not_made("site-loads", SHELL, why, SITE)
        return Judgement((*use_checks(kit, brief, None), check))
    loads = _loads(kit, brief)
    setting = setting_of(brief)
    format_ = _format(kit, setting.family)
    strong = _combinations(loads.cases, brief, format_)
    soft = _combinations(loads.cases, brief, "-")
    steady = _steady(loads, brief, format_)
    lost = accidents(loads.cases, site.standard, format_, altitude=site.altitude)
    left_out = tuple(Check.not_made(n.code, SHELL, n.text, SITE) for n in loads.not_checked)
    left_out += _not_yet()
    try:
        answers = answer_cases(kit, loads.cases, (*strong, *soft, *steady, *lost), setting)
    except ResultError as error:
        if error.code != "mechanism":
            raise
        what = Source("equilibrium of the kit with its joints", how="computed")
        why = f"{error.what} ({error.where})"
        check = Check.made(
            "mechanism", SHELL, 1.0, 0.0, unit="-", source=what, note=f"{why}; {error.mend}"
        )
        checks = (*use_checks(kit, brief, None), check, *left_out)
        return Judgement(checks, loads, notes=loads.notes)
    strength = analyse(kit, answers, strong, setting)
    service = analyse(kit, answers, soft, setting)
    balance = (strength, analyse(kit, answers, steady, setting)) if steady else (strength,)
    more = None if not limits else capacity(
        kit, site, answers, strong, setting=setting, after_loss=lost,
        combine=lambda cases: _combinations(cases, brief, format_),
    )  # fmt: skip
    checks = (
        *use_checks(kit, brief, more),
        *strut_checks(kit, strength),
        *(() if more is None else limit_checks(kit, more, brief.loads.hung)),
        *serviceability_checks(kit, service),
        *base_checks(kit, balance, setting, _dead_press(answers)),
        *left_out,
    )
    said = (*loads.notes, *strength.notes, *base_notes(setting), *(more.notes if more else ()))
    notes = tuple(dict.fromkeys(said))
    return Judgement(checks, loads, strength, service, more, notes)


def _dead_press(answers: Answers) -> float:
    """Return what the frame's own weight presses on each hub on the ground, on average, N."""
    solved = next(iter(answers.solved.values()))
    rows = [k for k, case in enumerate(answers.cases) if case.action == "dead"]
    return float(solved.reactions[rows, :, 2].sum(axis=0).mean())


def _steady(loads: Loads, brief: Brief, format_: Format) -> tuple[Combination, ...]:
    """Return the combinations for stability of the base where strength takes loads unfactored.

    EN 1990 judges it with factors (EQU) whatever the struts are made of.
    """
    if format_ == "factored" or brief.site.standard != "en":
        return ()
    if brief.site.base not in {"ballast", "free"}:
        return ()
    factored = _combinations(loads.cases, brief, "factored")
    return tuple(replace(c, format="-") for c in factored if c.limit_state == "EQU")


def _not_yet() -> tuple[Check, ...]:
    """Return the checks that this program does not make yet, so that no kit passes without them."""
    missing = {
        "shell-stability": "buckling and snap-through of the whole shell are not judged yet",
    }
    return tuple(Check.not_made(code, SHELL, why, SITE) for code, why in missing.items())


def setting_of(brief: Brief) -> Setting:
    """Return what a kit of `brief` stands on and in."""
    family: Family = "en" if brief.site.standard == "en" else "us"
    base = brief.site.base
    hottest = max(brief.site.temperature)
    laid = brief.site.ballast
    ballast = None if laid is None else laid * GRAVITY
    return Setting(base, family, hottest, ballast=ballast)  # type: ignore[arg-type]  # brief's word


def _format(kit: Kit, family: Family) -> Format:
    takes_allowable = family in ALLOWABLE.get(kit.stock.material.kind, ())
    return "allowable" if takes_allowable else "factored"


def _combinations(
    cases: Sequence[LoadCase], brief: Brief, format_: Format
) -> tuple[Combination, ...]:
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
    )


def _loads(kit: Kit, brief: Brief) -> Loads:
    site = load_site(brief)
    if site is None:
        msg = "judge() asks for snow and wind first"
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
