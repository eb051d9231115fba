"""Adjustments whose answer is known exactly."""

import numpy as np
import pytest
from scipy.stats import norm

from strutwright.adjust import (
    CRITICAL,
    DETECTABLE,
    Network,
    Observation,
    adjust,
    detectable_height,
    ellipse,
    fit_plane,
)
from strutwright.errors import InputError, ResultError

SQUARE = np.array([[0.0, 0], [1, 0], [1, 1], [0, 1]])
PAIRS = [(0, 1), (1, 2), (2, 3), (0, 3), (0, 2), (1, 3)]


def distances(points, pairs, sigma=0.001):
    return tuple(
        Observation("distance", (i, j), float(np.linalg.norm(points[j] - points[i])), sigma)
        for i, j in pairs
    )


def test_baarda_factor_is_the_sum_of_two_normal_quantiles():
    assert pytest.approx(norm.ppf(1 - 0.001 / 2), abs=5e-5) == CRITICAL
    assert pytest.approx(4.1321, abs=1e-4) == DETECTABLE


def test_braced_square_as_a_free_network():
    net = Network(SQUARE, np.zeros_like(SQUARE, dtype=bool), distances(SQUARE, PAIRS))
    result = adjust(net)
    assert (result.freedom, result.defect) == (1, 3)
    assert result.redundancy == pytest.approx([1 / 8] * 4 + [1 / 4] * 2)
    assert result.detectable[0] == pytest.approx(DETECTABLE * 0.001 * np.sqrt(8))


@pytest.mark.parametrize(
    ("degrees", "major", "minor"),
    [(30, 13.66, 3.66), (60, 7.07, 4.08), (90, 5, 5), (120, 7.07, 4.08), (150, 13.66, 3.66)],
)
def test_two_tapes_meeting_at_an_angle(degrees, major, minor):
    """a, b = sigma / sqrt(1 -+ |cos g|), drms = sigma sqrt(2) / sin g: (A^T A)^-1, computed."""
    turn = np.deg2rad(degrees)
    points = np.array([[5.0, 0], [5 * np.cos(turn), 5 * np.sin(turn)], [0, 0]])
    held = np.array([[True, True], [True, True], [False, False]])
    result = adjust(Network(points, held, distances(points, [(0, 2), (1, 2)], 5.0)))
    a, b, _ = ellipse(result.cofactor[4:, 4:])
    assert (a, b) == pytest.approx((major, minor), abs=0.01)
    assert np.hypot(a, b) == pytest.approx(5 * np.sqrt(2) / np.sin(turn))
    assert np.isinf(result.detectable).all()
    assert result.freedom == 0


def test_ellipse_points_along_the_weaker_direction():
    turn = np.deg2rad(30)
    axes = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    a, b, direction = ellipse(axes @ np.diag([9.0, 4.0]) @ axes.T)
    assert (a, b, direction) == pytest.approx((3, 2, turn))
    assert ellipse(np.eye(2), kind="95")[0] == pytest.approx(np.sqrt(5.9915))


def test_levelled_heights_mean_of_two_readings():
    one = Observation("coordinate", (0,), 1.00, 0.003, axis=0)
    two = Observation("coordinate", (0,), 1.02, 0.003, axis=0)
    result = adjust(Network(np.array([[0.5]]), np.array([[False]]), (one, two)))
    assert result.points[0, 0] == pytest.approx(1.01)
    assert result.redundancy == pytest.approx([0.5, 0.5])


def test_grossly_wrong_points_are_said_and_not_returned():
    points = np.array([[0.0, 0], [1, 0], [0.5, 1e-9]])
    held = np.array([[True, True], [True, True], [False, False]])
    observations = (
        Observation("distance", (0, 2), 0.1, 0.001),
        Observation("distance", (1, 2), 0.1, 0.001),
    )
    with pytest.raises(ResultError, match="adjustment-open"):
        adjust(Network(points, held, observations))


RING = np.array([[3 * np.cos(t), 3 * np.sin(t)] for t in np.arange(8) * np.pi / 4])


def test_plane_is_met_exactly_and_a_transposed_reading_is_found():
    z = 0.2 + RING @ [0.09, -0.015]
    assert fit_plane(RING, z, 0.003).coefficients == pytest.approx([0.2, 0.09, -0.015])
    z[3] += 0.09
    plane = fit_plane(RING, z, 0.003)
    assert plane.blunders.tolist() == [3]
    assert not plane.ambiguous
    assert plane.coefficients == pytest.approx([0.2, 0.09, -0.015])
    assert plane.residuals[3] == pytest.approx(-0.09)


def test_four_readings_notice_a_blunder_but_cannot_place_it():
    z = RING[::2] @ [0.05, 0.0]
    z[1] += 0.1
    plane = fit_plane(RING[::2], z, 0.003)
    assert plane.blunders.size == 0
    assert plane.s0 > CRITICAL


def test_detectable_height_grows_as_readings_get_fewer():
    z = RING @ [0.05, 0.0]
    few, many = fit_plane(RING[::2], z[::2], 0.003), fit_plane(RING, z, 0.003)
    assert detectable_height(few).min() > detectable_height(many).max()


@pytest.mark.parametrize("xy", [RING[:3], np.column_stack([np.arange(6.0), np.arange(6.0)])])
def test_too_few_readings_or_a_line_are_refused(xy):
    with pytest.raises(InputError, match="levels-too-few"):
        fit_plane(xy, np.zeros(len(xy)), 0.003)


def test_a_combination_is_the_weighted_sum_of_coordinates():
    """Two free points on a line, their mean given as 5 and their distance as 4: 3 and 7."""
    mean = Observation("combination", (0, 1), 5.0, 0.01, factors=((0.5,), (0.5,)))
    apart = Observation("difference", (0, 1), 4.0, 0.01, axis=0)
    free = np.zeros((2, 1), dtype=bool)
    result = adjust(Network(np.array([[0.0], [1.0]]), free, (mean, apart)))
    assert result.points.ravel() == pytest.approx([3, 7])
    assert (result.freedom, result.defect) == (0, 0)
    # var = var(mean) + var(apart) / 4, each way
    assert result.cofactor[0, 0] == pytest.approx(0.01**2 * 1.25)


def test_a_combination_with_a_row_too_few_is_refused():
    with pytest.raises(ValueError, match="does not fit"):
        Network(
            np.zeros((2, 1)),
            np.zeros((2, 1), dtype=bool),
            (Observation("combination", (0, 1), 5.0, 0.01, factors=((0.5,),)),),
        )
