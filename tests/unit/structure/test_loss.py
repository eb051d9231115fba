"""Loss of one strut: loose kits by counting, reduced combinations by their clause."""

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.loads import accidents
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.shape.rigidity import length_jacobian
from strutwright.structure.judge import judge

BRIEF = """
[project]
name = "Test"
[size]
width = "4.0 m"
[shape]
family = "dome"
division = [2, 0]
[hubs.connector]
allowance = "30 mm"
eccentricity = "0 mm"
stiffness = "{stiffness} Nm/rad"
strength = "9 kN"
[loads]
crop = "0.05 kN/m2"
[cover]
material = "pc-6"
[site]
base = "staked"
ground_snow = "300 Pa"
basic_wind = {{ value = "20 m/s", basis = "10 min mean" }}
"""


def judged(stiffness):
    brief = parse_brief(BRIEF.format(stiffness=stiffness), "test.toml")
    kit = make_kit(make_shell(brief), brief)
    return kit, judge(kit, brief)


def test_a_pin_jointed_kit_comes_loose_where_the_rank_of_its_lengths_falls():
    kit, found = judged(0)
    loss = found.capacity.loss
    shell = kit.shell
    free = np.setdiff1d(np.arange(len(shell.hubs)), shell.base)
    columns = (3 * free[:, None] + np.arange(3)).ravel()
    lengths = length_jacobian(shell.hubs, shell.struts).toarray()[:, columns]
    whole = np.linalg.matrix_rank(lengths)
    assert whole == len(columns)
    for strut in range(0, len(shell.struts), 3):
        rest = np.linalg.matrix_rank(np.delete(lengths, strut, axis=0))
        assert np.isinf(loss.utilisation[strut]) == (rest < whole)


def test_stiff_joints_carry_on_without_a_strut_and_its_loss_asks_more_of_the_others():
    _, found = judged(2000)
    loss = found.capacity.loss
    assert np.isfinite(loss.utilisation).all()
    assert (loss.strut != np.arange(len(loss.strut))).all()
    check = next(c for c in found.checks if c.code == "strut-loss")
    assert not check.required
    assert check.utilisation == pytest.approx(loss.utilisation.max())
    assert "props under hubs" in check.note


def test_reduced_combinations_have_the_factors_of_their_clause():
    _, found = judged(2000)
    cases = {case.name: case.action for case in found.loads.cases}
    for combo in accidents(found.loads.cases, "en", "factored"):
        for name, factor in combo.factors:
            wanted = {"dead": 1.0, "cover": 1.0, "crop": 0.8, "snow": 0.2, "wind": 0.2}
            assert factor == wanted[cases[name]]
    high = accidents(found.loads.cases, "en", "factored", altitude=1500.0)
    assert {f for c in high for n, f in c.factors if cases[n] == "snow"} == {0.5}
    for combo in accidents(found.loads.cases, "asce7-22", "factored"):
        for name, factor in combo.factors:
            assert factor == {"dead": 1.2, "cover": 1.2, "crop": 0.5, "snow": 0.2}[cases[name]]
