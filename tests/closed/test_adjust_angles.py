"""Bearings, angles and directions in networks whose answer is known exactly."""

import numpy as np
import pytest

from strutwright.adjust import Network, Observation, adjust

TRIANGLE = np.array([[0.0, 0.0], [400.0, 30.0], [150.0, 350.0]])
SECOND = np.deg2rad(1 / 3600)


def angle_at(points, at, back, fore):
    """Exact angle by cross and dot product, without bearings."""
    a, b = points[back] - points[at], points[fore] - points[at]
    return float(np.arctan2(a[0] * b[1] - a[1] * b[0], a @ b) % (2 * np.pi))


def test_a_misclosure_of_three_equal_angles_is_shared_evenly():
    """r = 1/3 each, v = -w/3 each: sum of the angles of a triangle."""
    ends = [(0, 1, 2), (1, 2, 0), (2, 0, 1)]
    over = np.array([3.0, 0.0, 6.0]) * SECOND
    observations = tuple(
        Observation("angle", one, angle_at(TRIANGLE, *one) + extra, 5 * SECOND)
        for one, extra in zip(ends, over, strict=True)
    )
    held = np.array([[True, True], [True, True], [False, False]])
    found = adjust(Network(TRIANGLE + np.where(held, 0.0, 2.0), held, observations))
    assert found.freedom == 1
    assert found.redundancy == pytest.approx([1 / 3] * 3, abs=1e-6)
    assert found.residuals == pytest.approx([-3 * SECOND] * 3, abs=1e-3 * SECOND)


def test_a_point_by_bearing_and_distance():
    """Ellipse of a polar point: sigma along, distance times sigma of the bearing across."""
    observations = (
        Observation("bearing", (0, 1), np.deg2rad(350.0), 10 * SECOND),
        Observation("distance", (0, 1), 200.0, 0.005),
    )
    held = np.array([[True, True], [False, False]])
    found = adjust(Network(np.array([[10.0, 20.0], [200.0, 20.0]]), held, observations))
    turn = np.deg2rad(350.0)
    along = np.array([np.cos(turn), np.sin(turn)])
    assert found.points[1] == pytest.approx(np.array([10.0, 20.0]) + 200.0 * along, abs=1e-9)
    across = np.array([-along[1], along[0]])
    covariance = found.covariance(1)
    assert along @ covariance @ along == pytest.approx(0.005**2)
    assert across @ covariance @ across == pytest.approx((200.0 * 10 * SECOND) ** 2)
    assert np.isinf(found.detectable).all()


def test_two_directions_are_an_angle_of_twice_their_variance():
    held = np.array([[True, True], [True, True], [False, False]])
    spare = (
        Observation("distance", (0, 2), 380.0, 0.02),
        Observation("distance", (1, 2), 405.0, 0.02),
    )
    angle = angle_at(TRIANGLE, 0, 1, 2)
    read = (
        Observation("direction", (0, 1), 6.2, SECOND * 4, setup="first"),
        Observation("direction", (0, 2), 6.2 + angle - 2 * np.pi, SECOND * 4, setup="first"),
    )
    by_angle = (Observation("angle", (0, 1, 2), angle, SECOND * 4 * np.sqrt(2)),)
    start = TRIANGLE + np.where(held, 0.0, 1.0)
    found = adjust(Network(start, held, read + spare))
    other = adjust(Network(start, held, by_angle + spare))
    assert found.points == pytest.approx(other.points, abs=1e-8)
    assert found.cofactor == pytest.approx(other.cofactor, abs=1e-12)
    assert found.freedom == other.freedom == 1
    assert found.redundancy[:2].sum() == pytest.approx(other.redundancy[0])
    assert found.redundancy[2:] == pytest.approx(other.redundancy[1:])
    zero = (np.arctan2(30.0, 400.0) - 6.2 - found.residuals[0]) % (2 * np.pi)
    assert found.orientations == pytest.approx([zero], abs=1e-12)


def test_angles_alone_leave_shift_turn_and_growth_open():
    square = np.array([[0.0, 0], [100, 0], [100, 100], [0, 100]])
    observations = tuple(
        Observation("direction", (i, j), angle_at(square, i, (i + 1) % 4, j), 5 * SECOND)
        for i in range(4)
        for j in range(4)
        if i != j
    )
    start = square + np.array([[0.3, 0.1], [-0.2, 0.4], [0.0, -0.3], [0.2, 0.2]])
    found = adjust(Network(start, np.zeros((4, 2), dtype=bool), observations))
    assert found.defect == 4
    assert found.freedom == 12 - 4 - (8 - 4)
    assert np.abs(found.residuals).max() < 1e-12
    assert (found.points - start).sum(axis=0) == pytest.approx([0, 0], abs=1e-9)


def test_a_bearing_over_north_is_not_a_turn_off():
    observations = (
        Observation("bearing", (0, 1), 2 * np.pi - 2 * SECOND, SECOND),
        Observation("bearing", (0, 1), 2 * SECOND, SECOND),
        Observation("distance", (0, 1), 50.0, 0.001),
    )
    held = np.array([[True, True], [False, False]])
    found = adjust(Network(np.array([[0.0, 0.0], [49.0, 0.2]]), held, observations))
    assert found.points[1] == pytest.approx([50.0, 0.0], abs=1e-9)
    assert found.residuals[:2] == pytest.approx([2 * SECOND, -2 * SECOND])


@pytest.mark.parametrize(
    ("kind", "ends"), [("angle", (0, 1)), ("bearing", (0, 1, 2)), ("angle", (0, 1, 1))]
)
def test_ends_that_do_not_fit_are_refused(kind, ends):
    with pytest.raises(ValueError, match="does not fit"):
        Network(TRIANGLE, TRIANGLE > -1, (Observation(kind, ends, 1.0, SECOND),))


def test_points_in_one_place_have_no_bearing():
    points = np.array([[1.0, 1.0, 0.0], [1.0, 1.0, 5.0]])
    with pytest.raises(ValueError, match="lie in one place"):
        Network(points, points > 0, (Observation("bearing", (0, 1), 1.0, SECOND),))
