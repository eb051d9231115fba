"""Bounds and refusals of the resistance functions."""

import numpy as np
import pytest

from strutwright.errors import InputError
from strutwright.structure.standards import (
    adm,
    aisc360,
    anchors,
    en1990_d,
    en1993_1_1,
    en1993_1_8,
    en1995,
    en1999,
    iso22156,
    lattice,
    nds,
    pvc_practice,
    ties,
)

E = 210e9


@pytest.mark.parametrize(
    "call",
    [
        lambda: en1993_1_1.chs_class(0.02, 0.011, 235e6),
        lambda: en1993_1_1.chi(0.5, "e"),
        lambda: en1993_1_1.chi(-0.5, "a"),
        lambda: en1993_1_1.M_c_Rd(1, 1, 235e6, 4),
        lambda: en1993_1_1.N_cr(E, 1e-8, 0),
        lambda: en1993_1_8.F_v_Rd(36.6e-6, "9.9"),
        lambda: en1993_1_8.F_b_Rd(0.008, 0.007, 2e-3, (0.02, 0.02), (360e6, 800e6)),
        lambda: en1995.f_d(24e6, "week", 4),
        lambda: en1995.f_d(24e6, "weeks", 1),
        lambda: en1999.chi(1.0, "C"),
        lambda: aisc360.M_n(1.0, 0.001, 345e6, 200e9),
        lambda: aisc360.design(1.0, "shear", "factored"),
        lambda: aisc360.design(1.0, "bending", "STR"),
        lambda: pvc_practice.modulus("gust", 61),
        lambda: pvc_practice.modulus("gust", float("nan")),
        lambda: pvc_practice.modulus("years", 23),
        lambda: ties.capacity_nylon(222, 4, "gust", T=90),
        lambda: ties.capacity_nylon(222, 4, "gust", type="3", T=20),
        lambda: iso22156.allowable(14e6, "none", C_DF=0.5),
        lambda: anchors.lateral_broms_sand(18e3, 0.02, -1, 0.5, 0),
        lambda: anchors.anchors_needed(100, 0),
        lambda: en1990_d.k_n(2),
        lambda: en1990_d.characteristic([1.0, -1.0, 2.0]),
        lambda: lattice.P_snap(6, 1e7, 9.0, 4.0),
    ],
)
def test_bad_input_is_refused(call):
    with pytest.raises(InputError):
        call()


@pytest.mark.parametrize("reduction", [lambda x: en1993_1_1.chi(x, "c"), en1999.chi, en1995.k_c])
def test_columns_never_exceed_euler_nor_the_squash_load(reduction):
    slender = np.linspace(0.01, 8, 200)
    chi = reduction(slender)
    assert (chi <= 1).all()
    assert (chi <= 1 / slender**2 + 1e-12).all()
    assert (np.diff(chi) <= 1e-12).all()
    # A long column tends to Euler.
    assert reduction(40.0) * 40.0**2 == pytest.approx(1, abs=0.03)


def test_tube_classes_turn_at_their_limits():
    # S235: epsilon 1, limits 50, 70, 90.
    classes = [en1993_1_1.chs_class(t * 0.001, 0.001, 235e6) for t in (50, 50.1, 70.1, 90.1)]
    assert classes == [1, 2, 3, 4]


def test_axial_force_takes_moment_away():
    assert en1993_1_1.M_N_Rd(100.0, [0, 1, 2]) == pytest.approx([100, 0, 0])
    # The linear sum is never kinder than the plastic one.
    n = np.linspace(0, 1, 50)
    left = en1993_1_1.M_N_Rd(1.0, n)
    assert (en1993_1_1.utilisation_linear(n, left, 1.0, 1.0) >= 1 - 1e-12).all()


def test_interaction_factor_grows_with_slenderness_to_one():
    assert en1993_1_1.k_yy(1.0, 1.0) == pytest.approx(1.8)
    assert en1993_1_1.k_yy(3.0, 1.0) == pytest.approx(1.8)
    assert en1993_1_1.k_yy(0.1, 0.5) == pytest.approx(1.0)
    assert en1993_1_1.k_yy(0.5, 0.5, 0.9, section_class=3) == pytest.approx(0.9 * 1.15)
    u = en1993_1_1.utilisation_member(np.array([50.0]), np.array([10.0]), 100.0, 40.0, 1.2)
    assert u == pytest.approx([0.8])


def test_bolt_bearing_by_hand():
    # M8 in 9 mm hole, e1 18, e2 14, t 2 x 1.25, S235 (360): alpha_b = 18/27 = 0.667,
    # k_1 = min(2.8 x 14/9 - 1.7, 2.5) = 2.5; 2.5 x 0.667 x 360 x 8 x 2.5/1.25 = 9600 N.
    found = en1993_1_8.F_b_Rd(0.008, 0.009, 2.5e-3, (0.018, 0.014), (360e6, 800e6))
    assert found == pytest.approx(9600)
    u = en1993_1_8.utilisation_bolt(np.array([7e3]), np.array([14e3]), 14e3, 20e3)
    assert u == pytest.approx([1.0])


def test_timber_interactions_by_hand():
    one = np.array([1e6])
    t = en1995.utilisation_tension(one, (2 * one, one), 10e6, (10e6, 10e6))
    assert t == pytest.approx([0.1 + 0.2 + 0.07])
    c = en1995.utilisation_compression(one, (2 * one, one), 10e6, (10e6, 10e6), (0.5, 0.25))
    assert c == pytest.approx([max(0.2 + 0.27, 0.4 + 0.24)])
    # Without buckling the squared axial term of eqs 6.19 and 6.20 stays below the linear one.
    stocky = en1995.utilisation_compression(one, (0 * one, 0 * one), 10e6, (10e6, 10e6), (1, 1))
    assert stocky == pytest.approx([0.1])


def test_timber_outside_is_weaker():
    assert en1995.f_d(24e6, "gust", 3) == pytest.approx(24e6 * 0.9 / 1.3)
    assert en1995.f_d(24e6, "permanent", 3) < en1995.f_d(24e6, "permanent", 2)
    assert en1995.k_h(0.15) == 1
    assert en1995.k_h(0.045) == pytest.approx((150 / 45) ** 0.2)
    assert en1995.k_h(0.01) == 1.3


def test_a_thick_plate_holds_a_nail_at_least_as_well():
    f_h, M_y = en1995.f_h_k(0.004, 350), en1995.M_y_Rk(0.004)
    for t_1 in (0.01, 0.03, 0.06):
        thin = en1995.F_v_Rk_thin(f_h, t_1, 0.004, M_y)
        assert en1995.F_v_Rk_thick(f_h, t_1, 0.004, M_y) >= thin


def test_aisc_round_tube_in_bending():
    # Compact: full plastic modulus; and the three branches fall with D/t.
    D, t = 0.0483, 0.0032
    inner = D - 2 * t
    assert aisc360.M_n(D, t, 250e6, 200e9) == pytest.approx(250e6 * (D**3 - inner**3) / 6)
    stress = []
    for ratio in (40, 60, 200, 280, 350):
        t = 0.2 / ratio
        S = np.pi * (0.2**4 - (0.2 - 2 * t) ** 4) / 32 / 0.2
        stress.append(aisc360.M_n(0.2, t, 250e6, 200e9) / S)
    assert (np.diff(stress) < 0).all()
    assert aisc360.is_slender(0.2, 0.002, 250e6, 200e9)


def test_aisc_interaction_meets_at_two_tenths():
    low = aisc360.utilisation(np.array([0.2 - 1e-12]), np.array([0.9]), 1.0, 1.0)
    high = aisc360.utilisation(np.array([0.2]), np.array([0.9]), 1.0, 1.0)
    assert low == pytest.approx([1.0])
    assert high == pytest.approx([1.0])
    assert aisc360.design(100.0, "compression", "allowable") == pytest.approx(100 / 1.67)
    assert aisc360.T_n(1.0, 0.5, 3.0, 4.0) == (3.0, 2.0)


def test_nds_interaction_runs_away_at_the_critical_stress():
    zero = np.zeros(2)
    u = nds.utilisation_compression(
        np.array([0.5, 1.0]), (zero + 0.1, zero), 1.0, (1.0, 1.0), (1.0, 1.0), F_bE=np.inf
    )
    assert u[0] == pytest.approx(0.25 + 0.1 / 0.5)
    assert np.isinf(u[1])
    weak = nds.utilisation_compression(
        np.array([0.0]), (np.array([0.5]), np.array([0.1])), 1.0, (1.0, 1.0), (1.0, 1.0), F_bE=1.0
    )
    assert weak == pytest.approx([0.5 + 0.1 / 0.75])
    assert nds.F_cE(60, 3.5e9) == pytest.approx(0.822 * 3.5e9 / 3600)
    assert nds.C_P(1e12, 8e6, "pole") == pytest.approx(1, abs=1e-4)


def test_aluminium_columns():
    # 6061-T6, 35 ksi, E 10100 ksi: B_c = 35 (1 + sqrt(35/2250)) = 39.4 ksi; C_c = 66.
    ksi = 6.894757e6
    assert adm.B_c(35 * ksi) / ksi == pytest.approx(39.37, abs=0.01)
    assert adm.C_c(35 * ksi, 10100 * ksi) == pytest.approx(65.7, abs=0.1)
    assert adm.F_c(100, 35 * ksi, 10100 * ksi) == pytest.approx(0.85 * np.pi**2 * 10100 * ksi / 1e4)
    assert adm.design(1.0, "buckling", "allowable") == pytest.approx(1 / 1.65)
    assert en1999.tube_class(0.025, 0.0015, 170e6) == 1
    assert en1999.N_b_Rd(0.5, 1e-4, 170e6, kappa=0.6) == pytest.approx(0.3 * 17e3 / 1.1)


def test_pvc_slender_hot_or_long_loaded_is_allowed_less():
    A, inertia = 318.6e-6, 36355e-12
    gust = pvc_practice.N_allow(A, inertia, 1.2, "gust", 23)
    assert pvc_practice.N_allow(A, inertia, 1.2, "season", 23) == pytest.approx(gust * 1500 / 2760)
    assert pvc_practice.N_allow(A, inertia, 1.2, "gust", 45) < gust
    ratio = pvc_practice.N_allow(A, inertia, 3.4, "gust", 23) / pvc_practice.N_allow(
        A, inertia, 1.7, "gust", 23
    )
    assert ratio == pytest.approx(0.25)  # Euler, past the largest slenderness too
    # A stub is limited by its working stress.
    assert pvc_practice.N_allow(A, inertia, 0.1, "gust", 43) == pytest.approx(
        0.5 * pvc_practice.HDS * A
    )
    assert pvc_practice.utilisation(np.array([1.0]), np.array([1.0]), 2.0, 4) == pytest.approx(0.75)


def test_bamboo_column_lies_below_both_limits():
    crush, euler = 20e3, np.array([5e3, 20e3, 1e9])
    found = iso22156.N_c(crush, euler)
    assert (found < np.minimum(crush, euler)).all()
    assert found[2] == pytest.approx(crush, rel=1e-3)


def test_ties_creep():
    gust = ties.capacity_nylon(222.4, 4, "gust", T=40)
    assert gust == pytest.approx(222.4 * 0.4 * 2.8)
    assert ties.capacity_nylon(222.4, 4, "permanent", T=40) == pytest.approx(gust * 0.15 / 0.4)
    assert ties.capacity_nylon(222.4, 4, "gust", type="1", T=40) == pytest.approx(gust / 2)
    assert ties.capacity_steel(445, 2) == pytest.approx(445 * 0.5 * 1.4)


def test_stake_in_clay_is_in_equilibrium():
    c_u, d, L, e = 40e3, 0.025, 0.75, 0.05
    H = anchors.lateral_broms_clay(c_u, d, L, e)
    f = H / (9 * c_u * d)
    g = L - 1.5 * d - f
    assert H * (e + 1.5 * d + f / 2) == pytest.approx(2.25 * c_u * d * g**2)
    assert anchors.lateral_broms_clay(c_u, d, 0.03, e) == 0


def test_sand_holds_no_smooth_stake():
    ultimate = anchors.Q_friction_sand(0.025, 0.75, 18e3, np.radians(32))
    assert ultimate < 0.2e3
    assert anchors.Q_helix(anchors.K_t("round"), 100) == pytest.approx(3281, abs=1)


def test_one_anchor_may_be_missing():
    assert [anchors.anchors_needed(u, 1000.0) for u in (-5, 0, 1, 1000, 1001)] == [0, 0, 2, 2, 3]


def test_characteristic_lies_below_the_smallest_of_three():
    values = [900.0, 1000.0, 1100.0]
    assert en1990_d.characteristic(values) < min(values)
    assert en1990_d.characteristic([1000.0] * 3) == pytest.approx(1000)


def test_slip_sinks_a_shallow_hub():
    # 6 mm at L 1.5 m, R 4 m: 32 mm.
    assert lattice.slip_sinking(0.006, 1.5, 4.0) == pytest.approx(0.032)
    assert lattice.tie_force(500, 3.0) == 1500
