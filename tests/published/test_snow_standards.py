"""Snow and combinations: values of standards and worked examples, source beside each."""

import numpy as np
import pytest

from strutwright.loads.standards import (
    asce7_16,
    asce7_22,
    asce7_shared,
    en1990,
    en1991_1_3,
    gb50009,
)

# The arch of Dlubal KB 001591 (2019) 'Balanced and unbalanced snow loads for curved roofs,
# ASCE 7-16': span 64 ft, rise 16 ft.
SPAN, RISE = 64.0, 16.0


def test_flat_roof_snow():
    # Read: xcfem/xc verif/tests/actions/snow/test_snowASCE7.py; ASCE 7-16 eq. 7.3-1, psf.
    assert asce7_16.p_f(30, 1, 1, 1) == pytest.approx(21, abs=1e-9)
    # Read: eq. 7.3-1 with the factors of Tables 7.3-2 and 1.5-2.
    heated, low = asce7_16.C_T["continuously heated greenhouse"], asce7_16.I_S["I"]
    assert asce7_16.p_f(30, 1, heated, low) == pytest.approx(14.28, abs=1e-6)


def test_later_edition_has_no_importance_factor():
    # Recalled: ASCE 7-22 eq. 7.3-1.
    assert asce7_22.p_f(30, 1, 1) == pytest.approx(21, abs=1e-9)


def test_slope_at_the_eave_of_the_arch():
    # Computed: radius 40 ft and 53.13 degrees.
    radius = (SPAN**2 / 4 + RISE**2) / (2 * RISE)
    assert radius == pytest.approx(40, abs=1e-9)
    assert np.degrees(np.arcsin(SPAN / 2 / radius)) == pytest.approx(53.13, abs=1e-3)


@pytest.mark.parametrize(
    ("theta", "c_t", "slippery", "printed", "tolerance"),
    [
        # Recalled: ASCE 7-16 Fig. 7.4-1a, 7.4-1c.
        (53.13, 1.0, False, 0.4217, 5e-4),
        (53.13, 1.0, True, 0.2595, 5e-4),
        (60, 1.2, False, 0.4, 1e-9),
    ],
)
def test_slope_factor(theta, c_t, slippery, printed, tolerance):
    found = asce7_shared.C_s(np.radians(theta), c_t, slippery=slippery)
    assert found == pytest.approx(printed, abs=tolerance)


@pytest.mark.parametrize(("h_over_b", "peak"), [(0.1, 1.2), (0.5, 2.0)])
def test_cylinder_peak(h_over_b, peak):
    # Recalled: EN 1991-1-3:2003 5.3.5; the same expression read in GB 50009 Table 7.2.1.
    assert en1991_1_3.mu_cylinder_peak(h_over_b) == pytest.approx(peak, abs=1e-9)


def test_cylinder_drift_peaks_at_the_quarter_of_the_loaded_half():
    # Recalled: EN 1991-1-3 eq. 5.1 and Fig. 5.6: s = 2.0 kN/m2 for s_k = 1.0.
    mu = en1991_1_3.mu_cylinder_drifted([-4, -2, 0, 2, 4], 8, en1991_1_3.mu_cylinder_peak(0.5))
    assert en1991_1_3.s(mu, 1000.0) == pytest.approx([0, 1000, 0, 2000, 0], abs=1e-9)


def test_arch_uniform_snow():
    # Read: GB 50009-2012 Table 7.2.1 item 3.
    assert gb50009.mu_r_arch(8, 2) == pytest.approx(0.5, abs=1e-9)
    assert gb50009.mu_r_arch_uneven(0.1) == pytest.approx((0.6, 1.2), abs=1e-9)


def test_uplift_combinations():
    # Recalled: ASCE 7-16 2.4.1 comb. 7, kPa; EN 1990 Table A1.2(A).
    f = asce7_16.COMBINATIONS_ASD["0.6D+0.6W"]
    assert f["dead"] * 0.1 + f["wind"] * -1.0 == pytest.approx(-0.54, abs=1e-9)
    g = en1990.GAMMA["EQU"]
    assert g["G_inf"] * 0.1 + g["Q"] * -0.6 == pytest.approx(-0.81, abs=1e-9)
    assert set(f) == {"dead", "wind"}
