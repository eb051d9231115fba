"""Anchors from reactions: which, how many, in which order, and what is refused."""

import numpy as np
import pytest

from strutwright.catalogue import anchor, find_soil
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.stretch import LongDomeSpec, long_dome
from strutwright.site import Asked, NoHoldError, Weight, holding, plan_anchors, staking_order

SHELL = dome(DomeSpec(radius=3.0, division=(2, 0)))
GROUND = SHELL.base


def asked(base="staked", soil="stiff clay", **changes):
    values = {"pull_test": None, "frost": None} | changes
    return Asked(base, soil, **values)


def plan(up=900.0, side=300.0, fmt="allowable", wish=None):
    reactions = np.zeros((1, len(GROUND), 3))
    reactions[0, :, 2] = -up
    reactions[0, :, 0] = side
    return plan_anchors(SHELL, GROUND, reactions, [("wind", fmt)], wish or asked())


def test_friction_of_a_rod_in_stiff_clay():
    """pi d (L - 0.3) alpha c_u over 3, by hand: pi 0.025 0.45 0.5 75 kPa / 3 = 442 N."""
    hold = holding(anchor("rod-25x750"), find_soil("stiff clay"))
    assert hold.working == pytest.approx(np.pi * 0.025 * 0.45 * 0.5 * 75e3 / 3)


def test_a_bare_stake_in_sand_is_refused_for_uplift():
    with pytest.raises(NoHoldError, match="bare smooth stake in sand"):
        holding(anchor("rod-25x750"), find_soil("medium sand"))
    found = plan(wish=asked(soil="medium sand"))
    assert "anchor-refused" in {note.code for note in found.notes}
    assert all(row.anchor != "rod-25x750" for row in found.hubs)


def test_one_anchor_is_to_spare():
    found = plan(up=800.0, side=0.0)
    row = found.hubs[0]
    assert row.anchor == "rod-25x750"
    assert row.quantity == 3  # 800 N need two of 442 N
    assert row.capacity == pytest.approx(2 * 441.8, rel=1e-3)
    assert all(check.status == "pass" for check in found.checks)


def test_factored_reactions_are_brought_down_to_working_ones():
    factored = plan(up=900.0, side=0.0, fmt="factored").hubs[0]
    allowable = plan(up=600.0, side=0.0).hubs[0]
    assert factored.demand == pytest.approx(allowable.demand)


def test_a_guy_at_45_degrees_takes_uplift_over_its_sine_and_the_side_load():
    hold = holding(anchor("stake-25x915"), find_soil("medium sand"))
    assert hold.pull(np.array([500.0]), np.array([200.0])) == pytest.approx(500 * np.sqrt(2) + 200)
    assert hold.pull(np.array([-500.0]), np.array([200.0])) == pytest.approx(200)


def test_a_screw_anchor_is_given_its_torque():
    found = plan(up=4000.0, side=0.0, wish=asked("anchored"))
    row = found.hubs[0]
    assert row.anchor == "helical-small"
    assert row.torque == pytest.approx(4000.0 * 2 / 33)


def test_a_pull_test_overrides_the_estimate():
    found = plan(up=1000.0, side=0.0, wish=asked(pull_test=1500.0))
    assert found.hubs[0].capacity == pytest.approx(1000.0)
    assert "anchor-pull-test" in {note.code for note in found.notes}


def test_rock_takes_drilled_bars():
    found = plan(wish=asked("anchored", "rock"))
    assert found.hubs[0].anchor == "rock-bar-20x400"


@pytest.mark.parametrize("soil", [None, "moon dust", "paving"])
def test_what_cannot_be_said_is_a_check_that_was_not_made(soil):
    (check,) = plan(wish=asked(soil=soil)).checks
    assert check.status == "not_checked"
    assert check.required


def test_a_free_base_may_not_lift():
    (check,) = plan(wish=asked("free")).checks
    assert check.status == "fail"
    (check,) = plan(up=-100.0, wish=asked("free")).checks
    assert check.status == "pass"


def test_ballast_is_what_the_structure_asks_for_in_whole_pieces():
    needed = np.full(len(GROUND), 250.0)
    weight = Weight(needed, ("wind",) * len(GROUND), None)
    found = plan(up=100.0, side=90.0, wish=asked("ballast", "paving", weight=weight))
    assert found.hubs[0].quantity == 2  # 250 N are 25.5 kg: two pieces of 20 kg
    assert found.hubs[0].capacity == pytest.approx(40 * 9.80665)
    assert all(check.status == "pass" for check in found.checks)


def test_ballast_that_is_laid_is_judged_where_it_may_slide():
    weight = Weight(np.full(len(GROUND), 250.0), ("wind",) * len(GROUND), 200.0)
    (check,) = plan(wish=asked("ballast", "paving", weight=weight)).checks
    assert (check.status, check.required) == ("not_checked", False)
    assert "base-contact" in check.note


def test_a_footing_counts_0_6_of_its_weight_against_working_loads():
    """23.5 kN/m3 x pi/4 0.3^2 x 0.6 m = 996.7 N; 0.9/1.5 (EN 1990 EQU) = 0.6 (ASCE 7 ASD)."""
    hold = holding(anchor("footing-300x600"), find_soil("loam"))
    assert hold.working == pytest.approx(0.6 * 996.7, rel=1e-4)


def test_rock_on_one_side_is_drilled_and_the_rest_is_not():
    rock = np.where(SHELL.hubs[GROUND, 0] > 0.5, 0.4, np.inf)
    found = plan(wish=asked("anchored", rock=rock))
    kinds = {row.hub: row.anchor for row in found.hubs}
    for hub, depth in zip(GROUND.tolist(), rock.tolist(), strict=True):
        assert kinds[hub] == ("rock-bar-20x400" if depth < 0.9 else "helical-small")
    assert "anchor-rock" in {note.code for note in found.notes}


def test_every_anchor_is_weighed_and_what_does_not_do_says_why():
    options = {one.anchor: one for one in plan(wish=asked(soil="medium sand")).options}
    assert options["rod-25x750"].most is None
    assert "sand" in options["rod-25x750"].why
    assert options["helical-small"].most == 2
    guy = options["stake-25x915"]
    assert guy.up == pytest.approx(1100 * np.sin(np.pi / 4))


def test_a_long_shell_is_staked_from_the_middle_outwards():
    shell = long_dome(LongDomeSpec(4.0, None, None, 2, 6, (1, 1)))
    reactions = np.zeros((1, len(shell.base), 3))
    found = plan_anchors(shell, shell.base, reactions, [("snow", "allowable")], asked())
    away = np.abs(shell.hubs[found.order, 0])
    assert np.all(np.diff(away) > -1e-6)
    assert sorted(found.order.tolist()) == sorted(shell.base.tolist())


def test_frost_below_the_anchor_is_noted():
    assert "anchor-frost" in {n.code for n in plan(wish=asked(frost=1.0)).notes}
    assert "anchor-frost" not in {n.code for n in plan(wish=asked(frost=0.5)).notes}


def test_a_screw_anchor_goes_below_the_frost():
    wish = asked("anchored", frost=1.0)
    (note,) = [n for n in plan(up=4000.0, wish=wish).notes if n.code == "anchor-frost"]
    assert "below that" in note.text
    assert "anchor-frost" not in {n.code for n in plan(wish=asked("anchored", "rock")).notes}


def test_a_pull_test_speaks_for_the_kind_that_was_pulled():
    found = plan(up=1000.0, side=0.0, wish=asked(pull_test=1500.0))
    chosen = found.hubs[0].anchor
    holds = {one.anchor: one for one in found.options}
    assert holds[chosen].up == pytest.approx(1000.0)
    plain = {one.anchor: one for one in plan(up=1000.0, side=0.0).options}
    others = set(holds) - {chosen}
    assert all(holds[name].up == plain[name].up for name in others)


def test_a_pull_test_in_soil_says_nothing_of_bars_in_rock():
    depth = np.full(len(GROUND), np.inf)
    depth[0] = 0.3
    found = plan(up=1000.0, side=0.0, wish=asked(pull_test=900.0, rock=depth))
    assert found.hubs[0].anchor == "rock-bar-20x400"
    bar = holding(anchor("rock-bar-20x400"), find_soil("rock")).working
    assert found.hubs[0].capacity == pytest.approx(bar)


def test_many_weak_anchors_call_for_a_stronger_kind():
    assert "anchor-many" in {n.code for n in plan(up=9000.0).notes}


@pytest.mark.parametrize("n", [5, 6, 10, 11, 20])
def test_opposite_hubs_are_staked_in_turn(n):
    order = staking_order(n).tolist()
    assert sorted(order) == list(range(n))
    assert order[1] - order[0] == n // 2


def test_ties_across_a_long_shell_take_its_spread():
    shell = long_dome(LongDomeSpec(4.0, None, None, 2, 6, (1, 1)))
    ground = shell.base
    reactions = np.zeros((1, len(ground), 3))
    reactions[0, :, 1] = -250.0 * np.sign(shell.hubs[ground, 1])  # the ground pushes inwards
    found = plan_anchors(shell, ground, reactions, [("snow", "allowable")], asked())
    assert found.ties
    for tie in found.ties:
        assert tie.force == pytest.approx(250.0)
        assert shell.hubs[tie.i, 0] == pytest.approx(shell.hubs[tie.j, 0])
