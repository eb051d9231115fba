"""Quantities as people write them. Expected values are exact by the definitions of the units."""

import math
from fractions import Fraction

import pytest

from strutwright.errors import InputError
from strutwright.units import KINDS, parse_exact, parse_length, parse_quantity
from strutwright.units.table import EXAMPLES

HALF = Fraction(1, 2)
INCH = Fraction(254, 10_000)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("7'-10 1/2\"", 94 + HALF),
        ("7' 10 1/2\"", 94 + HALF),
        ("7'10 1/2\"", 94 + HALF),
        ("7'-10-1/2\"", 94 + HALF),
        ('94-1/2"', 94 + HALF),
        ("7 ft 10.5 in", 94 + HALF),
        ("7 feet 10 1/2 inches", 94 + HALF),
        ("7′ 10½″", 94 + HALF),
        ("7’ 10 1⁄2”", 94 + HALF),
        ("18 ft 4 in", 220),
        ("1 1/2 in", 1 + HALF),
        ("1/16 in", Fraction(1, 16)),
        ("10 ft", 120),
        ("6'", 72),
        ("12 FT", 144),
        (" 3\u00a0ft ", 36),
    ],
)
def test_feet_and_inches_are_exact(text, inches):
    assert parse_exact(text, "length") == inches * INCH


@pytest.mark.parametrize(
    ("text", "kind", "si"),
    [
        ("1181 mm", "length", Fraction(1181, 1000)),
        ("118 cm", "length", Fraction(118, 100)),
        ("5.2 m", "length", Fraction(52, 10)),
        ("1e-3 m", "length", Fraction(1, 1000)),
        (".5 m", "length", HALF),
        ("0.7 kN/m2", "area load", 700),
        ("0.7 kN/m²", "area load", 700),
        ("0.7 kN / m^2", "area load", 700),
        ("700 Pa", "area load", 700),
        ("0.7 kPa", "area load", 700),
        ("90 km/h", "speed", 25),
        ("36 kn", "speed", Fraction(1852, 100)),
        ("115 mph", "speed", Fraction(514096, 10_000)),
        ("445 N", "force", 445),
        ("1.2 kN", "force", 1200),
        ("100 lbf", "force", Fraction("444.82216152605")),
        ("100 lb", "force", Fraction("444.82216152605")),
        ("100 lb", "mass", Fraction("45.359237")),
        ("-40 F", "temperature", -40),
        ("-8 °C", "temperature", -8),
        ("212°F", "temperature", 100),
        ("273.15 K", "temperature", 0),
        ("-20 deg", "angle", -20),
        ("20°", "angle", 20),
        ("8 %", "share", Fraction(8, 100)),
        ("1 kN/m", "line load", 1000),
        ("2 kN/mm", "stiffness", 2_000_000),
        ("28 m2", "area", 28),
        ("100 sq ft", "area", 1200 * 12 * INCH**2),
        ("235 MPa", "stress", 235_000_000),
        ("10 min", "time", 600),
    ],
)
def test_units_are_exact(text, kind, si):
    assert parse_exact(text, kind, signed=True) == si


def test_25_psf_is_1197_pascals():
    assert parse_quantity("25 psf", "area load") == pytest.approx(1197.0, abs=0.05)


def test_angles_come_out_in_radians():
    assert parse_quantity("180 deg", "angle") == pytest.approx(math.pi, rel=1e-15)
    assert parse_quantity("1 rad", "angle") == pytest.approx(1, rel=1e-15)


@pytest.mark.parametrize(
    ("value", "code"),
    [
        ("7 10", "number-ambiguous"),
        ("7 ft 10", "number-ambiguous"),
        ("7.5 ft 3 in", "number-ambiguous"),
        ("7 ft 13 in", "number-ambiguous"),
        ("3 5/4 in", "number-ambiguous"),
        ("3 in 2 ft", "unit-order"),
        ("2 m 3 ft", "unit-mixed"),
        ("2 m 30 cm", "unit-mixed"),
        ("7 ft 3 in 2 in", "unit-mixed"),
        ("1/0 in", "number-zero-denominator"),
        ("-3 m", "number-negative"),
        ("−3 m", "number-negative"),
        ("nan", "number-not-finite"),
        ("nan m", "number-not-finite"),
        ("-inf m", "number-not-finite"),
        (math.nan, "number-not-finite"),
        ("1e400 m", "number-too-large"),
        ("1e-400 m", "number-too-large"),
        ("9999999999999 m", "number-too-large"),
        ("9" * 70 + " m", "number-unreadable"),
        ("6", "unit-missing"),
        (6, "unit-missing"),
        (6.0, "unit-missing"),
        ("", "number-missing"),
        ("  ", "number-missing"),
        ("m", "number-unreadable"),
        (True, "number-unreadable"),
        (["6 m"], "number-unreadable"),
        (None, "number-unreadable"),
        ("5,2 m", "number-unreadable"),
        ("1,181 mm", "number-unreadable"),
        ("1.2.3 m", "number-unreadable"),
        ("--3 m", "number-unreadable"),
        ("5² m", "unit-unknown"),
        ("1/2/3 m", "number-unreadable"),
        ("24 m/s", "unit-wrong-kind"),
        ("28 m2", "unit-wrong-kind"),
        ("1 m m", "unit-unknown"),
        ("0x10 m", "unit-unknown"),
        ("1_000 mm", "unit-unknown"),
        ("3 ells", "unit-unknown"),
    ],
)
def test_what_could_be_misread_is_refused_with_a_mend(value, code):
    with pytest.raises(InputError) as refused:
        parse_length(value, "size.width")
    assert refused.value.code == code
    assert refused.value.where == "size.width"
    assert refused.value.mend


def test_a_mass_is_no_force():
    with pytest.raises(InputError, match=r"9\.81 N") as refused:
        parse_quantity("45 kg", "force")
    assert refused.value.code == "unit-wrong-kind"


def test_capitals_do_not_turn_a_thousandth_into_a_million():
    with pytest.raises(InputError) as refused:
        parse_quantity("3 mPa", "stress")
    assert refused.value.code == "unit-unknown"


@pytest.mark.parametrize("kind", KINDS)
def test_the_examples_of_each_kind_are_read(kind):
    for text in EXAMPLES[kind].split('"')[1::2]:
        assert parse_exact(text, kind, signed=True) != 0
