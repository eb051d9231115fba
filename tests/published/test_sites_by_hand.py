"""Three sites worked by hand from the standards' formulas, from the map value to the sums.

The numbers beside each line were worked with a pocket calculator from the clauses named; the
clauses are recalled unless the tests of single formulas beside this file say that they were read.
"""

import numpy as np
import pytest
from tests.unit.loads.shells import hemisphere, plan_area, site, vault

from strutwright.loads import form_of, resultant
from strutwright.loads.snow import flat_roof_snow, snow_loads
from strutwright.loads.standards import asce7_shared, en1991_1_4
from strutwright.loads.wind import directionality, velocity_pressure, wind_loads


def sums(loads, shell):
    return {case.name: resultant(shell, case)[0] for case in loads.cases}


def test_barrel_in_a_village_by_en():
    # EN 1991-1-4: category III, 26.5 m/s; z = z_min = 5 m; k_r 0.21539, ln(5/0.3) 2.81341,
    # c_r 0.60598, v_m 16.058, I_v 0.35544: q_p = (1 + 7 x 0.35544) x 0.625 x 257.87 = 562.2 Pa.
    where = site(exposure="III", basic_wind=26.5, ground_snow=1350.0)
    shell = vault(span=7.2, rise=2.16, length=12, around=72)
    form = form_of(shell)
    assert velocity_pressure(where, 2.16, form) == pytest.approx(562.2, abs=0.1)
    # Fig. 7.11 at f/d 0.3, h/d 0: A +0.48, B -1.0, C -0.4 on a quarter, a half, a quarter of the
    # plan of 86.4 m2: lift 0.48 q; and 0.2 q of inside pressure: 0.68 x 562.2 x 86.4 = 33.03 kN.
    wind = sums(wind_loads(shell, form, where), shell)
    assert wind["wind to 90 zones shut +0.20"][2] == pytest.approx(33.03e3, rel=0.005)
    # Inside suction: (0.48 - 0.3) x 562.2 x 86.4 = 8.743 kN.
    assert wind["wind to 90 zones shut -0.30"][2] == pytest.approx(8.743e3, rel=0.02)
    # EN 1991-1-3: radius 4.08 m, eave at 61.9 degrees; l_s = 2 x 4.08 sin 60 = 7.067 m.
    # Even: 0.8 x 1350 x 7.067 x 12 = 91.6 kN. Peak 0.2 + 10 x 0.3 > 2.0: triangles of 1.0 and 2.0
    # on half of l_s each: 0.75 x 7.067 x 1350 x 12 = 85.9 kN.
    snow = sums(snow_loads(shell, form, where, None), shell)
    assert -snow["snow balanced"][2] == pytest.approx(91.6e3, rel=0.01)
    assert -snow["snow drifted to 90"][2] == pytest.approx(85.9e3, rel=0.01)


def test_barrel_on_a_hillside_by_the_earlier_edition():
    # ASCE 7-16, exposure B: K_z = 2.01 (4.572/365.76)^(2/7) = 0.57472; K_e = exp(-0.000119 x 640)
    # = 0.92667; K_d 0.85 (arched roof); K_zt 1.2:
    # q = 0.613 x 0.57472 x 1.2 x 0.85 x 0.92667 x 51^2 = 866.1 Pa.
    where = site(
        "asce7-16", exposure="B", basic_wind=51.0, altitude=640.0, topography=1.2,
        consequence="I", ground_snow=1900.0,
    )  # fmt: skip
    shell = vault(span=8, rise=2.8, length=14, around=80)
    form = form_of(shell)
    assert velocity_pressure(where, form.top, form) == pytest.approx(866.1, abs=0.1)
    # r = 0.35 from the ground: +0.49, -1.05, -0.5; lift 0.85 x 0.5275 + 0.18 = 0.62838 of q on
    # 112 m2: 60.96 kN.
    wind = sums(wind_loads(shell, form, where), shell)
    assert wind["wind to 90 zones shut +0.18"][2] == pytest.approx(60.96e3, rel=0.005)
    # Snow: p_f = 0.7 x 1.0 x 1.2 x 0.8 x 1900 = 1276.8 Pa.
    assert flat_roof_snow(where) == pytest.approx(1276.8)
    # Radius 4.2571 m. The ground abuts the eave (7.6.2): lee half p_f (1.25 x 2.1286 m + 2 x
    # 1.8714 m) = 6.4036 m x 1276.8 Pa x 14 m = 114.5 kN, nothing to windward.
    snow = sums(snow_loads(shell, form, where, None), shell)
    assert -snow["snow drifted to 90"][2] == pytest.approx(114.5e3, rel=0.01)


def test_dome_by_the_shore_by_the_later_edition():
    # ASCE 7-22, exposure D: K_z = 2.41 (5/590)^(2/11.5) = 1.05121; K_e = exp(-0.00238) = 0.99762;
    # q = 0.613 x 1.05121 x 0.99762 x 47^2 = 1420 Pa, no K_d; K_d of a circular dome is 1.0.
    where = site(
        "asce7-22", exposure="D", basic_wind=47.0, altitude=20.0, consequence="III",
        ground_snow=2400.0,
    )  # fmt: skip
    shell = hemisphere(12, radius=5.0)
    form = form_of(shell)
    assert velocity_pressure(where, 5.0, form) == pytest.approx(1420.1, abs=0.2)
    # Closed form: lift 0.5 of the plan of 78.5 m2 (integral over the hemisphere):
    # (0.85 x 0.5 + 0.18) x 1420.1 x 78.54 = 67.48 kN.
    wind = sums(wind_loads(shell, form, where), shell)
    assert wind["wind to 90 closed form shut +0.18"][2] == pytest.approx(67.48e3, rel=0.01)
    # Snow: p_f = 0.7 x 0.9 x 1.2 x 2400 = 1814.4 Pa, no importance factor.
    assert flat_roof_snow(where) == pytest.approx(1814.4)
    # 7.6.3: 112.5 degrees of 2 p_f/0.9 from the 30 degree line (r = 2.5 m) to the eave, which the
    # ground abuts, and from 0.5 p_f at the crown up to it: integral 1.03935 R^2 p_f a radian:
    # 1.03935 x 25 x 1.9635 x 1814.4 = 92.57 kN.
    snow = sums(snow_loads(shell, form, where, None), shell)
    assert -snow["snow drifted to 90"][2] == pytest.approx(92.57e3, rel=0.02)


def test_unbalanced_snow_of_a_low_arch_peaks_at_its_eave():
    # Fig. 7.4-2 case 1 (recalled): eave at 20 degrees: 0.5 p_f at the crown, 2 p_f C_s/C_e at
    # the eave, straight in plan; half way in plan half way between.
    eave = np.radians(20)
    theta = [0.0, np.arcsin(np.sin(eave) / 2), eave]
    load = asce7_shared.p_unbalanced(theta, 1000, 0.9, 1.2, eave=eave)
    assert load == pytest.approx([500, (500 + 2000 / 0.9) / 2, 2000 / 0.9])
    # A slippery one: C_s of 20 degrees at C_t 1.2 is 1 - 5/55.
    load = asce7_shared.p_unbalanced(eave, 1000, 0.9, 1.2, slippery=True, eave=eave)
    assert load == pytest.approx(2000 * (50 / 55) / 0.9)


def test_low_barrel_carries_its_drift_to_the_eave():
    # Span 8 m, rise 0.8 m: eave at 22.6 degrees; p_f = 0.7 x 1.2 x 1000 = 840 Pa (7-22, C):
    # lee half (0.5 + 2)/2 x 840 x 4 m x 10 m = 42 kN.
    where = site("asce7-22", ground_snow=1000.0)
    shell = vault(span=8, rise=0.8, length=10, around=40)
    found = sums(snow_loads(shell, form_of(shell), where, None), shell)
    assert -found["snow drifted to 90"][2] == pytest.approx(42e3, rel=0.01)


def test_a_half_round_barrel_is_in_the_figure_whatever_its_rounding():
    # Fig. 7.11 ends at f/d 0.5: a rise worked out in floating point may lie a hair beyond.
    assert en1991_1_4.c_pe_vault(0.5 * (1 + 1e-12), 0.0)[0, 0] == pytest.approx(0.8)


def test_ground_at_the_eave_keeps_the_unbalanced_snow():
    # 7.6.2 (recalled): not decreased between the 30 degree point and the eave where the ground
    # abuts within 3 ft; on higher walls it falls to nothing at 70 degrees.
    theta = np.radians([30, 60, 70, 85])
    low = asce7_shared.p_unbalanced(theta, 1000, 1.0, 1.2, abutting=True)
    assert low == pytest.approx([2000, 2000, 2000, 2000])
    high = asce7_shared.p_unbalanced(theta, 1000, 1.0, 1.2)
    assert high == pytest.approx([2000, 2000 * 10 / 25, 0, 0])
    totals = []
    for riser in (0.91, 0.92):
        where = site("asce7-16", riser=riser)
        shell = vault(span=6, rise=3, around=40)
        found = sums(snow_loads(shell, form_of(shell, riser), where, None), shell)
        totals.append(-found["snow drifted to 90"][2])
    assert totals[0] > 1.1 * totals[1]


def test_more_than_a_half_circle_still_drifts():
    # 7.6.2 (recalled): the chord runs from the 70 degree point where there is one; on a circle it
    # then rises by 35 degrees, however much more than a half circle the section is.
    shell = vault(span=5, rise=4.6, around=60)
    names = {c.name for c in snow_loads(shell, form_of(shell), site("asce7-22"), None).cases}
    assert "snow drifted to 90" in names


@pytest.mark.parametrize(
    ("hill", "exposure", "steep"),
    [("ridge", "B", 0.65), ("ridge", "D", 0.775), ("escarpment", "D", 0.475), ("hill", "B", 0.475)],
)
def test_hill_by_exposure(hill, exposure, steep):
    # Fig. 26.8-1, parameters for speed-up (recalled): K1/(H/Lh) of a ridge 1.30, 1.45, 1.55 in
    # exposure B, C, D; escarpment 0.75, 0.85, 0.95; hill 0.95, 1.05, 1.15. At H/Lh 0.5, x = z = 0.
    # The table of exposure C is printed to two digits: half a unit of the last one.
    found = asce7_shared.K_zt(hill, 50, 100, x=0, z=0, exposure=exposure)
    assert np.sqrt(found) - 1 == pytest.approx(steep, abs=0.006)


def test_along_a_short_barrel():
    # Fig. 27.3-1, wind parallel to the ridge (recalled): h/L >= 1: -1.3 to h/2, -0.7 beyond;
    # half way between h/L 0.5 and 1 half way between the columns.
    x = np.array([0.5, 1.5, 3.0, 9.0])
    assert asce7_shared.C_p_arch_along(x, 2, 2) == pytest.approx([-1.3, -0.7, -0.7, -0.7])
    assert asce7_shared.C_p_arch_along(x, 2, 4) == pytest.approx([-0.9, -0.9, -0.5, -0.3])
    found = asce7_shared.C_p_arch_along(x, 3, 4)
    assert found == pytest.approx([-1.1, -1.1, -0.8, -0.5])


def test_least_wind_on_gables_is_that_of_walls():
    # ASCE 7, 27.1.5 (recalled): 16 psf (0.77 kPa) on walls, 8 psf (0.38 kPa) on roofs projected.
    from strutwright.shape.vault import VaultSpec
    from strutwright.shape.vault import vault as barrel

    shell = barrel(VaultSpec(width=5.0, length=8.0, rise=2.5, ends="wall"))
    form = form_of(shell)
    assert form.walls.any()
    end = sums(wind_loads(shell, form, site("asce7-16")), shell)["wind least to 0"][0]
    met = np.maximum(-form.normals[:, 0], 0) * form.areas
    assert end == pytest.approx(766 * met[form.walls].sum() + 383 * met[~form.walls].sum())
    assert plan_area(shell) > 30


def test_a_long_dome_takes_the_directionality_of_its_ends():
    # Table 26.6-1: circular domes 1.0, arched roofs 0.85; the long dome's envelope takes the worse.
    from dataclasses import replace

    form = replace(form_of(hemisphere(4)), kind="long-dome", length=11.0, spine=2.5)
    assert directionality(form) == 1.0
    assert directionality(form_of(vault())) == 0.85
