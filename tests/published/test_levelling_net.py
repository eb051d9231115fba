"""Ghilani, Adjustment Computations, the levelling net of the examples on weights: seven lines
between two bench marks, adjusted alike and weighted by their lengths in miles.

Readings and printed heights from memory; that they fit each other to the last digit in both
adjustments speaks for the memory.
"""

import numpy as np
import pytest

from strutwright.adjust import Network, Observation, adjust

X, Y, A, B, C = range(5)
LINES = (
    (X, A, 5.10, 4), (A, Y, 2.34, 3), (Y, C, -1.25, 2), (C, X, -6.13, 3),
    (A, B, -0.68, 2), (Y, B, -3.00, 2), (B, C, 1.70, 2),
)  # fmt: skip
"""From, to, rise (ft), length (miles)."""
LARGEST_WEIGHT = 12
"""Weights are 12 / length, so that they are whole numbers."""


def levelled(sigmas):
    return adjust(
        Network(
            points=np.array([[100.0], [107.5], [105.0], [104.0], [106.0]]),
            held=np.array([[True], [True], [False], [False], [False]]),
            observations=tuple(
                Observation("difference", (i, j), rise, sigma, axis=0)
                for (i, j, rise, _), sigma in zip(LINES, sigmas, strict=True)
            ),
        )
    )


def test_all_lines_alike():
    found = levelled([1.0] * 7)
    assert found.points[2:, 0] == pytest.approx([105.141, 104.483, 106.188], abs=5e-4)
    assert found.freedom == 4
    assert found.s0 == pytest.approx(0.050, abs=5e-4)


def test_lines_weighted_by_their_length():
    found = levelled([np.sqrt(length / LARGEST_WEIGHT) for *_, length in LINES])
    assert found.points[2:, 0] == pytest.approx([105.150, 104.489, 106.197], abs=5e-4)
    assert found.s0 == pytest.approx(0.107, abs=5e-4)
