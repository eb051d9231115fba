import math

import pytest

from strutwright.drawing import Circle, Text, svg
from strutwright.drawing.chart import Dot, Panel, chart, neat_ticks


@pytest.mark.parametrize(
    ("low", "high", "ticks"),
    [
        (0.0, 10.0, [0, 2.5, 5, 7.5, 10]),
        (5.0, 6.4, [5.0, 5.5, 6.0]),
        (0.03, 0.11, [0.04, 0.06, 0.08, 0.1]),
        (3.0, 3.0, [3.0]),
    ],
)
def test_ticks_are_round_and_within(low, high, ticks):
    assert neat_ticks(low, high, 4) == pytest.approx(ticks)


def dots_of(sheet):
    return [mark for mark in sheet.marks if isinstance(mark, Circle)]


def test_dots_lie_in_the_order_of_their_values_and_inside_the_sheet():
    values = [3.0, 1.0, 2.0, 7.0]
    sheet = chart([Panel("bars", [Dot(k, v) for k, v in enumerate(values)])], "width")
    dots = dots_of(sheet)
    assert [d.centre[0] for d in dots] == sorted(d.centre[0] for d in dots)
    order = sorted(range(4), key=lambda k: dots[k].centre[1])
    assert order == sorted(range(4), key=lambda k: values[k])
    assert all(0 < d.centre[0] < sheet.width and 0 < d.centre[1] < sheet.height for d in dots)


def test_powers_of_ten_lie_evenly_and_small_values_on_the_axis():
    dots = [Dot(0, 0.0), Dot(1, 0.1), Dot(2, 1.0), Dot(3, 10.0)]
    ys = [d.centre[1] for d in dots_of(chart([Panel("m", dots, is_log=True, least=0.1)], "n"))]
    assert ys[0] == ys[1]
    assert ys[2] - ys[1] == pytest.approx(ys[3] - ys[2])


def test_the_chosen_value_is_marked_with_more_than_colour_and_named():
    dots = [Dot(1, 1.0), Dot(2, 2.0, "chosen", "this kit"), Dot(3, 4.0, "peak", "5 m")]
    sheet = chart([Panel("bars", dots, least=math.nan)], "width", title="T", text="words")
    plain, chosen, peak = dots_of(sheet)
    assert chosen.radius > plain.radius
    assert chosen.fill != peak.fill
    said = [mark.text for mark in sheet.marks if isinstance(mark, Text)]
    assert {"this kit", "5 m", "width", "bars"} <= set(said)
    assert svg(sheet).startswith(b"<")


def test_numbers_of_things_have_whole_figures_even_when_all_are_alike():
    """Thirty-five bars throughout stood beside an axis of 34.9 and 34.95 bars."""
    panel = Panel("bars", [Dot(k, 35.0) for k in range(3)], least=math.nan, is_whole=True)
    said = [
        mark.text
        for mark in chart([panel], "lengths", ticks=[(0.0, "3")]).marks
        if isinstance(mark, Text)
    ]
    assert "35" in said
    assert not any("." in text for text in said)
