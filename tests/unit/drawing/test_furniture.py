import math

import pytest

from strutwright.drawing import (
    Line,
    Polygon,
    Text,
    angle_mark,
    bands,
    bar,
    dimension,
    extent,
    ground_line,
    north_arrow,
    scale_bar,
)


def of(kind, marks):
    return [mark for mark in marks if isinstance(mark, kind)]


def test_a_dimension_stands_off_its_part_and_carries_its_figure():
    marks = dimension((0, 0), (40, 0), 8, "1181")
    (text,) = of(Text, marks)
    assert text.text == "1181"
    assert text.at == pytest.approx((20, 8.8))
    lines = of(Line, marks)
    assert len(lines) == 3
    assert min(line.start[1] for line in lines) > 0  # a gap between part and extension line
    tips = sorted(arrow.points[0][0] for arrow in of(Polygon, marks))
    assert tips == pytest.approx([0, 40])


@pytest.mark.parametrize("degrees", range(-180, 181, 15))
def test_figures_read_from_below_or_from_the_right(degrees):
    turn = math.radians(degrees)
    (text,) = of(Text, dimension((0, 0), (40 * math.cos(turn), 40 * math.sin(turn)), 5, "7"))
    assert -math.pi / 2 - 1e-6 < text.angle <= math.pi / 2 + 1e-6
    assert math.sin(2 * (text.angle - turn)) == pytest.approx(0, abs=1e-9)
    if abs(degrees) == 90:
        assert text.angle == pytest.approx(math.pi / 2)


def test_arrows_turn_outwards_where_there_is_no_room():
    inside = of(Polygon, dimension((0, 0), (40, 0), 5, ""))[0]
    outside = of(Polygon, dimension((0, 0), (3, 0), 5, ""))[0]
    assert inside.points[1][0] > inside.points[0][0]
    assert outside.points[1][0] < outside.points[0][0]


def test_a_scale_bar_is_as_long_as_it_says():
    marks = scale_bar((10, 10), 20, ("0", "1", "2 m"))
    fields = of(Polygon, marks)
    assert extent(fields)[0::2] == pytest.approx((10, 50))
    assert [text.at[0] for text in of(Text, marks)] == pytest.approx([10, 30, 50])
    assert fields[0].fill != fields[1].fill


def test_the_north_arrow_points_to_north():
    marks = north_arrow((50, 50), math.radians(110))
    (text,) = of(Text, marks)
    angle = math.atan2(text.at[1] - 50, text.at[0] - 50)
    assert angle == pytest.approx(math.radians(110))


def sides(stroke):
    """Return the length along and across a strut that runs in direction (3, 4) / 5."""
    corners = stroke.points
    along = [(x * 3 + y * 4) / 5 for x, y in corners]
    across = [(x * 4 - y * 3) / 5 for x, y in corners]
    return max(along) - min(along), max(across) - min(across)


@pytest.mark.parametrize("pattern", ["", "n", "w", "nn", "nwn", "wnnnw"])
def test_bands_are_those_of_the_pattern_and_stand_across(pattern):
    marks = bands((0, 0), (30, 40), pattern, "#25400a", length=1.8)
    assert len(marks) == len(pattern)
    for letter, mark in zip(pattern, marks, strict=True):
        along, across = sides(mark)
        assert across == pytest.approx(1.8)
        assert (along > 0.5) == (letter == "w")


def test_bands_of_a_short_strut_shrink_but_none_is_lost():
    marks = bands((0, 0), (3, 0), "nwnwn", "#25400a", share=0.5)
    left, _, right, _ = extent(marks)
    assert len(marks) == 5
    assert right - left == pytest.approx(0.35 * 3)


def test_a_bar_shows_its_bands_at_both_ends_and_nothing_beyond():
    marks = bar((10, 20), 100, 5, "#25400a", pattern="nwn")
    banded = [mark for mark in marks if mark.layer == "bands"]
    assert len(banded) == 6
    assert extent(banded)[0] - 10 == pytest.approx(110 - extent(banded)[2])
    assert extent(marks) == pytest.approx((10, 17.5, 110, 22.5))


def test_ground_hatching_hangs_under_the_line():
    left, low, right, top = extent(ground_line((0, 10), (50, 10)))
    assert (right, top) == pytest.approx((50, 10))
    assert low == pytest.approx(8.5)
    assert left <= 0


def test_an_angle_carries_its_figure_outside_the_arc():
    arc, text = angle_mark((0, 0), 10, 0, math.pi / 2, "90°")
    assert arc.radius == 10
    assert math.hypot(*text.at) > 10
    assert math.atan2(text.at[1], text.at[0]) == pytest.approx(math.pi / 4)
