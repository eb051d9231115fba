"""Snow cases: totals by integration, sides, refusals."""

import numpy as np
import pytest

from strutwright.errors import InputError
from strutwright.loads import form_of, resultant
from strutwright.loads.snow import balanced, drifted, flat_roof_snow, snow_loads

from .shells import hemisphere, plan_area, site, vault


def totals(shell, where):
    loads = snow_loads(shell, form_of(shell), where, None)
    return {case.name: resultant(shell, case)[0] for case in loads.cases}, loads


def test_vault_en_totals():
    # Flat enough to carry snow everywhere: 0.8 s_k on the plan; drifted: two triangles on half a
    # span each, (peak/2 + peak)/2 on the mean, times half the plan.
    shell = vault(span=8, rise=1.6, length=10, around=40)
    found, _ = totals(shell, site(ground_snow=1000.0))
    plan = 8 * 10
    assert found["snow balanced"] == pytest.approx([0, 0, -0.8e3 * plan], abs=1e-6)
    # Of 40 strips: sampled at their centres, good to 1 per cent.
    assert found["snow drifted to 90"][2] == pytest.approx(-0.375 * 2.0e3 * plan, rel=0.01)
    assert found["snow on the half to 0"][2] == pytest.approx(-0.4e3 * plan, abs=1e-6)


def test_drift_is_twice_as_deep_to_leeward_on_a_vault():
    shell = vault(span=8, rise=1.6, around=16)
    form = form_of(shell)
    load = drifted(form, site(), np.pi / 2)
    lee, luv = form.centres[:, 1] > 0, form.centres[:, 1] < 0
    assert load[lee].max() == pytest.approx(2 * load[luv].max())


@pytest.mark.parametrize("standard", ["en", "asce7-16", "asce7-22"])
def test_dome_sector(standard):
    shell = hemisphere(6)
    form = form_of(shell, 1.0)
    load = drifted(form, site(standard), 0.0)
    azimuth = np.abs(np.arctan2(form.corners[..., 1], form.corners[..., 0]))
    assert load[azimuth.min(axis=1) > np.radians(67.6)].max() == 0
    assert load[azimuth.max(axis=1) < np.radians(45)].max() > balanced(form, site(standard)).max()
    assert (load[form.slopes > np.radians(70)] == 0).all()


def test_flat_roof_snow_by_edition():
    # Unheated 1.2, partially exposed 1.0: 0.84 p_g; importance in the earlier edition alone.
    assert flat_roof_snow(site("asce7-16", consequence="I")) == pytest.approx(0.84 * 0.8 * 700)
    assert flat_roof_snow(site("asce7-22", consequence="I")) == pytest.approx(0.84 * 700)
    assert flat_roof_snow(site("asce7-16", heated=True)) == pytest.approx(0.7 * 700)
    assert flat_roof_snow(site()) == 700


def test_snow_at_the_base_pushes_level_as_a_fluid():
    # A half-round vault, fine: 0.5 gamma depth^2 a metre on each side.
    shell = vault(span=6, rise=3, length=8, around=60, along=2)
    found, loads = totals(shell, site(ground_snow=1500.0))
    assert found["snow at the base all round"][1] == pytest.approx(0, abs=1e-6)
    side = found["snow at the base to 90"][1]
    # Ground 0.5 m; slid: 1500 (6 - 0.8 x 6 sin 60) x 8/(2 x 8) = 1382 N/m, heap 0.96 m.
    slid = 1500 * (6 - 0.8 * 6 * np.sin(np.pi / 3)) / 2
    depth = 0.5 + np.sqrt(2 * slid / 3000)
    assert side == pytest.approx(-0.5 * 3000 * depth**2 * 8, rel=0.02)
    assert any("Snow against the base" in note.text for note in loads.notes)


def test_duration_and_notes():
    _, low = totals(hemisphere(2), site())
    _, high = totals(hemisphere(2), site(altitude=1200.0))
    assert {c.duration for c in low.cases} == {"week"}
    assert {c.duration for c in high.cases} == {"season"}
    assert {"snow-dome-rule", "snow-unheated", "snow-annex"} <= {n.code for n in low.notes}


def test_no_snow_is_said():
    found, loads = totals(hemisphere(2), site(ground_snow=0.0))
    assert not found
    assert loads.notes[0].code == "snow-none"


def test_negative_snow_is_refused():
    with pytest.raises(InputError, match="ground_snow -1 Pa"):
        site(ground_snow=-1.0)


def test_coarse_domes_carry_the_drift_of_fine_ones():
    # EN sector of a hemisphere by hand: peak 2.0 s_k, a triangle over the radius R = 3 sin 60
    # (integral of it times r: R^2/4), 112.5 degrees of full width. Facets follow the 60 degree
    # line roughly.
    exact = 2.0 * 700 * (112.5 / 360) * 2 * np.pi * (3 * np.sin(np.pi / 3)) ** 2 / 4
    for frequency, tolerance in ((2, 0.01), (4, 0.05), (12, 0.01)):
        shell = hemisphere(frequency)
        found, _ = totals(shell, site())
        drifts = [-f[2] for name, f in found.items() if "drifted" in name]
        assert drifts == pytest.approx([exact] * 8, rel=tolerance)


def test_a_face_on_the_line_is_shared_by_its_area():
    shell = hemisphere(2)
    found, _ = totals(shell, site())
    halves = [f[2] for name, f in found.items() if "half" in name]
    for k in range(4):
        assert halves[k] + halves[k + 4] == pytest.approx(found["snow balanced"][2])
    assert max(halves) / min(halves) == pytest.approx(1, abs=0.06)


@pytest.mark.parametrize("degrees", [0, 90, 180, 270])
def test_half_snow_lies_on_the_side_that_it_is_named_after(degrees):
    shell = hemisphere(4)
    loads = snow_loads(shell, form_of(shell), site(ground_snow=1000.0), None)
    case = next(c for c in loads.cases if c.name == f"snow on the half to {degrees}")
    ahead = [np.cos(np.radians(degrees)), np.sin(np.radians(degrees)), 0.0]
    force, moment = resultant(shell, case)
    # The weight lies ahead of the middle: its moment about the middle is r x F.
    arm = np.cross([0, 0, 1], moment) / force[2]
    assert arm @ ahead > 0.2


@pytest.mark.parametrize(
    ("standard", "rise", "least"),
    # ASCE 7-16, 7.3.4 (recalled): I_s p_g up to 20 psf, where the chord rises less than 10 degrees
    [("asce7-16", 0.5, 800.0), ("asce7-16", 0.6, None), ("en", 0.5, None)],
)
def test_a_low_vault_takes_the_least_snow(standard, rise, least):
    where = site(standard, ground_snow=800.0)
    shell = vault(span=6.0, rise=rise)
    found = snow_loads(shell, form_of(shell), where, None)
    cases = [case for case in found.cases if case.name == "snow least"]
    if least is None:
        assert cases == []
    else:
        total = resultant(shell, cases[0])[0][2]
        assert total == pytest.approx(-least * plan_area(shell), rel=1e-9)
