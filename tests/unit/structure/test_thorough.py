"""A thorough check: both ends of the joints' stiffness, all imperfections, and the worst told."""

import pytest

from strutwright.brief import parse_brief
from strutwright.catalogue import Source
from strutwright.cli.main import run
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.structure import Check
from strutwright.structure.check import Subject
from strutwright.structure.checks import worse_of
from strutwright.structure.judge import judge

BRIEF = """
[project]
name = "Test"
use = "store"
[size]
width = "5.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
[hubs]
connector = "socket-pin"
[[hubs.tests]]
pull = ["20 kN", "21 kN", "19 kN"]
bend = ["20 Nm/rad", "60 Nm/rad", "35 Nm/rad"]
[cover]
material = "pe-film-180"
[site]
base = "staked"
ground_snow = "0.8 kN/m2"
basic_wind = { value = "14 m/s", basis = "10 min mean" }
[delivery]
carrier = "freight"
"""


@pytest.fixture(scope="module")
def both():
    brief = parse_brief(BRIEF, "test.toml")
    kit = make_kit(make_shell(brief), brief)
    return [judge(kit, brief, limits=False, thorough=way) for way in (False, True)]


@pytest.mark.whole
def test_both_ends_of_the_stiffness_and_all_imperfections_are_followed(both):
    quick, full = (judged.stability.trials for judged in both)
    assert {trial.end for trial in quick} == {"low"}
    assert {trial.end for trial in full} == {"low", "high"}
    for end in ("low", "high"):
        shapes = {trial.shape for trial in full if trial.end == end}
        assert shapes == {
            f"{shape} {sign} span/{share}"
            for shape in ("buckling", "spread") for sign in "+-" for share in (300, 1000)
        }  # fmt: skip
    assert len({trial.combination for trial in full}) > 1
    assert "low and high" in both[1].stability.end


@pytest.mark.whole
def test_the_worst_of_all_is_told(both):
    quick, full = (next(c for c in j.checks if c.code == "shell-stability") for j in both)
    trials = both[1].stability.trials
    assert full.utilisation >= quick.utilisation - 1e-12
    assert full.utilisation >= max(t.required / t.factor for t in trials) - 1e-12


@pytest.mark.whole
def test_struts_take_the_worse_end_of_the_stiffness(both):
    """Stiffer joints take moments to the ends: no strut check may be milder than the quick one."""
    quick, full = (
        [c for c in judged.checks if c.code in {"strut-section", "strut-buckling"}]
        for judged in both
    )
    assert len(quick) == len(full)
    assert all(b.utilisation >= a.utilisation for a, b in zip(quick, full, strict=True))
    assert "stability-quick" in {n.code for n in both[0].notes}
    assert "stability-quick" not in {n.code for n in both[1].notes}


def test_the_end_that_uses_a_strut_more_is_named():
    def check(used, note="strut type A", code="strut-section"):
        return Check.made(
            code, Subject("strut", 3), used, 1.0, unit="-", source=Source("test"), note=note
        )

    low = (check(0.4), check(0.9, "strut type B"), check(0.2, code="joint-strength"))
    high = (check(0.8), check(0.5, "strut type B"), check(0.3, code="strut-buckling"))
    found = worse_of(low, high)
    assert [c.utilisation for c in found] == [0.8, 0.9, 0.2]
    assert found[0].note == "strut type A, joints at their stiffest"
    assert worse_of(low) == low


@pytest.mark.whole
def test_the_command_takes_it(tmp_path, capsys):
    (tmp_path / "house.toml").write_text(BRIEF)
    ended = run(["check", str(tmp_path / "house.toml"), "--thorough"])
    assert ended in {0, 1}
    assert "shell-stability" in capsys.readouterr().out or ended == 1
