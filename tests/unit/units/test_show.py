"""SI values as a reader sees them."""

import math

import pytest

from strutwright import units

INCH = 0.0254


@pytest.mark.parametrize(
    ("metres", "shown"),
    [
        (94.5 * INCH, "7' 10 1/2\""),
        (11.97 * INCH, "1' 0\""),
        (23.97 * INCH, "2' 0\""),
        (11.96 * INCH, '11 15/16"'),
        (4 / 16 * INCH, '1/4"'),
        (48.625 * INCH, "4' 5/8\""),
        (0.0, '0"'),
        (-0.0, '0"'),
        (-1e-6, '0"'),
        (-94.5 * INCH, "-7' 10 1/2\""),
    ],
)
def test_feet_and_inches_carry_and_have_no_negative_zero(metres, shown):
    assert units.show_length(metres, "imperial") == shown


@pytest.mark.parametrize(
    ("metres", "step", "shown"),
    [
        (1.1806, None, "1181 mm"),
        (1.1804, None, "1180 mm"),
        (1.18062, 0.0005, "1180.5 mm"),
        (1.1806, 0.005, "1180 mm"),
        (1.1806, INCH / 16, "1181 mm"),
        (-1e-6, None, "0 mm"),
        (0.99996, 0.0001, "1000.0 mm"),
    ],
)
def test_millimetres_follow_a_metric_step(metres, step, shown):
    assert units.show_length(metres, step=step) == shown


def test_inches_follow_an_inch_step():
    assert units.show_length(94.53 * INCH, "imperial", step=INCH / 32) == "7' 10 17/32\""
    assert units.show_length(94.53 * INCH, "imperial", step=INCH) == "7' 11\""
    assert units.show_length(94.53 * INCH, "imperial", step=0.001) == "7' 10 1/2\""


def test_both_systems_stand_together():
    assert units.show_length(2.4003, "both") == "2400 mm (7' 10 1/2\")"
    assert units.show_force(445, "both") == "445 N (100 lbf)"
    assert units.show_pressure(700, "both") == "0.7 kN/m² (14.6 psf)"
    assert units.show_speed(24, "both") == "24 m/s (53.7 mph)"
    assert units.show_mass(10, "both") == "10 kg (22 lb)"
    assert units.show_temperature(-0.2, "both") == "0 °C (32 °F)"
    assert units.show_stress(235e6, "both") == "235 MPa (34.1 ksi)"
    assert units.show_line_load(500, "both") == "0.5 kN/m (34.3 lbf/ft)"
    assert units.show_moment(120, "both") == "120 N·m (88.5 lbf·ft)"
    assert units.show_area(10, "both") == "10 m² (108 ft²)"
    assert units.show_volume(10, "both") == "10 m³ (353 ft³)"


@pytest.mark.parametrize(
    ("newtons", "shown"),
    [
        (999.4, "999 N"),
        (999.6, "1 kN"),
        (1234.0, "1.23 kN"),
        (-0.0, "0 N"),
        (-445.0, "-445 N"),
        (1234567.0, "1235 kN"),
        (0.01234, "0.0123 N"),
    ],
)
def test_three_digits_count_and_no_digit_before_the_point_is_lost(newtons, shown):
    assert units.show_force(newtons) == shown


def test_angles_and_shares():
    assert units.show_angle(math.radians(18)) == "18.0°"
    assert units.show_angle(-1e-9) == "0.0°"
    assert units.show_angle(math.radians(-7.25), decimals=2) == "-7.25°"
    assert units.show_share(0.08) == "8 %"


def test_an_unknown_system_or_step_is_a_fault_of_ours():
    with pytest.raises(ValueError, match="metric, imperial or both"):
        units.show_length(1.0, "nautical")
    with pytest.raises(ValueError, match="above zero"):
        units.show_length(1.0, step=0.0)
    with pytest.raises((ValueError, OverflowError)):
        units.show_length(math.nan)


@pytest.mark.parametrize(
    ("use", "is_bound", "text"),
    [(0.954, False, "0.95"), (0.95, True, "≤ 0.95"), (1234.5, False, "1234.50"),
     (math.inf, False, "∞"), (None, False, "")],
)  # fmt: skip
def test_a_utilisation_is_never_capped(use, is_bound, text):
    assert units.show_use(use, is_bound=is_bound) == text
