import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.cutting import count_kit_bars
from strutwright.design.choices import weigh_choices
from strutwright.parts import make_kit
from strutwright.shape import shape_of

WISHES = {
    "dome": 'width = "5.0 m"',
    "dome of a given shape": 'width = "5.0 m"\n[shape]\nfamily = "dome"\ndivision = [3, 0]',
    "long": 'width = "4.0 m"\nlength = "9.0 m"',
    "long dome": 'width = "4.0 m"\n[shape]\nfamily = "long-dome"\nbays = 2',
    "vault": 'width = "4.0 m"\nlength = "8.0 m"\n[shape]\nfamily = "vault"\ngrid = "lamella"',
}


def brief(size, rest=""):
    return parse_brief(f'[project]\nname = "Wend"\n[size]\n{size}\n{rest}', "wend.toml")


@pytest.mark.parametrize("name", WISHES)
def test_at_least_three_shapes_of_every_family_with_their_bars(name):
    wish = brief(WISHES[name])
    shaped = shape_of(wish)
    rows = weigh_choices(wish, shaped).shapes
    assert len(rows) >= 3
    assert [row.is_chosen for row in rows] == [True] + [False] * (len(rows) - 1)
    first = rows[0]
    assert (first.shape.hubs, first.shape.struts) == (len(shaped.net.hubs), len(shaped.net.struts))
    assert first.types == len(make_kit(shaped.net, wish).strut_types)
    assert first.bars == count_kit_bars(make_kit(shaped.net, wish), wish)
    keys = {
        (r.shape.family, r.shape.seed, r.shape.division, r.shape.truncation, r.shape.bays,
         r.shape.kind) for r in rows
    }  # fmt: skip
    assert len(keys) == len(rows)
    for row in rows:
        assert row.shape.width == pytest.approx(first.shape.width, rel=5e-3)
        assert row.bars is not None or row.refused


def test_a_long_wish_without_a_shape_weighs_both_families():
    wish = brief(WISHES["long"])
    rows = weigh_choices(wish, shape_of(wish)).shapes
    assert {row.shape.family for row in rows} == {"long-dome", "vault"}


def test_fewer_lengths_are_weighed_from_nature_down_with_the_built_one_marked():
    wish = brief('width = "6.0 m"\n[shape]\nfamily = "dome"\ndivision = [4, 0]\nlengths = 5')
    rows = weigh_choices(wish, shape_of(wish)).lengths
    assert [row.entry.lengths for row in rows] == [6, 5, 4, 3, 2, 1]
    assert [row.entry.lengths for row in rows if row.is_chosen] == [5]
    can = [row for row in rows if not row.entry.refused]
    assert all(row.bars is not None and row.hub_types for row in can)
    assert np.all(np.diff([row.entry.drift for row in can]) >= 0)
    assert all(row.bars is None for row in rows if row.entry.refused)


def test_nothing_is_weighed_that_was_not_asked_for():
    wish = brief('width = "6.0 m"')
    choices = weigh_choices(wish, shape_of(wish))
    assert (choices.lengths, choices.widths, choices.notes) == ((), (), ())


def test_a_shape_whose_parts_cannot_be_made_says_why():
    connector = '[hubs]\nconnector = { allowance = "300 mm" }\n'
    wish = brief('width = "3.0 m"\n[shape]\nfamily = "dome"\ndivision = [2, 0]', connector)
    rows = weigh_choices(wish, shape_of(wish)).shapes
    refused = [row for row in rows if row.bars is None]
    assert refused
    assert all("cut length" in row.refused for row in refused)
