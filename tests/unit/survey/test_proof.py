"""The proof load: where, how much, what to expect; and what a sink says of the joints."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from strutwright.brief import Known, Reading, parse_readings, read_brief
from strutwright.design.proof import rechecked
from strutwright.errors import InputError
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.survey import Joints, calibrate, joint_range, plan_proof, sinks, with_joints

EXAMPLES = Path(__file__).parents[3] / "examples"


@pytest.fixture(scope="module")
def brief():
    return read_brief(EXAMPLES / "mosswick-two-frequency.toml")


@pytest.fixture(scope="module")
def kit(brief):
    return make_kit(make_shell(brief), brief)


def sunk(kit, joints, load, hub, *, ground=0.0, sigma=1e-5, at=None):
    at = hub if at is None else at
    value = load * float(sinks(kit, joints, [hub], 20.0)[0, at]) + ground
    return Reading("sink", (at,), "centre", value, sigma, 20.0, load=(load, hub))


def test_the_load_stays_within_what_the_design_lets_hang(kit):
    allowed = np.full(len(kit.shell.hubs), 900.0)
    found = plan_proof(kit, allowed, 9.0)
    assert found.load == 450.0
    assert found.allowed == 900.0
    assert found.first == 90.0
    assert found.hub not in kit.shell.base
    assert found.low <= found.sink <= found.high
    supposed = joint_range(kit)
    soft = 450.0 * float(sinks(kit, supposed.soft, [found.hub], 20.0)[0, found.hub])
    assert found.high == pytest.approx(soft + 2 * found.sigma)


def test_with_a_finer_rule_the_hub_lies_within_reach(kit):
    allowed = np.full(len(kit.shell.hubs), 900.0)
    fine = plan_proof(kit, allowed, 2.0, sigma=0.00005)
    assert kit.shell.hubs[fine.hub, 2] <= 2.0
    assert not fine.notes
    coarse = plan_proof(kit, allowed, 0.5)
    assert [note.code for note in coarse.notes] == ["proof-weak", "proof-high"]


def test_a_design_that_lets_nothing_hang_gets_no_proof_load(kit):
    with pytest.raises(InputError) as caught:
        plan_proof(kit, np.full(len(kit.shell.hubs), 80.0), 2.0)
    assert caught.value.code == "proof-none"


@pytest.mark.parametrize("give", [0.0, 1.3e-7, 3.1e-7, 9e-7])
def test_joints_that_made_a_sink_are_found_again(kit, give):
    made = Joints(0.4, give)
    found = calibrate(kit, [sunk(kit, made, 500.0, 25), sunk(kit, made, 500.0, 25, at=20)])
    assert found.stiff.give - 1e-9 <= give <= found.soft.give + 1e-9
    assert found.soft.give - found.stiff.give < 2e-7
    assert found.chance > 0.05
    assert found.verdict == ("softer" if give > joint_range(kit).soft.give else "within")


def test_the_ground_that_sinks_under_the_load_is_no_joint(kit):
    """3 mm of ground under the base hubs beside it are taken off."""
    made = Joints(0.4, 2e-7)
    base = [replace(sunk(kit, made, 0.0, 25, at=hub), value=0.003, load=(500.0, 25))
            for hub in (0, 1)]  # fmt: skip
    found = calibrate(kit, [sunk(kit, made, 500.0, 25, ground=0.003), *base])
    assert found.sunk[0].value == pytest.approx(found.sunk[0].fitted, abs=2e-5)
    assert found.stiff.give < 2e-7 < found.soft.give


def test_sinks_that_belong_to_no_joints_are_named(kit):
    stiff, soft = Joints(0.4, 0.0), Joints(0.4, 1e-6)
    found = calibrate(kit, [sunk(kit, stiff, 500.0, 25), sunk(kit, soft, 500.0, 20)])
    assert found.chance < 0.01
    assert found.notes[0].code in {"proof-misfit", "proof-soft"}
    one = sunk(kit, stiff, 500.0, 25)
    less = calibrate(kit, [replace(one, value=one.value / 2)])
    assert (less.verdict, less.notes[0].code) == ("stiffer", "proof-stiff")
    assert calibrate(kit, []) is None


def test_the_design_is_checked_again_with_softer_joints(brief, kit):
    """Joints that give along their struts let the shell buckle sooner and its hubs move more."""
    found = calibrate(kit, [sunk(kit, Joints(0.4, 3e-7), 500.0, 25)])
    checks = dict((code, (a, b)) for code, a, b in rechecked(brief, kit, found).worst())
    assert checks["shell-stability"][1] > checks["shell-stability"][0]
    assert checks["hub-movement"][1] > checks["hub-movement"][0]


def test_joints_are_put_into_a_connector_and_read_back(kit):
    soft, stiff = Joints(0.2, 4e-7), Joints(0.7, 1e-7)
    again = joint_range(with_joints(kit, soft, stiff))
    assert (again.soft.fixity, again.stiff.fixity) == pytest.approx((0.2, 0.7))
    assert (again.soft.give, again.stiff.give) == pytest.approx((4e-7, 1e-7))
    tested = replace(kit, connector=replace(kit.connector, rotational_stiffness=(300.0, 500.0)))
    first = joint_range(tested)
    assert joint_range(with_joints(tested, first.soft, first.stiff)).soft.fixity == pytest.approx(
        first.soft.fixity
    )


KNOWN = Known(26, frozenset(range(10)), frozenset())


def test_a_load_holds_for_the_sinks_after_it():
    text = (
        "kind,from,to,at,value,sigma\n# load: 100 lbf at hub 22\nsink,22,,,2.5 mm,0.5 mm\n"
        "sink,3,,,0.1 mm\n# load: 200 N at 24;;;\nsink,22,,,1 mm\n"
    )
    found = parse_readings(text, "r.csv", KNOWN).readings
    assert [one.load[1] for one in found] == [22, 22, 24]
    assert found[0].load[0] == pytest.approx(444.82, abs=0.01)


@pytest.mark.parametrize(
    "text",
    ["sink,22,,,2 mm,\n", "# load: 3 kN\n", "# load: 3 kN at hub 2\n", "# load: 90 kN at hub 22\n",
     "# load: 3 kN at hub 99\n"],
)  # fmt: skip
def test_a_load_that_cannot_hang_is_told(text):
    with pytest.raises(InputError) as caught:
        parse_readings(text, "r.csv", KNOWN)
    assert caught.value.code == "readings-load"
