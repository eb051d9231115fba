"""Loads, stock and bases that cannot be: each refused with code, value, where and mend."""

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.errors import InputError, ResultError
from strutwright.frame import FrameModel, Loads, circular_tube, solve

BRIEF = """
[project]
name = "Test"
[size]
width = "4.0 m"
[struts]
stock = {stock}
[site]
standard = "{standard}"
exposure = "{exposure}"
consequence = "{consequence}"
base = "{base}"
ground_snow = "{snow}"
basic_wind = {{ value = "{wind}", basis = "{basis}" }}
"""
USUAL = {
    "stock": '"emt-1"', "standard": "en", "exposure": "II", "consequence": "CC1",
    "base": "staked", "snow": "0.5 kN/m2", "wind": "20 m/s", "basis": "10 min mean",
}  # fmt: skip
US = {"standard": "asce7-16", "exposure": "C", "consequence": "II", "basis": "3 s gust"}
TUBE = '{{ material = "s235", outside = "{}", wall = "{}" }}'


def refused(**changes):
    with pytest.raises(InputError) as caught:
        parse_brief(BRIEF.format(**{**USUAL, **changes}), "test.toml")
    for problem in caught.value.problems:
        assert problem.what
        assert problem.mend
        assert "line" in problem.where
    return {problem.code: problem for problem in caught.value.problems}


def test_the_usual_site_is_read():
    for changes in ({}, US):
        parse_brief(BRIEF.format(**{**USUAL, **changes}), "test.toml")


@pytest.mark.parametrize(
    ("changes", "code", "value"),
    [
        ({"snow": "-0.5 kN/m2"}, "number-negative", "-0.5"),
        ({"snow": "nan kN/m2"}, "number-not-finite", "nan"),
        ({"snow": "60 kN/m2"}, "brief-out-of-bounds", "30 kN/m2"),
        ({"wind": "400 m/s"}, "brief-out-of-bounds", "120 m/s"),
        ({"wind": "895 mph"}, "brief-out-of-bounds", "120 m/s"),
        ({"wind": "-20 m/s"}, "number-negative", "-20"),
        ({"stock": TUBE.format("32 mm", "20 mm")}, "stock-wall", "20 mm"),
        ({"stock": TUBE.format("2 in", "1.1 in")}, "stock-wall", "51 mm"),
        ({"base": "none"}, "brief-unknown-word", "none"),
        ({"base": ""}, "brief-unknown-word", '""'),
        ({"basis": "3 s gust"}, "wind-basis", "10 min mean"),
        ({**US, "basis": "10 min mean"}, "wind-basis", "3 s gust"),
        ({**US, "standard": "asce7-22", "basis": "10 min mean"}, "wind-basis", "3 s gust"),
        ({"basis": "fastest mile"}, "brief-unknown-word", "fastest mile"),
        ({"standard": "asce7-16+asce7-22"}, "brief-unknown-word", "asce7-16+asce7-22"),
        ({"standard": "asce7"}, "brief-unknown-word", "asce7"),
        ({**US, "exposure": "II"}, "site-exposure", "II"),
        ({"exposure": "C"}, "site-exposure", "C"),
        ({**US, "consequence": "CC2"}, "site-consequence", "CC2"),
    ],
)
def test_what_cannot_be_is_refused(changes, code, value):
    assert value in refused(**changes)[code].what


def test_all_that_is_wrong_is_told_at_once():
    found = refused(snow="-1 kN/m2", wind="400 m/s", base="none")
    assert set(found) == {"number-negative", "brief-out-of-bounds", "brief-unknown-word"}


@pytest.mark.parametrize("held", [[], [0], [0, 1]])
def test_a_frame_with_no_support_or_too_little_is_refused(held):
    """A tripod of pinned bars whose feet are not held goes away as a whole or turns over."""
    nodes = np.array([[0, 0, 0.0], [1, 0, 0], [0.5, 1, 0], [0.5, 0.4, 1.0]])
    members = np.array([[0, 1], [1, 2], [0, 2], [0, 3], [1, 3], [2, 3]])
    fixed = np.zeros((4, 6), dtype=bool)
    fixed[held, :3] = True
    forces = np.zeros((4, 6))
    forces[3, 2] = -100.0
    tube = circular_tube(0.03, 0.002, 210e9, 81e9)
    model = FrameModel(nodes, members, tube, truss=True, fixed=fixed)
    with pytest.raises(ResultError) as caught:
        solve(model, [Loads(forces=forces)])
    assert caught.value.code == "mechanism"
    assert caught.value.mend
