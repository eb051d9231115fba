"""What the 3D view is given of loads and shapes, against equilibrium and the design itself."""

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.design import run
from strutwright.structure import governing
from strutwright.web.picture import picture_data

BRIEF = """
[project]
name = "Picture"
use = "shelter"
[size]
width = "4.0 m"
[shape]
family = "dome"
division = [2, 0]
[site]
standard = "en"
ground_snow = "0.8 kN/m2"
basic_wind = { value = "24 m/s", basis = "10 min mean" }
base = "staked"
[cover]
material = "pe-film-180"
"""


@pytest.fixture(scope="module")
def design():
    return run(parse_brief(BRIEF))


@pytest.fixture(scope="module")
def picture(design):
    return picture_data(design)


def test_arrows_are_held_by_the_reactions(design, picture):
    """All forces of the combination and the ground's reactions add up to nothing (statics)."""
    strength = design.judgement.strength
    names = [c.name for c in strength.combinations]
    assert picture["combination"] in names
    row = names.index(picture["combination"])
    acting = np.sum([np.sum(load["forces"], axis=0) for load in picture["loads"]], axis=0)
    held = strength.reactions[row].sum(axis=0)
    assert np.abs(acting).max() > 500
    assert acting + held == pytest.approx(np.zeros(3), abs=0.1 * len(design.shell.hubs))


def test_arrows_have_the_moment_of_the_reactions(design, picture):
    """Halving what lies along a strut keeps its moment, so that moments balance too (statics)."""
    strength = design.judgement.strength
    row = [c.name for c in strength.combinations].index(picture["combination"])
    hubs = design.shell.hubs
    acting = sum(np.cross(hubs, np.array(load["forces"])).sum(axis=0) for load in picture["loads"])
    held = np.cross(hubs[strength.ground], strength.reactions[row]).sum(axis=0)
    assert acting + held == pytest.approx(np.zeros(3), abs=0.1 * len(hubs) * 4.0)


def test_every_action_names_its_cases_with_their_factors(picture):
    told = " ".join(case for load in picture["loads"] for case in load["cases"])
    for part in picture["combination"].split(": ", 1)[1].split(" + "):
        factor, name = part.split(" ", 1)
        assert f"{factor} × {name}" in told


def test_use_is_that_of_the_checks(design, picture):
    check = governing(design.checks)
    struts = [c for c in design.checks if c.required and c.subject.kind == "strut"]
    assert len(picture["used"]) == len(design.shell.struts)
    for one in struts:
        assert picture["used"][one.subject.index] >= one.utilisation * (1 - 1e-12)
    if check.subject.kind == "strut":
        assert max(picture["used"]) == pytest.approx(check.utilisation)


def test_shapes_are_those_that_were_worked_out(design, picture):
    shapes = {one["name"]: one for one in picture["shapes"]}
    deflected = np.array(shapes["deflected"]["moved"])
    assert shapes["deflected"]["combination"] == picture["combination"]
    assert np.abs(deflected[design.shell.base]).max() < 1e-6  # staked
    service = np.linalg.norm(design.judgement.service.displacements, axis=2).max()
    moved = np.linalg.norm(shapes["deflected in use"]["moved"], axis=1).max()
    assert moved == pytest.approx(service, abs=1e-6)
    first = shapes["buckling 1"]
    assert first["factor"] == min(b.hubs for b in design.judgement.stability.buckled)
    assert np.linalg.norm(first["moved"], axis=1).max() == pytest.approx(1.0, abs=1e-6)


def test_buckling_shapes_differ(picture):
    modes = [np.ravel(s["moved"]) for s in picture["shapes"] if s["name"].startswith("buckling")]
    units = [mode / np.linalg.norm(mode) for mode in modes]
    for k, one in enumerate(units):
        assert all(abs(one @ other) < 0.9 for other in units[:k])


def test_a_brief_without_a_site_has_neither_loads_nor_shapes():
    text = BRIEF.split("[site]", maxsplit=1)[0]
    bare = picture_data(run(parse_brief(text)))
    assert (bare["loads"], bare["shapes"], bare["combination"]) == ([], [], "")
    assert set(bare["used"]) == {None}
