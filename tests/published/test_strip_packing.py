"""A published strip-packing job through the cover's nesting.

Instance ``blaz1`` of the ESICUP collection (28 pieces, width 15, turns of 0 and 180 degrees),
read; density on record 84.84 %: Elkeran, EJOR 231 (2013), recalled. No plan may be denser.
"""

import numpy as np
import pytest
from benchmarks.nest import job

from strutwright.cover import nest_in_rows


def test_rows_are_a_true_plan_and_no_denser_than_the_record():
    outlines, width, record = job("blaz1")
    nest = nest_in_rows(outlines, width, (1000.0,), 0.0)
    area = sum(abs(_area(outline)) for outline in outlines)
    assert nest.density * nest.length * width == pytest.approx(area)
    assert 0.5 < nest.density <= record


def _area(polygon):
    x, y = polygon.T
    return np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2
