from dataclasses import replace

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.structure.analyse import bars_of
from strutwright.structure.bars import Effect
from strutwright.structure.joints import _stack_shear, end_offsets, joint_uses
from strutwright.structure.respond import STATIONS, StrutForces

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
[hubs]
connector = "flattened-bolt"
"""


@pytest.fixture(scope="module")
def kit():
    brief = parse_brief(BRIEF, "test.toml")
    return make_kit(make_shell(brief), brief)


def effect_of(axial):
    shape = (len(axial), len(STATIONS))
    full = np.repeat(axial[:, None], len(STATIONS), axis=1)
    zero = np.zeros(shape)
    forces = StrutForces(full, zero, zero, zero, np.zeros(len(axial)))
    return Effect("c", "factored", "gust", forces)


def test_bolt_shear_is_the_sum_of_the_plies_above(kit):
    """Ply by ply, by hand, for every hub of a dome with uneven forces."""
    shell = kit.shell
    axial = np.random.default_rng(3).normal(0, 1000, len(shell.struts))
    worst = np.zeros(len(shell.hubs))
    for hub in range(len(shell.hubs)):
        total = np.zeros(3)
        for strut in kit.sockets(hub).tolist()[:-1]:
            i, j = shell.struts[strut]
            other = j if i == hub else i
            away = shell.hubs[other] - shell.hubs[hub]
            total = total + axial[strut] * away / np.linalg.norm(away)
            worst[hub] = max(worst[hub], np.linalg.norm(total))
    expected = worst[shell.struts].max(axis=1)
    assert _stack_shear(kit, effect_of(axial)) == pytest.approx(expected)


def test_the_outermost_ply_of_a_stack_has_the_largest_offset(kit):
    wall = kit.stock.section.wall
    offsets = end_offsets(kit)
    assert offsets.max() == pytest.approx(5 * wall)  # six plies of two walls each
    assert offsets.min() >= 3 * wall


@pytest.mark.parametrize(("format_", "share"), [("factored", 1.25), ("allowable", 2.0)])
def test_a_characteristic_joint_strength_is_reduced(kit, format_, share):
    connector = replace(kit.connector, strength=5000.0)
    tested = replace(kit, connector=connector)
    effect = replace(effect_of(np.full(len(kit.shell.struts), 1000.0)), format=format_)
    bars, _ = bars_of(tested, 23.0)
    (use,) = joint_uses(tested, bars, effect)
    assert use.utilisation == pytest.approx(np.full(len(kit.shell.struts), 1000 * share / 5000))
