"""Snow on the shell and against its base, by the standard of the site."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from strutwright.catalogue import Source
from strutwright.loads.case import LoadCase, Loads
from strutwright.loads.cover import edge_pull, onto_struts
from strutwright.loads.form import Form, form_of
from strutwright.loads.site import LoadSite
from strutwright.loads.standards import (
    asce7_16,
    asce7_22,
    asce7_shared,
    en1990,
    en1991_1_3,
    practice,
)
from strutwright.sentences import note
from strutwright.shape import Shell
from strutwright.values import Floats, Note

__all__ = [
    "ABUTS",
    "SETTLED",
    "balanced",
    "drifted",
    "flat_roof_snow",
    "least_snow",
    "peak_snow",
    "snow_factors",
    "snow_loads",
]

ABUTS: Final = 0.9144
"""Eaves within this of the ground keep their unbalanced snow, m (3 ft), ASCE 7, 7.6.2."""
SETTLED: Final = 3000.0
"""Weight of snow that lies against the base, N/m3 (our choice, settled snow)."""
_LOW: Final = np.radians(10.0)
_HIGH: Final = np.radians(60.0)
_STEEP: Final = np.radians(70.0)
_LEAST: Final = {"asce7-16": asce7_16.SOURCES["p_m"], "asce7-22": asce7_22.SOURCES["p_m"]}


def _thermal(site: LoadSite) -> float:
    table = asce7_16.C_T if site.standard == "asce7-16" else asce7_22.C_T
    return table["heated" if site.heated else "unheated"]


def flat_roof_snow(site: LoadSite) -> float:
    """Return the snow on a flat roof, Pa: p_f (ASCE, partially exposed) or s_k C_e C_t (EN, 1, 1).

    Source: ASCE 7 eq. 7.3-1; EN 1991-1-3 eq. 5.1 with mu = 1.
    """
    factors = {name: value for name, (value, _) in snow_factors(site).items()}
    if site.standard == "en":
        return float(en1991_1_3.s(1.0, site.ground_snow, factors["C_e"], factors["C_t"]))
    if site.standard == "asce7-22":
        return asce7_22.p_f(site.ground_snow, factors["C_e"], factors["C_t"])
    return asce7_16.p_f(site.ground_snow, factors["C_e"], factors["C_t"], factors["I_s"])


def snow_factors(site: LoadSite) -> dict[str, tuple[float, Source]]:
    """Return the factors between snow on the ground and on a flat roof, each with its source."""
    if site.standard == "en":
        of = en1991_1_3.SOURCES
        return {"C_e": (1.0, of["C_E"]), "C_t": (1.0, of["s"])}
    exposure = asce7_shared.C_E[site.exposure]["partially"], asce7_shared.SOURCES["C_E"]
    if site.standard == "asce7-22":
        return {"C_e": exposure, "C_t": (_thermal(site), asce7_22.SOURCES["C_T"])}
    return {
        "C_e": exposure,
        "C_t": (_thermal(site), asce7_16.SOURCES["C_T"]),
        "I_s": (asce7_16.I_S[site.consequence], asce7_16.SOURCES["I_S"]),
    }


def least_snow(form: Form, site: LoadSite) -> float:
    """Return the least snow of a low curved roof, Pa: p_m of ASCE 7, 7.3.4 or 7.3.3; else 0.

    It is asked for where the chord from base to crown rises less than 10 degrees.
    """
    if not site.is_asce or _chord(form) >= _LOW:
        return 0.0
    if site.standard == "asce7-22":
        return asce7_22.p_m(site.ground_snow, site.consequence)
    return asce7_16.p_m(site.ground_snow, asce7_16.I_S[site.consequence])


def _chord(form: Form) -> float:
    """Return the slope of the chord from the eave, or the 70 degree point, to the crown, rad."""
    chord = float(np.arctan2(2 * form.rise, form.span))
    return chord if form.eave <= _STEEP else min(chord, _STEEP / 2)


def balanced(form: Form, site: LoadSite) -> Floats:
    """Return the balanced snow of each face, (F,), Pa of plan area.

    ASCE: C_s of the local slope times p_f; EN: the cylinder's undrifted coefficient.
    """
    flat, slopes = flat_roof_snow(site), form.slopes
    if site.standard == "en":
        return flat * en1991_1_3.mu_cylinder(slopes)
    return flat * asce7_shared.C_s(slopes, _thermal(site), slippery=site.slippery)


def drifted(form: Form, site: LoadSite, direction: float) -> Floats:
    """Return the drifted snow of each face, (F,), Pa of plan area.

    Round the spine of the shell: the rule of a curved roof along the radius, full in the 90
    degrees downwind, falling to nothing over 22.5 degrees to each side (ASCE 7.6.3; EN has no
    rule for domes and takes the same sector here). A shell that springs from the ground keeps its
    load from 30 degrees to the eave (ASCE 7.6.2: ground within 3 ft of the eave). EN puts half as
    much on the windward side of vaults and long domes (5.3.5 case ii); a dome has none there.

    Parameters
    ----------
    form : Form
    site : LoadSite
    direction : float, rad
        Towards which the snow drifts.
    """
    away = form.outward()
    turn = np.arctan2(away[..., 1], away[..., 0]) - direction
    lee, luv = asce7_shared.sector_share(turn), asce7_shared.sector_share(turn - np.pi)
    if site.standard != "en":
        exposure = asce7_shared.C_E[site.exposure]["partially"]
        load = asce7_shared.p_unbalanced(
            form.slopes, flat_roof_snow(site), exposure, _thermal(site), slippery=site.slippery,
            eave=form.eave, abutting=form.spring <= ABUTS,
        )  # fmt: skip
        return np.asarray(load * lee.mean(axis=1))
    width = 2 * form.radius * np.sin(min(form.eave, en1991_1_3.STEEPEST))
    peak = en1991_1_3.mu_cylinder_peak(form.rise / form.span)
    mu = en1991_1_3.mu_cylinder_drifted(np.linalg.norm(away, axis=2), width, peak)
    windward = 0.0 if form.kind == "dome" else 0.5
    mean = (mu * (lee + windward * luv)).mean(axis=1)
    return np.where(form.slopes <= en1991_1_3.STEEPEST + 1e-12, flat_roof_snow(site) * mean, 0.0)


def snow_loads(shell: Shell, form: Form, site: LoadSite, film_stiffness: float | None) -> Loads:
    """Return every snow case of the shell: balanced, drifted, half span, at the base."""
    if site.ground_snow == 0:
        return Loads((), (note("snow-none"),))
    maker = _maker(shell, form, site, film_stiffness)
    even = balanced(form, site)
    rule = snow_rule(site)
    cases = [maker("snow balanced", even, None, rule)]
    notes = list(_notes(form, site))
    least = least_snow(form, site)
    if least > flat_roof_snow(site):
        even_all = np.full(len(form.areas), least)
        cases.append(maker("snow least", even_all, None, _LEAST[site.standard]))
    if site.standard == "en" or _LOW <= _chord(form) <= _HIGH:
        for turn in _directions(form, drift=True):
            load = drifted(form, site, turn)
            if load.any():
                cases.append(maker(f"snow drifted to {np.degrees(turn):.0f}", load, turn, rule))
    else:
        notes.append(note("snow-no-drift"))
    half_rule = Source("half-span snow on shells, GB 50009", 2012, "Table 7.2.2", "read")
    for turn in _directions(form, drift=False):
        load = even * _half(form, turn)
        cases.append(maker(f"snow on the half to {np.degrees(turn):.0f}", load, turn, half_rule))
    cases.extend(_base_cases(shell, form, site, even))
    return Loads(tuple(cases), tuple(notes))


def peak_snow(shell: Shell, site: LoadSite) -> Floats:
    """Return the largest snow square to each face, (F,), Pa, unfactored: balanced or drifted."""
    if site.ground_snow == 0:
        return np.zeros(len(shell.faces))
    form = form_of(shell, site.riser)
    drifts = [drifted(form, site, turn) for turn in _directions(form, drift=True)]
    plan = np.maximum(form.normals[:, 2], 0)
    return np.asarray(np.maximum.reduce([balanced(form, site), *drifts]) * plan**2)


def _duration(site: LoadSite) -> str:
    low = site.standard == "en" and site.altitude <= en1990.HIGH_SITE
    return "week" if low else "season"


def snow_rule(site: LoadSite) -> Source:
    """Return where the snow on a curved roof comes from."""
    if site.standard == "en":
        return Source("EN 1991-1-3", 2003, "5.2, 5.3.5", "recalled")
    if site.standard == "asce7-16":
        return Source("ASCE 7-16", 2016, "7.3, 7.4.3, 7.6.2, 7.6.3", "recalled")
    return Source("ASCE 7-22", 2022, "7.3, 7.4.3, 7.6.2, 7.6.3", "recalled")


def _maker(
    shell: Shell, form: Form, site: LoadSite, film_stiffness: float | None
) -> Callable[[str, Floats, float | None, Source], LoadCase]:
    """Return a function from snow on plan (F,), Pa, to its case."""

    def make(name: str, load: Floats, direction: float | None, source: Source) -> LoadCase:
        plan = np.maximum(form.normals[:, 2], 0)
        forces = np.zeros((len(form.areas), 3))
        forces[:, 2] = -load * plan * form.areas
        hubs, lines = onto_struts(shell, forces)
        if film_stiffness is not None:
            pull = edge_pull(shell, load * plan**2, film_stiffness)
            hubs, lines = hubs + pull[0], lines + pull[1]
        return LoadCase(name, "snow", hubs, lines, _duration(site), source, direction)

    return make


def _directions(form: Form, *, drift: bool) -> Floats:
    if form.kind == "vault" and drift:
        return np.array([0.5, 1.5]) * np.pi
    count = 8 if form.kind == "dome" or drift else 4
    return np.linspace(0, 2 * np.pi, count, endpoint=False)


def _half(form: Form, direction: float) -> Floats:
    """Return the share of each face, (F,), that lies on the side `direction` of the middle."""
    ahead = form.samples[..., :2] @ [np.cos(direction), np.sin(direction)]
    share = np.where(np.abs(ahead) < 1e-9 * form.span, 0.5, (ahead > 0).astype(np.float64))
    return np.asarray(share.mean(axis=1))


def _base_cases(shell: Shell, form: Form, site: LoadSite, even: Floats) -> list[LoadCase]:
    """Return snow lying against the base, all round and on one side, with the balanced snow."""
    plan = form.areas * np.maximum(form.normals[:, 2], 0)
    eaves = 4 * form.spine + (0.0 if form.kind == "vault" else np.pi * form.span)
    slid = max(0.0, float((flat_roof_snow(site) - even) @ plan)) / eaves
    depth = site.ground_snow / SETTLED + practice.heap_depth(slid, SETTLED)
    pressure = _mean_side_pressure(shell, form, depth)
    source = Source("snow slid and drifted to the base, as a fluid", None, "", "judgement")
    onto = -form.normals * (pressure * form.areas)[:, None]
    onto[:, 2] = np.minimum(onto[:, 2], 0)
    roof = np.zeros_like(onto)
    roof[:, 2] = -even * plan
    sides: list[tuple[str, float | None, Floats]] = [("all round", None, np.ones(len(plan)))]
    for turn in np.arange(4) * np.pi / 2:
        sides.append((f"to {np.degrees(turn):.0f}", float(turn), _half(form, turn)))
    cases = []
    for name, direction, share in sides:
        hubs, lines = onto_struts(shell, roof + onto * share[:, None])
        cases.append(
            LoadCase(
                f"snow at the base {name}", "snow", hubs, lines, _duration(site), source, direction
            )
        )
    return cases


def _mean_side_pressure(shell: Shell, form: Form, depth: float) -> Floats:
    """Return the mean pressure (F,), Pa, of snow of `depth` above ground on each face."""
    z = form.samples[..., 2] - float(shell.hubs[shell.base, 2].mean())
    return np.asarray(practice.snow_side_pressure(z + form.base, depth, SETTLED).mean(axis=1))


def _notes(form: Form, site: LoadSite) -> list[Note]:
    found = [note("snow-base", weight=SETTLED)]
    if not site.heated:
        found.append(note("snow-unheated"))
    if site.standard == "en":
        found.append(note("snow-annex"))
        if form.kind != "vault":
            found.append(note("snow-dome-rule"))
    return found
