"""The palette against published measures of colour.

Sources, all recalled from memory and marked so:
- IEC 61966-2-1 (sRGB): transfer function and the matrix to XYZ, white D65.
- CIE 15, CIE 1976 L*a*b* and its colour difference (CIE76).
- W3C, WCAG 2.1, definitions of relative luminance and contrast ratio; 1.4.11 asks for 3:1.
- Viénot, Brettel, Mollon 1999, "Digital video colourmaps for checking the legibility of displays
  by dichromats": one matrix in linear RGB each for protanopia and deuteranopia.
"""

import itertools

import numpy as np
import pytest

from strutwright.drawing import INK, QUIET, TYPE_COLOURS, WHITE, tint, type_colour

TO_XYZ = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
D65 = np.array([0.9505, 1.0, 1.089])
TO_LMS = np.array(
    [[17.8824, 43.5161, 4.11935], [3.45565, 27.1554, 3.86714], [0.0299566, 0.184309, 1.46709]]
)
SIGHT = {
    "full": np.eye(3),
    "protanopia": np.array([[0, 2.02344, -2.52581], [0, 1, 0], [0, 0, 1]]),
    "deuteranopia": np.array([[1, 0, 0], [0.494207, 0, 1.24827], [0, 0, 1]]),
}
LEAST_DISTANCE, LEAST_CONTRAST = 20, 3


def linear(colour):
    value = np.array([int(colour[k : k + 2], 16) for k in (1, 3, 5)]) / 255
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


def seen(rgb, sight):
    if sight == "full":
        return rgb
    return np.clip(np.linalg.inv(TO_LMS) @ SIGHT[sight] @ TO_LMS @ rgb, 0, 1)


def lab(rgb):
    ratio = TO_XYZ @ rgb / D65
    f = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio * (29 / 6) ** 2 / 3 + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def contrast(a, b):
    lights = sorted(float(TO_XYZ[1] @ linear(colour)) for colour in (a, b))
    return (lights[1] + 0.05) / (lights[0] + 0.05)


def test_measures_give_the_known_values():
    assert contrast("#000000", "#ffffff") == pytest.approx(21, abs=0.001)
    # sRGB red is L* 53.2, a* 80.1, b* 67.2 (printed in many tables; one decimal).
    assert lab(linear("#ff0000")) == pytest.approx([53.2, 80.1, 67.2], abs=0.06)
    # Dichromats see white and grey as they are (what the matrices are built on; 3 digits).
    for sight in ("protanopia", "deuteranopia"):
        assert seen(linear("#808080"), sight) == pytest.approx(linear("#808080"), abs=2e-3)


@pytest.mark.parametrize("sight", SIGHT)
def test_colours_of_types_are_far_apart_for_every_eye(sight):
    for a, b in itertools.combinations(TYPE_COLOURS, 2):
        distance = np.linalg.norm(lab(seen(linear(a), sight)) - lab(seen(linear(b), sight)))
        assert distance > LEAST_DISTANCE, (a, b, distance)


@pytest.mark.parametrize("colour", [*TYPE_COLOURS, INK, QUIET])
def test_colours_stand_out_on_white(colour):
    assert contrast(colour, WHITE) >= LEAST_CONTRAST


def test_colours_come_round_again():
    assert type_colour(7) == TYPE_COLOURS[1]


def test_a_tint_runs_from_white_to_the_colour():
    assert tint("#4798b2", 0.0) == WHITE
    assert tint("#4798b2", 1.0) == "#4798b2"
    assert tint("#000000", 0.2) == "#cccccc"
