"""From widths to a pull list: which base hub, how far, in which order, how hard."""

from pathlib import Path

import numpy as np
import pytest

from strutwright.brief import parse_brief, read_brief
from strutwright.design import survey
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.survey import base_spread, make_elastic, settle
from strutwright.survey.correct import corrections

EXAMPLES = Path(__file__).parents[3] / "examples"
LONG = """
[project]
name = "Pull test"
[size]
width = "5.0 m"
length = "9.0 m"
freedom = "10 %"
[shape]
family = "long-dome"
division = [1, 1]
bays = 2
inner_braces = "none"
[struts]
stock = "emt-3/4"
"""


@pytest.fixture(scope="module")
def long_kit():
    brief = parse_brief(LONG)
    return make_kit(make_shell(brief), brief)


def test_pulls_bring_every_base_hub_back_with_the_force_that_moved_it(long_kit, monkeypatch):
    """Pushes at two base hubs, the shell taken as linear: the answer is their own reverse."""
    monkeypatch.setattr("strutwright.survey.correct.LEAST_PULL", 0.0)
    shell, elastic = long_kit.shell, make_elastic(long_kit)
    middle = [int(h) for h in shell.base if abs(shell.hubs[h, 0]) < 1.0]
    load = np.zeros(elastic.hubs.size)
    for hub in middle:
        load[3 * hub + 1] = 30.0 * np.sign(shell.hubs[hub, 1])
    rest = settle(elastic, elastic.lengths)
    shape = shell.hubs + rest.solve(load[:, None]).reshape(-1, 3)
    exact = np.full(len(shell.hubs), 1e-15)
    found = {one.hub: one for one in corrections(long_kit, elastic, shape, exact, exact)}
    assert set(found) == set(shell.base.tolist())
    for hub, one in found.items():
        assert shape[hub, :2] + [one.dx, one.dy] == pytest.approx(shell.hubs[hub, :2], abs=1e-9)
        assert one.force == pytest.approx(30.0 if hub in middle else 0.0, abs=1e-3)


def test_the_middle_of_a_long_shell_is_pulled_first(long_kit):
    shell = long_kit.shell
    elastic = make_elastic(long_kit)
    shape = shell.hubs.copy()
    shape[shell.base, 1] += 0.03 * np.sign(shell.hubs[shell.base, 1])
    exact = np.full(len(shell.hubs), 1e-3)
    found = corrections(long_kit, elastic, shape, exact, exact)
    away = [abs(shell.hubs[one.hub, 0]) for one in found]
    assert away == sorted(away)
    assert [one.order for one in found] == list(range(1, len(found) + 1))


def test_what_is_within_its_own_uncertainty_is_left(long_kit):
    shell = long_kit.shell
    shape = shell.hubs + np.array([0, 0.004, 0])
    vague = np.full(len(shell.hubs), 0.02)
    assert corrections(long_kit, make_elastic(long_kit), shape, vague, vague) == ()
    shape = shell.hubs + np.array([0, 0.03, 0])
    assert corrections(long_kit, make_elastic(long_kit), shape, vague, vague) == ()


def test_spread_of_a_long_shell_is_taken_at_mid_length(long_kit):
    shell = long_kit.shell
    shape = shell.hubs.copy()
    at = shell.hubs[shell.base]
    shape[shell.base, 1] += 0.04 * np.cos(np.pi * at[:, 0] / np.ptp(at[:, 0])) * np.sign(at[:, 1])
    assert base_spread(shell, shape) == pytest.approx(0.04, abs=0.004)
    inward = 2 * shell.hubs - shape
    assert base_spread(shell, inward) == pytest.approx(-0.04, abs=0.004)


def test_five_widths_of_the_plant_tunnel_become_a_pull_list():
    """The example's base was pushed out by 34 mm at mid-length when its readings were made up."""
    brief = read_brief(EXAMPLES / "long-ambery-tunnel.toml")
    result = survey(brief, EXAMPLES / "long-ambery-widths.csv")
    assert result.suspects[0].hypothesis == "base-spread"
    assert result.spread == pytest.approx(0.034, abs=0.008)
    assert len(result.corrections) >= 4
    hubs = result.design[[one.hub for one in result.corrections]]
    assert abs(hubs[0, 0]) < 1.0
    for one, at in zip(result.corrections, hubs, strict=True):
        assert one.dy * at[1] < 0  # inwards
        assert one.force is not None
        assert one.force > 0
