"""Laws of a base that lifts and slides and of ties that only pull, over whole combinations."""

from typing import NamedTuple

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.frame import solve_contact
from strutwright.loads import Loads, combined
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.shape.measure import node_lengths
from strutwright.structure import Check
from strutwright.structure.analyse import Analysis, analyse
from strutwright.structure.answers import answer_cases
from strutwright.structure.asked import combinations_of, loads_of, setting_of
from strutwright.structure.base import base_checks, dead_press
from strutwright.structure.model import make_model
from strutwright.structure.respond import case_loads

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
connector = "socket-pin"
[cover]
material = "pe-film-180"
[loads]
hung = "0 N"
[site]
{base}
ground_snow = "0 kN/m2"
basic_wind = {{ value = "16 m/s", basis = "10 min mean" }}
exposure = "III"
[[openings]]
kind = "door"
width = "0.9 m"
height = "1.6 m"
"""


class Judged(NamedTuple):
    loads: Loads
    strength: Analysis
    checks: tuple[Check, ...]


def judged(base):
    brief = parse_brief(BRIEF.format(base=base), "test.toml")
    kit = make_kit(make_shell(brief), brief)
    setting, loads = setting_of(brief), loads_of(kit, brief)
    combos = combinations_of(loads.cases, brief, "factored")
    answers = answer_cases(kit, loads.cases, combos, setting)
    strength = analyse(kit, answers, combos, setting)
    checks = base_checks(kit, (strength,), setting, dead_press(answers))
    return brief, kit, Judged(loads, strength, checks)


@pytest.fixture(scope="module")
def light():
    return judged('base = "ballast"\nballast = "70 kg"')


def by_code(judgement, code):
    return next(check for check in judgement.checks if check.code == code)


def test_reactions_balance_the_loads_where_the_base_lifts_and_slides(light):
    _, kit, judgement = light
    lengths = node_lengths(kit.shell)
    ends = kit.shell.hubs[kit.shell.struts]
    strength = judgement.strength
    moving = strength.base.rows("settled")
    assert strength.base.lifted.any()
    assert strength.base.sliding.any()
    for k in [*moving[:: max(len(moving) // 12, 1)], 0]:
        hubs, lines = combined(judgement.loads.cases, strength.combinations[k])
        on_struts = lines * lengths[:, None]
        ground = kit.shell.hubs[strength.ground]
        force = hubs.sum(axis=0) + on_struts.sum(axis=0) + strength.reactions[k].sum(axis=0)
        moment = np.cross(kit.shell.hubs, hubs).sum(axis=0)
        moment += np.cross(ends.mean(axis=1), on_struts).sum(axis=0)
        moment += np.cross(ground, strength.reactions[k]).sum(axis=0)
        size = np.abs(hubs).sum() + np.abs(on_struts).sum()
        assert np.abs(force).max() < 1e-9 * size
        assert np.abs(moment).max() < 1e-8 * size


def test_each_hub_obeys_contact_and_friction_with_its_ballast(light):
    _, _, judgement = light
    strength = judgement.strength
    press = strength.weight[:, None] * 70 * 9.81
    push = strength.reactions[..., 2] + press
    drag = np.hypot(strength.reactions[..., 0], strength.reactions[..., 1])
    small = 1e-6 * np.abs(strength.reactions).max()
    assert strength.base.rows("settled")
    assert not strength.base.rows("loose")
    assert push.min() > -small
    assert (drag - 0.3 * push).max() < small
    assert np.abs(push[strength.base.lifted]).max() < small


def test_adding_up_cases_gives_what_solving_each_combination_gives(light):
    brief, kit, judgement = light
    strength = judgement.strength
    model = make_model(kit, "ballast", duration="gust", temperature=setting_of(brief).temperature)
    rows = strength.base.rows("settled")
    for k in rows[:: max(len(rows) // 5, 1)]:
        hubs, lines = combined(judgement.loads.cases, strength.combinations[k])
        hubs = hubs.copy()
        hubs[strength.ground, 2] -= strength.weight[k] * 70 * 9.81
        (found,) = solve_contact(model.frame, [case_loads(hubs, lines)])
        assert found.ended == "settled"
        moved = found.response.displacements[:, :3]
        largest = np.abs(moved).max()
        assert np.abs(moved - strength.displacements[k]).max() < 1e-5 * largest


def test_the_ballast_that_is_called_for_holds_every_hub_and_less_does_not():
    _, _, unknown = judged('base = "ballast"')
    check = by_code(unknown, "base-contact")
    needed = (check.demand - by_code(judged('base = "free"')[2], "base-contact").capacity) / 9.81
    enough = judged(f'base = "ballast"\nballast = "{needed * 1.0001:.3f} kg"')[2]
    less = judged(f'base = "ballast"\nballast = "{needed * 0.97:.3f} kg"')[2]
    assert set(enough.strength.base.ended) == {"held"}
    assert "settled" in less.strength.base.ended or "loose" in less.strength.base.ended
    assert by_code(enough, "base-contact").status == "pass"


def test_a_free_base_in_wind_fails_with_a_number():
    check = by_code(judged('base = "free"')[2], "base-contact")
    assert check.status == "fail"
    assert check.required
    assert 1 < check.utilisation < 1e4
    assert "carry it off" in check.note


def test_ties_never_push(light):
    _, kit, judgement = light
    assert (kit.shell.role == "tie").any()
    assert by_code(judgement, "ties-slack").status == "pass"
