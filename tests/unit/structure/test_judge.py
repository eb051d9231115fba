import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.structure.judge import judge

BRIEF = """
[project]
name = "Test shelter"
[size]
width = "4.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-1"
[cover]
material = "pe-film-180"
[site]
base = "{base}"
ground_snow = "0.3 kN/m2"
basic_wind = {{ value = "20 m/s", basis = "10 min mean" }}
"""


@pytest.fixture(scope="module")
def judged():
    brief = parse_brief(BRIEF.format(base="ballast"), "test.toml")
    return judge(make_kit(make_shell(brief), brief), brief)


def test_stability_and_the_base_are_judged(judged):
    made = {check.code for check in judged.checks if check.status != "not_checked"}
    assert {"shell-stability", "base-contact"} <= made
    assert judged.stability.trials


def test_reactions_balance_the_loads_of_every_combination(judged):
    from strutwright.loads import combined
    from strutwright.shape.measure import node_lengths

    brief = parse_brief(BRIEF.format(base="staked"), "test.toml")
    lengths = node_lengths(make_shell(brief))
    for k, combo in enumerate(judged.strength.combinations[:20]):
        hubs, lines = combined(judged.loads.cases, combo)
        load = hubs.sum(axis=0) + (lines * lengths[:, None]).sum(axis=0)
        held = judged.strength.reactions[k].sum(axis=0)
        assert held == pytest.approx(-load, abs=1e-4 * max(abs(load).max(), 1.0))


def test_a_held_base_does_not_spread_but_is_pushed_out(judged):
    check = next(c for c in judged.checks if c.code == "base-spread")
    assert check.demand == 0
    assert "N outward at hub" in check.note
    pushed = float(check.note.split("takes ")[1].split(" N")[0])
    service = judged.service
    largest = np.linalg.norm(service.reactions[..., :2], axis=2).max()
    assert 0 < pushed <= largest + 1
