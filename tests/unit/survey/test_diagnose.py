"""Faults built on purpose are found, told in words, and a true shell is left in peace."""

import numpy as np
import pytest

from strutwright.brief import Reading, Readings, Survey, parse_brief
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.survey import Spread, diagnose, make_elastic, settle, survey_shell
from strutwright.survey.evidence import made_to
from strutwright.survey.hypotheses import bases_off, turned_hubs
from strutwright.survey.plan import choose_readings, closing_swaps, plan_survey
from strutwright.survey.simulate import Stand, simulate_swaps, simulate_true, taped

BRIEF = """
[project]
name = "Diagnosis test"
[size]
width = "6.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
"""
SPREAD = Spread(strut=0.0015, tape=0.003, level=0.003, cut=0.0033)
REACH = 2.2


@pytest.fixture(scope="module")
def kit():
    brief = parse_brief(BRIEF)
    return make_kit(make_shell(brief), brief)


@pytest.fixture(scope="module")
def elastic(kit):
    return make_elastic(kit)


@pytest.fixture(scope="module")
def cases(kit, elastic):
    return closing_swaps(kit, elastic)


@pytest.fixture(scope="module")
def stand(kit, elastic, cases):
    planned = choose_readings(elastic, cases, SPREAD, REACH, (3, 2.0))
    return Stand(kit, elastic, tuple(one.hubs for one in planned), SPREAD)


def test_swaps_are_among_the_first_three_with_three_designed_readings(stand, cases):
    """99 % is asked for, and measured over 2 000 trials in benchmarks/survey.py. Here every
    second swap is built once: with 45 trials at 99 % more than one miss would be rare (7 %)."""
    found = simulate_swaps(stand, cases[::2], 45, 7)
    assert found.among_three >= found.n - 1
    assert found.first >= 0.8 * found.n


def test_a_true_shell_is_rarely_suspected(stand):
    found = simulate_true(stand, 40, 3)
    assert found.alarms <= 0.05 * found.n


def many(kit):
    low = np.flatnonzero(kit.shell.hubs[:, 2] < REACH)
    pairs = [(int(a), int(b)) for a in low for b in low if a < b]
    return pairs[:: len(pairs) // 14][:14]


def diagnosed(kit, elastic, shape, pairs, seed=1, wrong=None):
    measures = list(taped(shape, pairs, SPREAD, np.random.default_rng(seed)))
    if wrong is not None:
        one = measures[wrong]
        measures[wrong] = type(one)(
            one.reading, one.kind, one.hubs, one.value + 0.08, one.design, one.sigma
        )
    return diagnose(kit, elastic, measures, SPREAD)


def test_a_misread_tape_is_the_first_suspect(kit, elastic):
    found = diagnosed(kit, elastic, kit.shell.hubs, many(kit), wrong=5)
    assert found.alarm
    assert (found.best.hypothesis.kind, found.best.hypothesis.misread) == ("misread", 5)
    assert found.best.explained.size == pytest.approx(0.08, abs=0.03)


def test_a_base_hub_off_its_peg_is_the_first_suspect(kit, elastic):
    push = next(one for one in bases_off(kit) if one.hubs == (4,)).pushes
    rest = settle(elastic, elastic.lengths)
    unit = rest.solve(push[0][:, None])[:, 0]
    load = push[0] * 0.06 / unit[12]
    moved = settle(elastic, elastic.lengths, load=load).shape
    assert moved[4, 0] - kit.shell.hubs[4, 0] == pytest.approx(0.06, abs=0.02)
    found = diagnosed(kit, elastic, moved, many(kit))
    assert (found.best.hypothesis.kind, found.best.hypothesis.hubs) == ("off-peg", (4,))


def test_a_turned_hub_is_among_the_suspects(kit, elastic):
    closing = [
        (one, rest)
        for one in turned_hubs(kit)
        if np.abs((rest := settle(elastic, made_to(elastic, one))).forces).max() < 300
    ]
    assert closing
    one, rest = closing[0]
    found = diagnosed(kit, elastic, rest.shape, many(kit))
    alike = [f.hypothesis for f in found.findings[:3] if f.hypothesis.kind == "turned-hub"]
    assert any(dict(h.changed) == pytest.approx(dict(one.changed)) for h in alike)


def test_the_result_names_struts_and_what_to_look_at(kit, cases):
    case = cases[11]
    readings = Readings(
        tuple(
            Reading("distance", one.hubs, "centre", one.value, temperature=20.0, line=k + 2)
            for k, one in enumerate(
                taped(case.rest.shape, many(kit), SPREAD, np.random.default_rng(2))
            )
        )
    )
    result = survey_shell(kit, readings, Survey(), reach=REACH)
    first = result.suspects[0]
    assert (first.hypothesis, first.struts) == ("swapped", case.hypothesis.struts)
    assert first.probability > 0.5
    assert f"strut {first.struts[0]}" in first.look
    assert np.abs(result.shape - case.rest.shape).max() < 0.02
    assert sum(one.probability for one in result.suspects) <= 1 + 1e-9


def test_the_plan_is_fewest_first_within_reach_and_says_what_it_tells(kit):
    plan = plan_survey(kit, Survey(), REACH)
    assert 2 <= len(plan.readings) <= 6
    assert plan.readings[-1].told >= 0.95
    high = [kit.shell.hubs[hub, 2] for one in plan.readings for hub in one.hubs]
    assert max(high) <= REACH
    assert (plan.n_swaps, plan.n_open, plan.n_like) == (90, 20, 0)
    for one in plan.readings:
        first, second = kit.shell.hubs[list(one.hubs)]
        assert one.expected == pytest.approx(float(np.linalg.norm(second - first)))
