"""Krumm, Geodetic Network Adjustment Examples, Univ. Stuttgart, Rev. 3.5 (2020), Ex. 3.1.1,
pp. 48-50, after Benning (2011) 8-2: trilateration of two points from two known ones.

Printed digits as read; the redundancy numbers are computed here from the same network.
"""

import numpy as np
import pytest

from strutwright.adjust import Network, Observation, adjust, suspects

DISTANCES = {(0, 2): 1000.02, (0, 3): 1414.2, (1, 2): 1414.24, (1, 3): 999.98, (2, 3): 1000.0}
SIGMA = 0.010


def network(readings):
    return Network(
        points=np.array([[0.0, 1000], [1000, 1000], [1.0, 2.0], [998.0, -3.0]]),
        held=np.array([[True] * 2, [True] * 2, [False] * 2, [False] * 2]),
        observations=tuple(
            Observation("distance", ends, value, SIGMA) for ends, value in readings.items()
        ),
    )


@pytest.fixture(scope="module")
def result():
    return adjust(network(DISTANCES))


def test_coordinates(result):
    assert result.points[2:] == pytest.approx(
        np.array([[-0.0096, -0.0226], [999.9930, 0.0174]]), abs=5e-5
    )


def test_unit_weight_and_standard_deviations(result):
    assert result.freedom == 1
    assert result.s0 * SIGMA == pytest.approx(6.882e-3, abs=5e-7)
    sd = result.s0 * np.sqrt(np.diag(result.cofactor)[4:])
    assert sd == pytest.approx([0.901e-2, 0.637e-2, 0.901e-2, 0.637e-2], abs=5e-6)


def test_residuals(result):
    expected = np.array([0.260, -0.368, -0.368, 0.260, 0.260]) / 100
    assert result.residuals == pytest.approx(expected, abs=5e-6)


def test_redundancy_numbers(result):
    # Computed, not printed in the source.
    assert result.redundancy == pytest.approx(np.array([1, 2, 2, 1, 1]) / 7, abs=1e-4)


@pytest.mark.parametrize("ends", sorted(DISTANCES))
def test_with_one_redundancy_a_blunder_is_noticed_but_not_located(ends):
    spoilt = adjust(network({**DISTANCES, ends: DISTANCES[ends] + 0.5}))
    w = np.abs(spoilt.standardised)
    assert w == pytest.approx(np.full(5, w[0]), rel=1e-3)
    assert len(suspects(spoilt)) == 5


def test_deviations_are_printed_times_the_unit_weight(result):
    expected = np.array([[0.901e-2, 0.637e-2], [0.901e-2, 0.637e-2]])
    assert result.deviations(scaled=True)[2:] == pytest.approx(expected, abs=5e-6)
    assert result.deviations()[:2] == pytest.approx(np.zeros((2, 2)))
