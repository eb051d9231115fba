"""The scale bar at the foot of a picture is round in the reader's units and as long as it says."""

import pytest

from strutwright.documents.pictures.signs import scale_foot
from strutwright.drawing import Polygon, Text
from strutwright.units import show_length


@pytest.mark.parametrize(
    ("scale", "system", "labels", "field"),
    [
        (50, "metric", ("0", "2000 mm", "4000 mm"), 40.0),
        (60, "imperial", ("0", "5' 0\"", "10' 0\""), 5 * 304.8 / 60),
        (10, "imperial", ("0", "1' 0\"", "2' 0\""), 30.48),
        (2, "imperial", ("0", '3"', '6"'), 38.1),
    ],
)
def test_fields_are_round_for_the_reader(scale, system, labels, field):
    marks = scale_foot(1000 / scale, lambda length: show_length(length, system))
    assert tuple(m.text for m in marks if isinstance(m, Text)) == labels
    first = next(m for m in marks if isinstance(m, Polygon))
    assert max(x for x, _ in first.points) - 4.0 == pytest.approx(field)
