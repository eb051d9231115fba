"""Wrap-round templates against the bodies that they are cut from, point by point.

The curve is put back on the tube's surface in space; each of its points must lie on the plane or
on the round body. Depths of the plain cases: pipe fitters' ordinates, recalled (a tee of equal
tubes is cut half a diameter deep, a mitre a diameter times the tangent).
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from strutwright.errors import InputError
from strutwright.making import end_curve

DIAMETERS = st.floats(0.01, 0.3)
TILTS = st.floats(-1.2, 1.2)


def on_tube(curve, diameter, tilt):
    """Points of the curve in space: tube axis tilted from z towards y."""
    r = diameter / 2
    turn = curve[:, 0] / r
    axis = np.array([0.0, np.sin(tilt), np.cos(tilt)])
    side, up = np.array([1.0, 0.0, 0.0]), np.array([0.0, np.cos(tilt), -np.sin(tilt)])
    x, y = r * np.cos(turn)[:, None], r * np.sin(turn)[:, None]
    return curve[:, 1:] * axis + x * side + y * up


@given(DIAMETERS, TILTS)
def test_a_mitre_lies_in_one_plane(diameter, tilt):
    points = on_tube(end_curve(diameter, tilt), diameter, tilt)
    assert np.ptp(points[:, 2]) == pytest.approx(0, abs=1e-12)


@given(DIAMETERS, TILTS, st.floats(1.0, 5.0))
def test_a_cope_lies_on_the_round_body(diameter, tilt, ratio):
    onto = ratio * diameter
    curve = end_curve(diameter, tilt, onto)
    points = on_tube(curve, diameter, tilt)
    # the curve is counted from its shortest side: one shift along the axis puts all on the body
    x, z = points[0, 0], points[0, 2]
    shift = (np.sqrt((onto / 2) ** 2 - x**2) - z) / np.cos(tilt)
    points = points + shift * np.array([0.0, np.sin(tilt), np.cos(tilt)])
    assert np.hypot(points[:, 0], points[:, 2]) == pytest.approx(onto / 2, rel=1e-9)


def test_depths_of_plain_cases():
    assert np.ptp(end_curve(0.06, 0.0, 0.06)[:, 1]) == pytest.approx(0.03)
    assert np.ptp(end_curve(0.06, np.pi / 4)[:, 1]) == pytest.approx(0.06)
    assert end_curve(0.06, 0.0)[:, 1] == pytest.approx(0)
    assert end_curve(0.06, 0.3)[-1, 0] == pytest.approx(np.pi * 0.06)


@pytest.mark.parametrize(
    ("diameter", "tilt", "onto"), [(0.0, 0.1, None), (0.04, 1.5, None), (0.04, 0.1, 0.03)]
)
def test_what_cannot_be_drawn_is_refused(diameter, tilt, onto):
    with pytest.raises(InputError) as caught:
        end_curve(diameter, tilt, onto)
    assert caught.value.code == "template-value"
