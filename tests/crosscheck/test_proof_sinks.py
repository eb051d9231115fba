"""Sinks under a hung load against two laws of elastic frames that share nothing with the solver."""

from pathlib import Path

import numpy as np
import pytest

from strutwright.brief import read_brief
from strutwright.frame import solve
from strutwright.loads import hung_case
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.structure.model import make_model
from strutwright.structure.respond import case_loads
from strutwright.survey import Joints, sinks, with_joints

EXAMPLES = Path(__file__).parents[2] / "examples"
STEP = 1e-9
"""m/N."""


@pytest.fixture(scope="module")
def kit():
    brief = read_brief(EXAMPLES / "mosswick-two-frequency.toml")
    return make_kit(make_shell(brief), brief)


def test_a_sinks_under_b_as_b_under_a(kit):
    """Maxwell and Betti: the table of hubs against hubs is symmetric."""
    hubs = [12, 18, 25]
    found = sinks(kit, Joints(0.5, 2e-7), hubs, 20.0)[:, hubs]
    assert found == pytest.approx(found.T, rel=1e-9)
    assert (np.diag(found) > 0).all()


def test_what_the_ends_give_is_the_work_of_their_forces(kit):
    """Castigliano: d(sink)/d(give) is the sum of squared end forces under the unit load."""
    hub, joints = 25, Joints(0.5, 2e-7)
    more = Joints(joints.fixity, joints.give + STEP)
    less = Joints(joints.fixity, joints.give - STEP)
    slope = (sinks(kit, more, [hub], 20.0) - sinks(kit, less, [hub], 20.0))[0, hub] / (2 * STEP)
    case = hung_case(kit.shell, hub, 1.0)
    model = make_model(with_joints(kit, joints, joints), "staked", duration="week", temperature=20)
    answer = solve(model.frame, [case_loads(case.hub_forces, case.line_loads)])[0]
    axial = answer.end_forces[:, :, 0]
    assert slope == pytest.approx(float((axial**2).sum()), rel=1e-5)
