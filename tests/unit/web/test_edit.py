"""Changing keys of a text: all that was not asked for stays letter by letter."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from strutwright.errors import InputError
from strutwright.web.edit import changed, values_of

TEXT = """# a remark at the head
[size]
width = "4.0 m"    # hub to hub

[struts]
bars = [{ length = "10 ft", price = 9.80 }, { length = "5 ft" }]

[[openings]]
kind = "door"  # faces the road

[[openings]]
kind = "vent"
"""


def test_one_key_changes_one_line():
    after = changed(TEXT, [("size.width", "18 ft 4 in")])
    lines = [pair for pair in zip(TEXT.splitlines(), after.splitlines(), strict=True)]
    assert [pair for pair in lines if pair[0] != pair[1]] == [
        ('width = "4.0 m"    # hub to hub', 'width = "18 ft 4 in"    # hub to hub')
    ]


def test_sections_and_rows_are_made_when_they_are_not_there():
    after = changed(
        TEXT,
        [("site.basic_wind.value", "24 m/s"), ("openings[2].kind", "slot"), ("size.rise", "2 m"),
         ("struts.bars[2].length", "8 ft")],
    )  # fmt: skip
    values = tomllib.loads(after)
    assert values["site"] == {"basic_wind": {"value": "24 m/s"}}
    assert [one["kind"] for one in values["openings"]] == ["door", "vent", "slot"]
    assert values["size"] == {"width": "4.0 m", "rise": "2 m"}
    assert values["struts"]["bars"][2] == {"length": "8 ft"}
    assert "# faces the road" in after


def test_null_takes_keys_rows_and_sections_out():
    after = changed(TEXT, [("openings[0]", None), ("size.width", None), ("struts", None)])
    assert tomllib.loads(after) == {"size": {}, "openings": [{"kind": "vent"}]}


def test_taking_out_what_is_not_there_changes_nothing():
    keys = ["site.north", "openings[7].kind", "openings[7]", "loads", "size.rise"]
    assert changed(TEXT, [(key, None) for key in keys]) == TEXT


@pytest.mark.parametrize(
    "key", ["", "size..width", "[0]", "size.width.x", "openings[5].kind", "a.b.c.d.e.f.g", "é"]
)
def test_no_place_in_a_brief(key):
    with pytest.raises(InputError, match="edit-key"):
        changed(TEXT, [(key, "x")])


def test_a_text_that_is_no_toml_is_told():
    with pytest.raises(InputError, match="brief-not-toml"):
        values_of("[size")


scalars = st.one_of(
    st.text(st.characters(exclude_categories=["Cs"]), max_size=20),
    st.booleans(),
    st.integers(-(2**40), 2**40),
    st.floats(allow_nan=False, allow_infinity=False),
)
keys = st.sampled_from(
    ["size.width", "size.rise", "project.name", "openings[0].width", "loads.hung", "new.key"]
)


@given(st.lists(st.tuples(keys, scalars), max_size=6))
def test_what_is_set_is_read_back_and_the_rest_stays(changes):
    after = tomllib.loads(changed(TEXT, changes))
    wanted = tomllib.loads(TEXT)
    for key, value in changes:
        if key.startswith("openings"):
            wanted["openings"][0]["width"] = value
        else:
            section, name = key.split(".")
            wanted.setdefault(section, {})[name] = value
    assert after == wanted
