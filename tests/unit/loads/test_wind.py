"""Wind cases: pressures by edition, inside pressures, doors, what cannot be worked out."""

import math
from dataclasses import replace

import numpy as np
import pytest

from strutwright.errors import InputError
from strutwright.loads import Door, form_of, resultant
from strutwright.loads.fields import closed_dome_field, vault_across_fields, vault_along_fields
from strutwright.loads.standards import dome_arcs
from strutwright.loads.wind import (
    bare_frame_loads,
    fields_of,
    surface_pressure,
    velocity_pressure,
    wind_loads,
)

from .shells import hemisphere, plan_area, site, vault


def test_a_speed_on_another_basis_is_refused():
    with pytest.raises(InputError) as error:
        site(wind_basis="3 s gust", exposure="Z", basic_wind=400.0, ground_snow=float("nan"))
    codes = [p.code for p in error.value.problems]
    assert codes[0] == "wind-basis"
    assert len(codes) == 4
    assert "10 min mean" in error.value.mend
    with pytest.raises(InputError, match="wind-basis"):
        site("asce7-22", wind_basis="10 min mean")
    assert site(wind_basis="10-min mean").basic_wind == 24


def test_velocity_pressure_on_a_dome():
    # EN, category II, 24 m/s, 3 m: k_r 0.19, ln(60) = 4.0943; v_m 18.67; I_v 0.24424;
    # q = (1 + 7 x 0.24424) 0.625 x 348.6 = 590.3 Pa.
    assert velocity_pressure(site(), 3.0) == pytest.approx(590.3, abs=0.5)
    form = form_of(hemisphere(2))
    # 7-16: K_d = 1.0 for a circular dome, in q; 7-22: not in q.
    q16 = velocity_pressure(site("asce7-16"), 3.0, form)
    assert q16 == pytest.approx(0.613 * 2.01 * (4.572 / 274.32) ** (2 / 9.5) * 45**2, rel=1e-9)
    low = velocity_pressure(site("asce7-16"), 3.0, form_of(vault()))
    assert low == pytest.approx(0.85 * q16)
    assert velocity_pressure(site("asce7-16", altitude=1000.0), 3.0, form) < 0.9 * q16


@pytest.mark.parametrize("standard", ["asce7-16", "asce7-22"])
def test_directionality_counts_once_on_a_vault(standard):
    form = form_of(vault())
    c_p = np.ones(len(form.areas))
    speed, k = 45.0, {"asce7-16": (2.01, 274.32, 9.5), "asce7-22": (2.41, 750, 9.8)}[standard]
    q = 0.613 * k[0] * (4.572 / k[1]) ** (2 / k[2]) * speed**2
    found = surface_pressure(site(standard), form, c_p, 0.18)
    assert found == pytest.approx(0.85 * q * (0.85 - 0.18))


def test_hemisphere_gets_closed_form_and_both_arcs_from_eight_sides():
    form = form_of(hemisphere(4))
    fields, missing = fields_of(form, site())
    assert not missing
    assert {f.name for f in fields} == {"closed form", "arcs A", "arcs B"}
    assert len(fields) == 24


def test_a_flatter_dome_without_table_is_said_not_to_be_worked_out():
    form = replace(form_of(hemisphere(4)), rise=2.0)
    fields, missing = fields_of(form, site())
    assert [note.code for note in missing] == ["dome-wind-no-table"]
    assert {f.name for f in fields} == {"closed form"}
    table = dome_arcs.read_dome_table("f_over_d,h_over_d,A,B,C\n0.333,0,0.4,-0.9,-0.2\n")
    fields, missing = fields_of(form, site(dome_table=table))
    assert not missing
    assert max(f.c_p.max() for f in fields if f.name == "arcs A") <= 0.4


def test_long_dome_takes_dome_and_vault_fields():
    form = replace(form_of(hemisphere(4)), kind="long-dome", length=11.0, spine=2.5)
    names = {f.name for f in fields_of(form, site())[0]}
    assert names == {"closed form", "arcs A", "arcs B", "zones"}


def test_vault_zones_by_quarters():
    form = form_of(vault(rise=3.0, around=16))
    (field,) = vault_across_fields(form, math.pi / 2, "en")
    y = form.centres[:, 1] / form.span
    assert field.c_p[y < -0.3] == pytest.approx(0.8)
    assert field.c_p[np.abs(y) < 0.2] == pytest.approx(-1.2)
    assert field.c_p[y > 0.3] == pytest.approx(-0.4)
    (asce,) = vault_across_fields(form, -math.pi / 2, "asce7-16")
    assert asce.c_p[y > 0.3] == pytest.approx(0.7)
    assert asce.c_p[y < -0.3] == pytest.approx(-0.5)


def test_vault_on_walls_runs_both_values():
    form = replace(form_of(vault(rise=1.5)), spring=3.0)
    assert len(vault_across_fields(form, math.pi / 2, "en")) == 2
    assert len(vault_across_fields(form, math.pi / 2, "asce7-22")) == 2


def test_vault_too_flat_for_the_figure_is_said():
    _, missing = fields_of(form_of(vault(rise=0.2)), site())
    assert [note.code for note in missing] == ["wind-vault-not-covered"]


def test_along_a_vault_suction_fades_from_the_windward_end():
    form = form_of(vault(length=30.0, along=20))
    field, least = vault_along_fields(form, 0.0, "asce7-16")
    roof = ~form.walls
    assert (least.c_p[roof] == -0.18).all()  # Fig. 27.3-1, second value (recalled)
    order = np.argsort(form.centres[:, 0])
    assert (np.diff(field.c_p[order]) >= -1e-12).all()
    assert field.c_p.min() == pytest.approx(-0.9)
    assert field.c_p.max() == pytest.approx(-0.3)


def test_suction_pulls_outwards_and_lifts():
    shell = hemisphere(4)
    loads = wind_loads(shell, form_of(shell), site())
    for case in loads.cases:
        force, _ = resultant(shell, case)
        assert force[2] > 0
        blow = np.array([np.cos(case.direction), np.sin(case.direction)])
        assert force[:2] @ blow > 0
    # Inside pressure lifts more than inside suction by 0.5 q on the plan.
    by_name = {case.name: resultant(shell, case)[0][2] for case in loads.cases}
    more = by_name["wind to 0 arcs A shut +0.20"] - by_name["wind to 0 arcs A shut -0.30"]
    plan = plan_area(shell)
    assert more == pytest.approx(0.5 * velocity_pressure(site(), 3.0) * plan)


def test_an_open_door_to_windward_lifts_most():
    shell = hemisphere(4)
    door = Door("south door", -np.pi / 2, 1.7)
    loads = wind_loads(shell, form_of(shell), site(), (door,))
    lift = {c.name: resultant(shell, c)[0][2] for c in loads.cases if c.direction < 1.6}
    opened = [c for c in loads.cases if c.state == "south door open"]
    into = max(opened, key=lambda c: c.inside)
    assert into.direction == pytest.approx(np.pi / 2)
    # 0.9 of the coefficient by the door, less than 0.9 x 0.8.
    assert 0.3 < into.inside <= 0.72 + 1e-12
    assert lift[into.name] == max(lift.values())
    assert "wind-door-leaf" in {note.code for note in loads.notes}


def test_wind_on_the_leaf_goes_to_its_frame():
    shell = hemisphere(4)
    form = form_of(shell)
    door = Door("door", 0.0, 1.7, tuple(shell.base[:2].tolist()))
    bare = wind_loads(shell, form, site())
    hung = wind_loads(shell, form, site(), (door,))
    name = "wind to 180 arcs A shut -0.30"
    extra = hung.case(name).hub_forces - bare.case(name).hub_forces
    assert extra.sum(axis=0)[0] < -100
    assert np.flatnonzero(extra.any(axis=1)).tolist() == sorted(door.hubs)
    assert not {"wind-door-leaf"} & {note.code for note in hung.notes}


def test_asce_doors_and_least_load():
    shell = hemisphere(2)
    loads = wind_loads(shell, form_of(shell), site("asce7-22"), (Door("d", 0.0, 1.0),))
    assert {round(c.inside, 2) for c in loads.cases} == {0.18, -0.18, 0.55, -0.55, 0.0}
    least = loads.case("wind least to 0")
    force, _ = resultant(shell, least)
    frontal = sum(np.maximum(-form_of(shell).normals[:, 0], 0) * form_of(shell).areas)
    assert force == pytest.approx([383 * frontal, 0, 0], abs=1e-6)


def test_bare_bars_take_the_wind_across_them():
    shell = vault(span=6, rise=3, around=2, along=1)
    loads = bare_frame_loads(shell, form_of(shell), site(), np.full(len(shell.struts), 0.03))
    case = loads.case("wind on the bare frame to 0")
    ends = shell.hubs[shell.struts]
    axis = (ends[:, 1] - ends[:, 0]) / np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)[:, None]
    along = np.abs(axis[:, 0]) > 0.999
    across = np.abs(axis[:, 0]) < 1e-9
    q = velocity_pressure(site(), 3.0)
    assert case.line_loads[along] == pytest.approx(0, abs=1e-9)
    assert case.line_loads[across] == pytest.approx(
        np.tile([1.2 * 0.03 * q, 0, 0], (across.sum(), 1))
    )


def test_no_wind_is_said():
    shell = hemisphere(2)
    loads = wind_loads(shell, form_of(shell), site(basic_wind=0.0))
    assert loads.notes[0].code == "wind-none"
    assert not loads.cases


def test_closed_field_follows_the_wind():
    form = form_of(hemisphere(4))
    field = closed_dome_field(form, math.pi / 3)
    worst = form.centres[np.argmax(field.c_p), :2]
    assert worst @ [math.cos(math.pi / 3), math.sin(math.pi / 3)] < -2.5


def test_zones_have_their_sizes_however_the_faces_lie():
    # Lift of a fine vault by hand: each zone's coefficient on its share of the plan.
    for around in (7, 9, 40):
        shell = vault(span=6, rise=1.2, length=8, around=around)
        form = form_of(shell)
        (field,) = vault_across_fields(form, math.pi / 2, "asce7-16")
        lift = -(field.c_p * form.areas) @ form.normals[:, 2]
        exact = -48 * (0.25 * 1.4 * 0.2 - 0.5 * 0.9 - 0.25 * 0.5)
        assert lift == pytest.approx(exact, rel=0.02)
