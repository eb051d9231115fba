"""Weights and sizes of pipe and tube as printed, strengths as printed.

Sources: Steel Tube Institute, EMT weights and dimensions (ANSI C80.3), read; ASTM D1785 schedule
40 tables, read on public pages; Keymark alloy and temper specifications (ASTM B221), read;
EN 338:2016 Table 1, read in an open data file.
"""

import pytest

from strutwright.catalogue import material, stock

POUND, FOOT, INCH = 0.45359237, 0.3048, 0.0254


@pytest.mark.parametrize(("size", "pounds"), [("3/4", 46), ("1", 67), ("1-1/2", 116), ("2", 148)])
def test_emt_weighs_what_is_printed(size, pounds):
    made = stock(f"emt-{size}")
    assert made.mass == pytest.approx(pounds * POUND / 30.48, rel=1e-9)
    # The same weight from the printed size and 7850 kg/m3; the zinc and rounding make 3 %.
    assert made.section.area * made.material.density == pytest.approx(made.mass, rel=0.03)


@pytest.mark.parametrize(
    ("size", "pounds", "diameter_mm", "off_mm"),
    [
        ("1/2", 0.161, 21.34, 0.06),
        ("1", 0.315, 33.40, 0.06),
        ("1-1/2", 0.509, 48.26, 0.2),
        ("2", 0.682, 60.32, 0.2),
    ],
)
def test_pvc_weighs_and_measures_what_is_printed(size, pounds, diameter_mm, off_mm):
    made = stock(f"pvc-sch40-{size}")
    assert made.mass == pytest.approx(pounds * POUND / FOOT, rel=1e-9)
    assert made.section.outside * 1000 == pytest.approx(diameter_mm, abs=off_mm)
    # The minimum wall gives some 5 % less than the printed weight (average wall): within 8 %.
    assert made.section.area * 1410 == pytest.approx(made.mass, rel=0.08)


def test_pvc_one_inch_section():
    section = stock("pvc-sch40-1").section
    assert section.area / INCH**2 == pytest.approx(0.494, abs=0.002)
    assert section.inertia_y / INCH**4 == pytest.approx(0.0873, abs=0.0004)


def test_emt_three_quarter_section():
    section = stock("emt-3/4").section
    assert section.area * 1e6 == pytest.approx(86.7, abs=0.3)
    assert section.inertia_y * 1e12 == pytest.approx(5345.6, abs=10)


@pytest.mark.parametrize(("alloy", "mpa"), [("6061-t6", 241.3), ("6063-t6", 172.4)])
def test_aluminium_yields_where_printed(alloy, mpa):
    assert material(alloy).yield_strength == pytest.approx(mpa * 1e6, abs=0.1e6)


def test_softwood_c24():
    wood = material("c24")
    assert wood.strengths["fm"] == 24e6
    assert wood.strengths["ft0"] == 14.5e6
    assert wood.strengths["fc0"] == 21e6
    assert (wood.modulus, wood.modulus_low) == (11000e6, 7400e6)
    assert (wood.density_low, wood.density) == (350, 420)
