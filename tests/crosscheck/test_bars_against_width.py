"""Bars of a two-frequency dome against its radius.

Source: own computation by first-fit decreasing (an upper bound; by inspection best possible, one
or two pieces a bar, except at 2.75 m); 3.048 m bars, 40 mm off each strut, 3 mm kerf. Computed.
"""

import pytest

from strutwright.brief import parse_brief
from strutwright.design.choices import weigh_choices
from strutwright.shape import shape_of

BARS = {2.5: (33, 0.919), 2.75: (50, 0.669), 3.0: (65, 0.563), 3.4: (65, 0.639), 4.8: (65, 0.908)}


def brief(width, freedom):
    return parse_brief(
        f"""
[project]
name = "Two-frequency dome"
[size]
width = "{width} m"
freedom = {freedom}
[shape]
family = "dome"
division = [2, 0]
[struts]
bars = [{{ length = "3.048 m" }}]
kerf = "3 mm"
end_trim = "0 mm"
[hubs]
connector = {{ allowance = "20 mm" }}
[delivery]
carrier = "freight"
""",
        "dome.toml",
    )


@pytest.mark.parametrize("radius", BARS)
def test_bars_and_yield_of_each_size(radius):
    wish = brief(2 * radius, '"0 %"')
    (row,) = weigh_choices(wish, shape_of(wish)).widths
    bars, share = BARS[radius]
    assert row.is_wish
    assert row.bars.bars == bars
    assert row.share_used == pytest.approx(share, abs=0.002)


def test_the_same_from_a_wish_for_six_metres_with_its_peak_proposed():
    wish = brief(6, '["5.0 m", "9.6 m"]')
    choices = weigh_choices(wish, shape_of(wish))
    at = {round(row.width, 2): row for row in choices.widths}
    for radius, (bars, share) in BARS.items():
        if round(2 * radius, 2) in at:
            assert at[round(2 * radius, 2)].bars.bars == bars
            assert at[round(2 * radius, 2)].share_used == pytest.approx(share, abs=0.002)
    assert at[6.0].is_wish
    assert at[5.0].bars.bars == 33
    peaks = [row for row in choices.widths if row.is_peak]
    assert peaks
    assert all(row.share_used > at[6.0].share_used for row in peaks)
    assert [note.code for note in choices.notes] == ["size-could-move"]
    assert "6000 mm wide with 65 bars" in choices.notes[0].text
