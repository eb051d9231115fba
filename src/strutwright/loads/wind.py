"""Wind on the covered shell and on the bare frame, by the standard of the site."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.catalogue import Source
from strutwright.errors import InputError
from strutwright.loads.case import LoadCase, Loads
from strutwright.loads.cover import edge_pull, onto_struts
from strutwright.loads.fields import (
    Field,
    arc_field,
    closed_dome_field,
    vault_across_fields,
    vault_along_fields,
)
from strutwright.loads.form import Form, form_of
from strutwright.loads.site import Door, LoadSite
from strutwright.loads.standards import asce7_16, asce7_22, asce7_shared, dome_arcs, en1991_1_4
from strutwright.sentences import note
from strutwright.shape import Shell
from strutwright.values import Floats, Note

__all__ = [
    "DIRECTIONS",
    "LEAST_ASCE",
    "LEAST_ASCE_WALL",
    "arc_row",
    "bare_frame_loads",
    "directionality",
    "fields_of",
    "peak_pressures",
    "surface_pressure",
    "velocity_pressure",
    "wind_loads",
]

DIRECTIONS: Final = 8
"""Directions the wind blows to on a dome or long dome, from +x on."""
LEAST_ASCE: Final = 383.0
"""Least wind on a roof's vertical projection, Pa (8 psf), ASCE 7, 27.1.5 (recalled)."""
LEAST_ASCE_WALL: Final = 766.0
"""The same on walls, Pa (16 psf)."""
_LEAST: Final = Source("ASCE 7", None, "27.1.5, least design wind load", "recalled")


def directionality(form: Form | None) -> float:
    """Return K_d of ASCE 7 for a form, or of a frame without cover for None.

    A long dome takes that of the dome, which its ends are: the worse of its two kinds of field.
    """
    if form is None:
        return asce7_shared.K_D["main system"]
    return asce7_shared.K_D["arched roof" if form.kind == "vault" else "circular dome"]


def velocity_pressure(site: LoadSite, z: float, form: Form | None = None) -> float:
    """Return the velocity pressure at height `z` (m), Pa.

    EN: q_p with c_o = topography. ASCE 7-16: q_z with K_d of the form; 7-22: q_z without K_d,
    which `surface_pressure` brings in. Altitude counts in ASCE by K_e; in EN the map has it.
    """
    if site.standard == "en":
        return float(en1991_1_4.q_p(z, site.basic_wind, site.exposure, c_o=site.topography))
    k_e = float(asce7_shared.K_e(site.altitude))
    if site.standard == "asce7-22":
        k_z = asce7_22.K_z(z, site.exposure)
        return float(asce7_22.q_z(site.basic_wind, k_z, site.topography, k_e))
    k_z = asce7_16.K_z(z, site.exposure)
    return float(asce7_16.q_z(site.basic_wind, k_z, site.topography, directionality(form), k_e))


def surface_pressure(site: LoadSite, form: Form, c_p: Floats, inside: float) -> Floats:
    """Return the net pressure on each face, (F,), Pa, positive onto it.

    Source: EN 1991-1-4 5.2 with c_s c_d = 1 below 15 m; ASCE 7 eq. 27.3-1 with G = 0.85.
    """
    q = velocity_pressure(site, form.top, form)
    if site.standard == "en":
        return q * (en1991_1_4.c_s_c_d(form.top) * c_p - inside)
    if site.standard == "asce7-22":
        return asce7_22.p(q, directionality(form), asce7_shared.G_RIGID, c_p, q, GC_pi=inside)
    return asce7_16.p(q, asce7_shared.G_RIGID, c_p, q, inside)


def fields_of(form: Form, site: LoadSite) -> tuple[tuple[Field, ...], tuple[Note, ...]]:
    """Return the external fields of a form, and what could not be had.

    Dome: closed form and arcs (cases A and B), 8 directions. Long dome: these, and the vault's
    zones for wind across. Vault: zones across, strips along; the codes let each stand for all
    wind within 45 degrees.
    """
    fields: list[Field] = []
    missing: list[Note] = []
    if form.kind != "vault":
        row = arc_row(form, site)
        for k in range(DIRECTIONS):
            turn = 2 * np.pi * k / DIRECTIONS
            fields.append(closed_dome_field(form, turn))
            if row is not None:
                fields.extend(arc_field(form, turn, row, case) for case in ("A", "B"))
        if row is None:
            missing.append(_no_arcs(form))
    if form.kind != "dome":
        for turn in (np.pi / 2, -np.pi / 2):
            try:
                fields.extend(vault_across_fields(form, turn, site.standard))
            except InputError as fault:
                missing.append(note("wind-vault-not-covered", why=fault.what))
    if form.kind == "vault":
        for turn in (0.0, np.pi):
            fields.extend(vault_along_fields(form, turn, site.standard))
    return tuple(fields), tuple(dict.fromkeys(missing))


def arc_row(form: Form, site: LoadSite) -> dome_arcs.ArcRow | None:
    """Return the ordinates of the arcs: the user's table first, then the hemisphere's row."""
    shape = (form.rise / form.span, form.spring / form.span)
    own = dome_arcs.ordinates(*shape, site.dome_table) if site.dome_table else None
    return own or dome_arcs.ordinates(*shape)


def wind_loads(
    shell: Shell,
    form: Form,
    site: LoadSite,
    doors: tuple[Door, ...] = (),
    film_stiffness: float | None = None,
) -> Loads:
    """Return every wind case of the covered shell: fields, directions, inside pressures.

    With doors shut the worse of the two inside pressures of the standard; with each door open in
    turn a dominant opening (EN: 0.9 of the coefficient at the door; ASCE: partially enclosed).
    """
    if site.basic_wind == 0:
        return Loads((), (note("wind-none"),))
    fields, missing = fields_of(form, site)
    cases = []
    for field in fields:
        for state, inside in _inside(form, site, field, doors):
            pressure = surface_pressure(site, form, field.c_p, inside)
            hubs, lines = _loads(shell, form, pressure, film_stiffness)
            hubs = hubs + _on_leaves(shell, form, site, field, (doors, state, inside))
            cases.append(
                LoadCase(
                    f"wind to {_degrees(field.direction)} {field.name} {state} {inside:+.2f}",
                    "wind",
                    hubs,
                    lines,
                    "gust",
                    field.source,
                    _turn(field.direction),
                    inside,
                    state,
                )
            )
    if site.is_asce:
        cases.extend(_least_cases(shell, form))
    return Loads(tuple(cases), _notes(form, site, doors), missing)


def peak_pressures(shell: Shell, site: LoadSite, doors: tuple[Door, ...] = ()) -> Floats:
    """Return the largest wind pressure across each face, (F,), Pa, whichever way it acts.

    Over all fields, directions and inside pressures of `wind_loads`, unfactored.
    """
    form = form_of(shell, site.riser)
    worst = np.zeros(len(shell.faces))
    for field in fields_of(form, site)[0]:
        for _, inside in _inside(form, site, field, doors):
            worst = np.maximum(worst, np.abs(surface_pressure(site, form, field.c_p, inside)))
    return worst


def bare_frame_loads(shell: Shell, form: Form, site: LoadSite, diameters: Floats) -> Loads:
    """Return the full wind on the frame without its cover, 8 directions.

    Each bar takes q C_f d on its whole width, C_f = 1.2, by the wind across it; no bar shields
    another. Source: EN 1991-1-4 7.9.
    """
    if site.basic_wind == 0:
        return Loads(())
    q = velocity_pressure(site, form.top)
    if site.standard == "asce7-22":
        q *= directionality(None)
    ends = shell.hubs[shell.struts]
    axis = ends[:, 1] - ends[:, 0]
    axis = axis / np.linalg.norm(axis, axis=1)[:, None]
    cases = []
    for k in range(DIRECTIONS):
        turn = 2 * np.pi * k / DIRECTIONS
        blow = np.array([np.cos(turn), np.sin(turn), 0.0])
        across = blow - axis * (axis @ blow)[:, None]
        size = np.linalg.norm(across, axis=1)[:, None]
        lines = q * en1991_1_4.C_F_BAR * diameters[:, None] * size * across
        cases.append(
            LoadCase(
                f"wind on the bare frame to {_degrees(turn)}",
                "bare wind",
                np.zeros((len(shell.hubs), 3)),
                lines,
                "gust",
                en1991_1_4.SOURCES["C_F_BAR"],
                turn,
            )
        )
    bare = note("wind-bare-frame")
    return Loads(tuple(cases), (bare,))


def _loads(
    shell: Shell, form: Form, pressure: Floats, film_stiffness: float | None
) -> tuple[Floats, Floats]:
    hubs, lines = onto_struts(shell, -form.normals * (pressure * form.areas)[:, None])
    if film_stiffness is not None:
        pull = edge_pull(shell, pressure, film_stiffness)
        hubs, lines = hubs + pull[0], lines + pull[1]
    return hubs, lines


def _inside(
    form: Form, site: LoadSite, field: Field, doors: tuple[Door, ...]
) -> list[tuple[str, float]]:
    if site.standard == "en":
        shut = list(en1991_1_4.C_PI)
    else:
        shut = [asce7_shared.GC_PI["enclosed"], -asce7_shared.GC_PI["enclosed"]]
    states = [("shut", value) for value in shut]
    for door in doors:
        if site.standard == "en":
            at_door = _at_door(form, field, door)
            states.append((f"{door.name} open", en1991_1_4.c_pi_dominant(at_door, 3.0)))
        else:
            wide = asce7_shared.GC_PI["partially enclosed"]
            states += [(f"{door.name} open", wide), (f"{door.name} open", -wide)]
    return states


def _at_door(form: Form, field: Field, door: Door) -> float:
    """Return the mean coefficient of the faces round `door`, as large as the door or three."""
    facing = np.array([np.cos(door.azimuth), np.sin(door.azimuth)])
    half = np.array([form.length, form.span]) / 2
    reach = np.min(half / np.maximum(np.abs(facing), 1e-9))
    place = np.append(facing * reach, float(form.centres[:, 2].min()))
    near = np.argsort(np.linalg.norm(form.centres - place, axis=1), kind="stable")
    enough = int(np.searchsorted(np.cumsum(form.areas[near]), door.area)) + 1
    chosen = near[: max(3, enough)]
    return float(np.average(field.c_p[chosen], weights=form.areas[chosen]))


def _on_leaves(
    shell: Shell,
    form: Form,
    site: LoadSite,
    field: Field,
    standing: tuple[tuple[Door, ...], str, float],
) -> Floats:
    """Return the wind on the leaves of shut doors, handed evenly to the hubs round the hole."""
    doors, state, inside = standing
    hubs = np.zeros((len(shell.hubs), 3))
    for door in doors:
        if not door.hubs or state == f"{door.name} open":
            continue
        c_p = np.array([_at_door(form, field, door)])
        force = float(surface_pressure(site, form, c_p, inside)[0]) * door.area
        inward = -np.array([np.cos(door.azimuth), np.sin(door.azimuth), 0.0])
        hubs[list(door.hubs)] += force * inward / len(door.hubs)
    return hubs


def _least_cases(shell: Shell, form: Form) -> list[LoadCase]:
    cases = []
    for k in range(DIRECTIONS):
        turn = 2 * np.pi * k / DIRECTIONS
        blow = np.array([np.cos(turn), np.sin(turn), 0.0])
        met = np.maximum(-form.normals @ blow, 0) * form.areas
        least = np.where(form.walls, LEAST_ASCE_WALL, LEAST_ASCE) * met
        hubs, lines = onto_struts(shell, least[:, None] * blow)
        name = f"wind least to {_degrees(turn)}"
        cases.append(LoadCase(name, "wind", hubs, lines, "gust", _LEAST, turn, 0.0))
    return cases


def _degrees(direction: float) -> str:
    return f"{np.degrees(direction) % 360:.0f}"


def _turn(direction: float) -> float:
    return float(direction % (2 * np.pi))


def _no_arcs(form: Form) -> Note:
    return note("dome-wind-no-table", rise=form.rise / form.span, spring=form.spring / form.span)


def _notes(form: Form, site: LoadSite, doors: tuple[Door, ...]) -> tuple[Note, ...]:
    found = []
    row = None if form.kind == "vault" else arc_row(form, site)
    if row is not None:
        at = {"a": row.A, "b": row.B, "c": row.C}
        if row.source == dome_arcs.HEMISPHERE.source:
            found.append(note("wind-dome-arcs.memory", **at))
        else:
            found.append(note("wind-dome-arcs.own", **at, source=str(row.source)))
    if form.kind == "vault":
        found.append(note("wind-vault-sectors"))
        if site.standard == "en":
            found.append(note("wind-vault-along"))
    if site.standard == "en":
        found.append(note("wind-annex"))
    if any(not door.hubs for door in doors):
        found.append(note("wind-door-leaf"))
    return tuple(found)
