"""Bounds, refusals and sources of the standards' functions, of loads and of resistance."""

import importlib
import inspect
import pkgutil

import numpy as np
import pytest

from strutwright.bounds import one_of, within
from strutwright.catalogue import Source
from strutwright.errors import InputError
from strutwright.loads import standards as load_standards
from strutwright.loads.standards import (
    asce7_16,
    asce7_22,
    asce7_shared,
    dome_arcs,
    en1991_1_3,
    en1991_1_4,
    gb50009,
    practice,
)
from strutwright.structure import standards as member_standards

MODULES = [
    importlib.import_module(f"{package.__name__}.{found.name}")
    for package in (load_standards, member_standards)
    for found in pkgutil.iter_modules(package.__path__)
]


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.__name__.rsplit(".", 1)[1])
def test_every_public_name_has_its_source(module):
    names = set(module.__all__) - {"SOURCES"}
    names = {n for n in names if not inspect.isclass(getattr(module, n))}
    assert names == set(module.SOURCES)
    assert all(isinstance(s, Source) for s in module.SOURCES.values())


@pytest.mark.parametrize(
    "call",
    [
        lambda: asce7_16.q_z(400, 1, 1, 0.85, 1),
        lambda: asce7_22.q_z(400, 1, 1, 1),
        lambda: en1991_1_4.q_p(5, 400, "II"),
        lambda: en1991_1_4.q_p(5, 25, "V"),
        lambda: en1991_1_4.q_p(-1, 25, "II"),
        lambda: en1991_1_4.c_pe_vault(0.6, 0),
        lambda: en1991_1_4.c_pe_vault(0.01, 0),
        lambda: en1991_1_4.c_s_c_d(16),
        lambda: en1991_1_4.c_pi_dominant(0.8, 1),
        lambda: en1991_1_3.s(0.8, -100),
        lambda: asce7_16.p_f(-1, 1, 1, 1),
        lambda: asce7_16.K_z(5, "A"),
        lambda: asce7_22.K_z(np.nan, "C"),
        lambda: asce7_22.p(1, 0.2, 1, 1, 1, GC_pi=0),
        lambda: asce7_shared.C_p_arch(0.7, from_ground=True),
        lambda: gb50009.mu_s_arch(0.05, from_ground=True),
        lambda: practice.strip_tension(1, 1, 0),
    ],
)
def test_bad_input_is_refused(call):
    with pytest.raises(InputError):
        call()


def test_a_bound_is_told():
    with pytest.raises(InputError, match="wind = 400 m/s, not in 0 to 150 m/s"):
        within("wind", [10, 400], 0, 150, "m/s")
    with pytest.raises(InputError, match="take one of a, b"):
        one_of("letter", "c", ("a", "b"))


def test_directionality_is_applied_once_in_each_edition():
    # The same site and terrain factor: the pressures of the editions must agree.
    q16 = asce7_16.q_z(50, 0.9, 1, 0.85, 1)
    q22 = asce7_22.q_z(50, 0.9, 1, 1)
    assert q16 == pytest.approx(0.85 * q22)
    p16 = asce7_16.p(q16, 0.85, 0.8, q16, 0.18)
    p22 = asce7_22.p(q22, 0.85, 0.85, 0.8, q22, GC_pi=0.18)
    assert p16 == pytest.approx(p22)


def test_hill():
    # At the crest of a ridge with H/L_h = 0.5, at the ground: (1 + 0.72)^2.
    assert asce7_shared.K_zt("ridge", 50, 100, x=0, z=0) == pytest.approx(1.72**2)
    assert asce7_shared.K_zt("ridge", 10, 100, x=0, z=0) == 1
    far = asce7_shared.K_zt("escarpment", 50, 100, x=399.9, z=0)
    assert far == pytest.approx(1, abs=1e-3)
    assert asce7_shared.K_zt("hill", 100, 100, x=0, z=0) == pytest.approx(1.53**2)


def test_slope_factor_is_one_then_falls_to_nothing_at_70_degrees():
    theta = np.radians([0, 30, 45, 57.5, 70, 80, 90])
    assert asce7_shared.C_s(theta, 1.2) == pytest.approx([1, 1, 1, 0.5, 0, 0, 0])
    assert asce7_shared.C_s(np.radians(40), 1.05) == pytest.approx(1 - 6.25 / 36.25)


def test_unbalanced_snow_of_a_dome():
    # 7.6.2: half p_f at the crown, 2 p_f C_s/C_e at 30 degrees, nothing above 70 degrees.
    load = asce7_shared.p_unbalanced(np.radians([0, 30, 45, 70, 85]), 700, 1.0, 1.2)
    assert load == pytest.approx([350, 1400, 1400, 0, 0])
    middle = asce7_shared.p_unbalanced(np.arcsin(0.25), 700, 1.0, 1.2)
    assert middle == pytest.approx((350 + 1400) / 2)


def test_sector_of_a_dome():
    share = asce7_shared.sector_share(np.radians([0, 45, -45, 56.25, 67.5, 90, 180, 360]))
    assert share == pytest.approx([1, 1, 1, 0.5, 0, 0, 0, 1])


def test_snow_on_slopes():
    alpha = np.radians([0, 30, 45, 60, 80])
    assert en1991_1_3.mu_pitched(alpha) == pytest.approx([0.8, 0.8, 0.4, 0, 0])
    assert en1991_1_3.mu_cylinder(alpha) == pytest.approx([0.8, 0.8, 0.8, 0.8, 0])


def test_arcs_case_b_holds_its_value_to_25_degrees():
    theta = np.radians([0, 25, 57.5, 90, 135, 180])
    assert dome_arcs.c_p_arc(theta, 0.8, -1.2, 0, "B") == pytest.approx(
        [0.8, 0.8, -0.2, -1.2, -0.6, 0]
    )
    assert dome_arcs.c_p_arc(np.pi / 4, 0.8, -1.2, 0) == pytest.approx(-0.2)


def test_no_curve_is_invented():
    assert dome_arcs.ordinates(0.5, 0.0) is dome_arcs.HEMISPHERE
    assert dome_arcs.ordinates(0.49, 0.01) is dome_arcs.HEMISPHERE
    assert dome_arcs.ordinates(0.4, 0.0) is None
    assert dome_arcs.ordinates(0.5, 0.25) is None


TABLE = """# read from the printed figure
f_over_d,h_over_d,A,B,C,source
0.2,0,0.3,-0.7,-0.2,figure on page 3
0.4,0,0.5,-0.9,-0.3,figure on page 3
0.2,0.5,-0.5,-1.1,-0.4,figure on page 3
"""


def test_the_users_table_is_read_and_interpolated_between_its_rows_only():
    rows = dome_arcs.read_dome_table(TABLE)
    found = dome_arcs.ordinates(0.3, 0, rows)
    assert pytest.approx((0.4, -0.8, -0.25)) == (found.A, found.B, found.C)
    assert pytest.approx(-0.1) == dome_arcs.ordinates(0.2, 0.25, rows).A
    assert dome_arcs.ordinates(0.45, 0, rows) is None
    assert dome_arcs.ordinates(0.4, 0.25, rows) is None


def test_all_faults_of_the_table_are_told_at_once():
    with pytest.raises(InputError) as error:
        dome_arcs.read_dome_table(TABLE + "0.3,0,9,0,0,x\n0.3,0,a,0,0,x\n0.3\n")
    assert [p.where for p in error.value.problems] == [f"dome_cp.csv, row {n}" for n in (4, 5, 6)]
    with pytest.raises(InputError, match="no column A, B"):
        dome_arcs.read_dome_table("f_over_d,h_over_d,C\n")


def test_film_that_stretches_satisfies_its_own_sag():
    # T = p a^2/(8 s) and 8 s^2/(3 a^2) = T/J together.
    p, a, J = 600.0, 1.5, 36e3
    T = practice.strip_tension_elastic(p, a, J)
    sag = a * np.sqrt(3 * T / (8 * J))
    assert practice.strip_tension(p, a, sag) == pytest.approx(T)


def test_snow_against_the_base_sums_to_half_gamma_depth_squared():
    z = np.linspace(0, 0.8, 801)
    total = np.trapezoid(practice.snow_side_pressure(z, 0.8, 3000), z)
    assert total == pytest.approx(0.5 * 3000 * 0.8**2)
    assert practice.heap_depth(0.5 * 3000 * 0.8**2, 3000) == pytest.approx(0.8)
