"""Nylon ties at strut ends: the share of their strength that each duration leaves."""

from dataclasses import replace

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.structure.analyse import bars_of
from strutwright.structure.bars import Effect, Refused
from strutwright.structure.joints import tie_uses
from strutwright.structure.respond import STATIONS, StrutForces

BRIEF = """
[project]
name = "Test"
use = "stall"
[size]
width = "3.6 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "alu-25x1.5"
[hubs]
connector = "{connector}"
[delivery]
carrier = "freight"
"""
LOOP = 50 * 4.4482216
"""N, a tie of 50 lbf."""


def kit_of(connector):
    brief = parse_brief(BRIEF.format(connector=connector), "test.toml")
    return make_kit(make_shell(brief), brief)


@pytest.fixture(scope="module")
def kit():
    return kit_of("socket-tie")


def used(kit, axial, duration):
    full = np.full((len(kit.shell.struts), len(STATIONS)), float(axial))
    zero = np.zeros_like(full)
    forces = StrutForces(full, zero, zero, zero, np.zeros(len(full)))
    bars, _ = bars_of(kit, 20.0)
    return tie_uses(kit, bars, Effect("c", "factored", duration, forces))


@pytest.mark.parametrize(
    ("duration", "share"), [("permanent", 0.15), ("season", 0.25), ("gust", 0.40)]
)
def test_ties_carry_a_share_of_their_strength_by_duration(kit, duration, share):
    """The rule of the trade's judgement: permanent 0.15, snow 0.25, gust 0.40 of the rating."""
    (pulled,) = used(kit, share * LOOP, duration)
    assert pulled.code == "tie-strength"
    assert pulled.utilisation == pytest.approx(1.0, rel=1e-6)
    assert used(kit, -share * LOOP, duration)[0].utilisation.max() == 0.0


def test_tested_ends_take_the_place_of_the_rating(kit):
    tested = replace(kit, connector=replace(kit.connector, strength=4 * LOOP))
    assert used(tested, 0.4 * LOOP, "gust")[0].utilisation == pytest.approx(0.25, rel=1e-6)


def test_ends_without_ties_have_no_such_check():
    assert used(kit_of("socket-pin"), 1.0, "gust") == ()


def test_a_load_without_a_share_is_not_judged(kit):
    without = replace(kit, connector=replace(kit.connector, tie_shares={}))
    with pytest.raises(Refused, match="no share"):
        used(without, 1.0, "gust")
