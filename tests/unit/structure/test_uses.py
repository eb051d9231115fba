"""Uses that are refused, or signed by an engineer: number and alternative stand in the words."""

import pytest

from strutwright.brief import parse_brief
from strutwright.design import run, verdict_sentence
from strutwright.structure import verdict
from strutwright.structure.uses import CLIMBING, SIGNED

BRIEF = """
[project]
name = "Test"
use = "{use}"
[size]
width = "4.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "{stock}"
[hubs.connector]
allowance = "30 mm"
eccentricity = "0 mm"
stiffness = "300 Nm/rad"
strength = "9 kN"
[loads]
hung = "1.5 kN"
[cover]
material = "pc-6"
[site]
base = "staked"
consequence = "{consequence}"
ground_snow = "{snow} kN/m2"
basic_wind = {{ value = "20 m/s", basis = "10 min mean" }}
"""


def designed(**changes):
    usual = {"use": "store", "stock": "emt-1", "consequence": "CC2", "snow": 0.3}
    return run(parse_brief(BRIEF.format(**{**usual, **changes}), "test.toml"))


def test_climbing_is_refused_with_its_numbers_and_an_alternative():
    design = designed(use="climbing")
    check = next(c for c in design.checks if c.code == CLIMBING)
    assert check.required
    assert check.status == "fail"
    assert check.demand == 1500.0
    assert verdict(design.checks) == "fails"
    said = verdict_sentence(design)
    assert said.startswith("REFUSED")
    assert "1.5 kN" in said
    assert "Nearest that can be served" in said


@pytest.mark.parametrize(
    ("changes", "word"),
    [
        ({"use": "hall"}, "many people"),
        ({"consequence": "CC3"}, "CC3"),
        ({"snow": 4.2}, "4.2 kN/m²"),
    ],
)
def test_crowds_grave_classes_and_heavy_snow_are_for_an_engineer(changes, word):
    design = designed(**changes)
    check = next(c for c in design.checks if c.code == SIGNED)
    assert check.status == "not_checked"
    assert verdict(design.checks) != "passes"
    said = verdict_sentence(design)
    assert said.startswith("ENGINEER TO SIGN")
    assert word in said
    assert "governs" in said
    assert "Nearest that a kit may serve" in said


def test_what_governs_heavy_snow_is_the_snow_that_fails_it():
    """Wind says nothing where the snow of the site already fails the kit."""
    design = designed(snow=4.2)
    found = design.judgement.capacity
    factors = {one.action: one.factor for one in found.first}
    assert factors["wind"] == 0.0
    assert 0.0 < factors["snow"] < 1.0
    assert f"fails at {factors['snow']:.2f} times the snow of the site" in verdict_sentence(design)


def test_a_store_is_served():
    assert not {CLIMBING, SIGNED} & {c.code for c in designed().checks}
