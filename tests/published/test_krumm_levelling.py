"""Krumm, Geodetic Network Adjustment Examples, Univ. Stuttgart, Rev. 3.5 (2020), Ex. 2.1, pp. 6-9,
after Ghilani (2010) Ex. 12.6: six levelled height differences from one known height.

Printed digits as read in a public transcription of the example.
"""

import numpy as np
import pytest

from strutwright.adjust import Network, Observation, adjust

LINES = (
    (0, 1, 10.5090, 0.006), (0, 2, 15.8810, 0.012), (1, 2, 5.3600, 0.004),
    (1, 3, -3.1670, 0.004), (2, 3, -8.5230, 0.005), (3, 0, -7.3480, 0.003),
)  # fmt: skip
"""From, to, rise (m), standard deviation (m)."""


@pytest.fixture(scope="module")
def result():
    return adjust(
        Network(
            points=np.array([[437.596], [448.0], [453.0], [445.0]]),
            held=np.array([[True], [False], [False], [False]]),
            observations=tuple(
                Observation("difference", (i, j), rise, sigma, axis=0)
                for i, j, rise, sigma in LINES
            ),
        )
    )


def test_heights(result):
    assert result.points[1:, 0] == pytest.approx([448.10871, 453.46847, 444.94361], abs=5e-6)


def test_unit_weight(result):
    assert result.freedom == 3
    assert result.s0 == pytest.approx(0.6512, abs=5e-5)


def test_standard_deviations(result):
    found = result.deviations(scaled=True)[1:, 0] * 1000
    assert found == pytest.approx([2.30, 2.64, 1.76], abs=5e-3)


def test_residuals(result):
    assert result.residuals * 1000 == pytest.approx(
        np.array([3.71, -8.53, -0.24, 1.89, -1.86, 0.39]), abs=5e-3
    )
