"""Published strip-packing jobs through the cover's nesting, the density beside the record.

Instances of the ESICUP collection, read: ``blaz1`` (28 pieces, width 15, turns of 0 and 180
degrees), density on record 84.84 %, and ``fu`` (12 convex pieces, width 38, turned by quarters),
92.41 %.
Records: Elkeran, EJOR 231 (2013), recalled. No plan may be denser.
"""

from itertools import combinations

import numpy as np
import pytest
from benchmarks.nest import QUARTERS, job
from manifold3d import CrossSection

from strutwright.cover import fit_on_sheets, laid, nest_in_rows, pack_sheets


def test_rows_are_a_true_plan_and_no_denser_than_the_record():
    outlines, width, record = job("blaz1")
    nest = nest_in_rows(outlines, width, (1000.0,), 0.0)
    area = sum(abs(_area(outline)) for outline in outlines)
    assert nest.density * nest.length * width == pytest.approx(area)
    assert 0.5 < nest.density <= record


@pytest.mark.parametrize(("pack", "share"), [(fit_on_sheets, 0.8), (pack_sheets, 0.7)])
def test_convex_pieces_come_near_the_record_and_never_pass_it(pack, share, record_property):
    """On one endless sheet the sheets of panels are a strip; the library works against a clock."""
    outlines, width, record = job("fu")
    nest = pack(outlines, [QUARTERS] * len(outlines), (width, 1000.0), gap=0.0)
    placed = [laid(outlines[one.item], one.angle) + np.array([one.x, one.y]) for one in nest.placed]
    assert sorted(one.item for one in nest.placed) == list(range(len(outlines)))
    for shape in placed:
        assert shape.min() >= -1e-6
        assert shape[:, 1].max() <= width + 1e-6
        assert shape[:, 0].max() <= nest.length + 1e-6
    for a, b in combinations(placed, 2):
        assert (CrossSection([a]) ^ CrossSection([b])).area() < 1e-3
    density = sum(abs(_area(outline)) for outline in outlines) / (nest.length * width)
    record_property("density", f"{density:.1%}, on record {record:.1%}")
    print(f"fu by {pack.__name__}: {density:.1%}, on record {record:.1%}")  # noqa: T201
    assert share * record < density <= record


def _area(polygon):
    x, y = polygon.T
    return np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2
