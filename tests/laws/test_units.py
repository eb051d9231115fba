"""What holds for every quantity: what is shown can be read again, within half a step."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from strutwright import units
from strutwright.errors import InputError

INCH = Fraction(254, 10_000)
lengths = st.floats(-100, 100)


@given(lengths, st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_feet_and_inches_round_trip_within_half_a_step(metres, parts):
    step = INCH / parts
    text = units.show_length(metres, "imperial", step=float(step))
    again = units.parse_exact(text, "length", signed=True)
    assert abs(again - Fraction(metres)) <= step / 2
    assert (again / step).denominator == 1


@given(lengths, st.sampled_from(["0.0001", "0.0005", "0.001", "0.002", "0.005"]))
def test_millimetres_round_trip_within_half_a_step(metres, step):
    text = units.show_length(metres, "metric", step=float(step))
    again = units.parse_exact(text, "length", signed=True)
    assert abs(again - Fraction(metres)) <= Fraction(step) / 2


@given(
    st.sampled_from(["area", "volume", "force", "area load", "stress", "speed", "line load"]),
    st.sampled_from(["metric", "imperial"]),
    st.floats(-1e9, 1e9).filter(lambda v: abs(v) > 1e-6),
)
def test_other_quantities_round_trip_to_three_digits(kind, system, value):
    again = units.parse_quantity(units.show_quantity(value, kind, system), kind, signed=True)
    assert again == pytest.approx(value, rel=0.00501)


@given(st.integers(0, 400), st.integers(0, 11), st.integers(0, 63))
def test_every_way_to_write_feet_and_inches_means_the_same(feet, inches, part):
    exact = (12 * feet + inches + Fraction(part, 64)) * INCH
    for text in (
        f"{feet}' {inches} {part}/64\"",
        f"{feet}'-{inches}-{part}/64\"",
        f"{feet} ft {inches} {part}/64 in",
        f'{12 * feet + inches} {part}/64"',
    ):
        assert units.parse_exact(text, "length") == exact


@given(st.text(max_size=70))
def test_no_text_does_more_than_be_read_or_refused(text):
    try:
        value = units.parse_length(text)
    except InputError:
        return
    assert 0 <= value <= 1e15
