"""What to ask next, against designs made from briefs that do give the answer."""

import re

import pytest

from strutwright.brief import parse_brief
from strutwright.design import run
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.structure import governing, verdict
from strutwright.structure.judge import judge
from strutwright.web.asking import ask_next

BRIEF = """
[project]
name = "Call"
use = "shelter"
[size]
width = "3.0 m"
[shape]
family = "dome"
division = [1, 0]
[struts]
stock = "steel-25x1.5"
[hubs]
connector = "flattened-bolt"
[loads]
hung = "0 N"
[cover]
material = "pe-film-180"
[site]
standard = "en"
ground_snow = "0.8 kN/m2"
basic_wind = { value = "24 m/s", basis = "10 min mean" }
consequence = "CC1"
base = "staked"
soil = "loam"
temperature = ["-10 C", "40 C"]
exposure = "II"
"""


def without(*keys):
    lines = BRIEF.splitlines(keepends=True)
    return "".join(line for line in lines if not line.startswith(tuple(f"{k} =" for k in keys)))


def asked(text):
    return ask_next(run(parse_brief(text)))


def use_with(text):
    brief = parse_brief(text)
    checks = judge(make_kit(make_shell(brief), brief), brief, limits=False).checks
    return governing(checks).utilisation, verdict(checks)


@pytest.mark.parametrize(
    ("left_out", "key"),
    [(["ground_snow"], "site.ground_snow"), (["basic_wind", "exposure"], "site.basic_wind"),
     (["soil"], "site.soil")],
)  # fmt: skip
def test_what_leaves_the_kit_without_a_verdict_comes_first(left_out, key):
    told = asked(without(*left_out, "consequence"))
    assert told["key"] == key
    assert told["text"].split(".")[0].endswith("?") or "? " in told["text"]


def test_a_brief_that_answers_all_is_asked_nothing():
    assert asked(BRIEF)["key"] == ""


def test_the_outcomes_are_those_of_briefs_that_give_the_answer():
    told = asked(without("exposure"))
    assert told["key"] == "site.exposure"
    for exposure in ("II", "I", "IV"):
        used, said = use_with(BRIEF.replace('exposure = "II"', f'exposure = "{exposure}"'))
        found = re.search(rf"\b{exposure}: (\w+), worst use (\d+\.\d+)", told["text"])
        assert found, told["text"]
        assert float(found[2]) == pytest.approx(used, abs=0.0051)
        assert found[1] == said


def test_of_two_open_answers_the_one_that_moves_more_is_asked():
    told = asked(without("exposure", "consequence", "temperature"))
    texts = {
        "site.exposure": [
            BRIEF.replace('exposure = "II"', f'exposure = "{e}"') for e in ("I", "IV")
        ],
        "site.consequence": [BRIEF.replace('"CC1"', '"CC2"')],
    }
    now, _ = use_with(BRIEF)
    moved = {k: max(abs(use_with(t)[0] / now - 1) for t in of) for k, of in texts.items()}
    assert told["key"] == max(moved, key=moved.get)
