"""Stability of whole kits by another route: every combination, finer cuts, more imperfections."""

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.frame import buckle
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.structure.analyse import bars_of
from strutwright.structure.answers import answer_cases
from strutwright.structure.asked import combinations_of, loads_of, setting_of
from strutwright.structure.buckle import frame_of, scenes, worst_buckling
from strutwright.structure.stability import shell_stability
from strutwright.structure.stability_check import stability_check

BRIEF = """
[project]
name = "Test dome"
[size]
width = "6.0 m"
[shape]
family = "dome"
division = [3, 0]
truncation = 3
[struts]
stock = "emt-1/2"
[hubs]
connector = "socket-pin"
[cover]
material = "pe-film-180"
[loads]
hung = "200 N"
[site]
base = "staked"
ground_snow = "{snow} kN/m2"
basic_wind = {{ value = "20 m/s", basis = "10 min mean" }}
"""


class Case:
    def __init__(self, snow="0.6", lines=""):
        self.brief = parse_brief(BRIEF.format(snow=snow) + lines, "test.toml")
        self.kit = make_kit(make_shell(self.brief), self.brief)
        self.setting = setting_of(self.brief)
        cases = loads_of(self.kit, self.brief).cases
        self.combos = combinations_of(cases, self.brief, "allowable")
        self.answers = answer_cases(self.kit, cases, self.combos, self.setting)
        self.scenes = scenes(self.kit, self.answers, self.combos, self.setting)
        self.bars, _ = bars_of(self.kit, self.setting.temperature)

    def stability(self, **more):
        ends = [(self.setting, self.answers)]
        return shell_stability(self.kit, ends, self.combos, **more)


@pytest.fixture(scope="module")
def dome():
    return Case()


def test_screening_finds_the_worst_of_all_combinations(dome):
    found = worst_buckling(dome.answers, dome.scenes, dome.bars)
    lowest = np.inf
    for scene in dome.scenes[::7]:
        model, loads = frame_of(dome.answers.solved[scene.span], scene, dome.answers.cases)
        whole, _ = buckle(model, loads, pieces=2, count=1)
        if len(whole.factors):
            lowest = min(lowest, whole.factors[0])
    assert min(b.factor for b in found) <= 1.02 * lowest


def test_finer_cuts_give_the_same_factor(dome):
    found = min(worst_buckling(dome.answers, dome.scenes, dome.bars), key=lambda b: b.factor)
    solved = dome.answers.solved[found.scene.span]
    model, loads = frame_of(solved, found.scene, dome.answers.cases)
    fine, _ = buckle(model, loads, pieces=6, count=1)
    assert found.factor == pytest.approx(fine.factors[0], rel=0.02)


def test_hubs_alone_buckle_later_than_hubs_with_struts_that_bow(dome):
    for found in worst_buckling(dome.answers, dome.scenes, dome.bars):
        assert found.hubs >= 0.999 * found.factor


def test_imperfect_shell_gives_before_the_perfect_one_buckles():
    heavy = Case(snow="6.0")
    found = heavy.stability()
    assert found.trials
    linear = min(b.factor for b in found.buckled)
    assert found.trials[0].factor <= 1.02 * linear
    check = stability_check(found)
    assert check.status == "fail"
    assert check.demand == found.trials[0].required
    assert check.capacity < check.demand


def test_more_load_leaves_less_margin():
    light, heavy = Case(snow="2.0").stability(), Case(snow="4.0").stability()
    assert heavy.buckled[0].factor < light.buckled[0].factor
