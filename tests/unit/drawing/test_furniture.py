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


@pytest.mark.parametrize("count", [0, 1, 2, 5])
def test_bands_are_as_many_as_asked_for_and_stand_across(count):
    marks = bands((0, 0), (30, 40), count, "#25400a")
    assert len(marks) == count
    for mark in marks:
        along = (mark.end[0] - mark.start[0]) * 3 + (mark.end[1] - mark.start[1]) * 4
        assert along == pytest.approx(0, abs=1e-9)


def test_a_bar_shows_its_bands_at_both_ends_and_nothing_beyond():
    marks = bar((10, 20), 100, 5, "#25400a", count=3)
    banded = [mark for mark in marks if mark.layer == "bands"]
    assert len(banded) == 6
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
