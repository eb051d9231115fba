"""Couplers as springs in the frame that is searched for buckling, against the closed form."""

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.frame import (
    Couplers,
    FrameModel,
    Loads,
    buckling,
    circular_tube,
    divide_loads,
    factor,
    respond,
    subdivide,
)
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.structure.couplers import UNTESTED, coupler_shares, couplers_of
from strutwright.structure.judge import judge
from strutwright.structure.model import make_model
from strutwright.structure.standards.lattice import coupler_factor

LENGTH, TUBE = 2.0, (0.03, 0.002, 70e9, 27e9)
BENT = 70e9 * np.pi / 64 * (0.03**4 - 0.026**4)
"""E I, Nm2."""
PRINTED = {
    (2, 0.5): 0.47, (5, 0.5): 0.70, (10, 0.5): 0.827, (20, 0.5): 0.907,
    (2, 0.25): 0.59, (5, 0.25): 0.808, (10, 0.25): 0.901, (20, 0.25): 0.95,
}  # fmt: skip
"""(c L/E I, place): share of the Euler load; own computations of the stability equation."""


def share_by_frame(ratio, at, pieces):
    """Return the buckling load of a pin-ended column with a coupler over its Euler load."""
    fixed = np.zeros((2, 6), dtype=bool)
    fixed[0, :4] = True
    fixed[1, 1:4] = True
    nodes = np.array([[0, 0, 0.0], [LENGTH, 0, 0]])
    spring = ratio * BENT / LENGTH
    couplers = Couplers(np.array([0]), np.array([at]), [[np.inf, spring, spring]], np.inf)
    tube = circular_tube(*TUBE)
    model = FrameModel(nodes, np.array([[0, 1]]), tube, fixed=fixed, couplers=couplers)
    forces = np.zeros((2, 6))
    forces[1, 0] = -1.0
    cut = subdivide(model, pieces)
    whole = factor(cut.model)
    (answer,) = respond(whole, [divide_loads(cut, Loads(forces=forces))])
    return float(buckling(whole, answer, 1).factors[0]) / (np.pi**2 * BENT / LENGTH**2)


@pytest.mark.parametrize(("ratio", "at"), PRINTED)
def test_a_column_with_a_coupler_keeps_the_printed_share(ratio, at):
    found = share_by_frame(ratio, at, 8)
    assert found == pytest.approx(PRINTED[ratio, at], abs=0.005)
    assert found == pytest.approx(coupler_factor(ratio, at), rel=2e-3)


BRIEF = """
[project]
name = "Test"
use = "store"
[size]
width = "6.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
bars = [{{ length = "{bar}" }}]
[hubs]
connector = "socket-pin"
[[hubs.tests]]
pull = ["20 kN", "20 kN", "20 kN"]
bend = ["300 Nm/rad", "300 Nm/rad", "300 Nm/rad"]
coupler = ["{stiff}", "{stiff}", "{stiff}"]
[site]
base = "staked"
ground_snow = "0.7 kN/m2"
basic_wind = {{ value = "10 m/s", basis = "10 min mean" }}
[delivery]
carrier = "freight"
"""


def made(bar="1.2 m", stiff="0.4 kNm/rad"):
    brief = parse_brief(BRIEF.format(bar=bar, stiff=stiff), "test.toml")
    return make_kit(make_shell(brief), brief), brief


def lowest(**changes):
    found = judge(*made(**changes), limits=False).stability
    return min(b.factor for b in found.buckled)


def test_couplers_sit_where_the_pieces_meet():
    kit, _ = made()
    found = couplers_of(kit, 210e9)
    assert len(found.members) == sum(len(t.coupler_at) * t.quantity for t in kit.strut_types) > 0
    assert found.shares == pytest.approx(0.5)
    assert found.rotation[:, 1:] == pytest.approx(400.0)
    assert len(couplers_of(made(bar="6 m")[0], 210e9).members) == 0


def test_a_shell_with_loose_couplers_buckles_before_one_without():
    plain = lowest(bar="6 m")
    loose, stiff = lowest(), lowest(stiff="4000 kNm/rad")
    assert loose < 0.9 * plain
    assert 0.97 * plain < stiff < plain  # the couplers still weigh something


def test_two_couplers_leave_less_than_one_and_never_more_than_the_frame_says():
    kit, _ = made(bar="0.75 m")
    kinds = [kind for kind in kit.strut_types if len(kind.coupler_at) == 2]
    assert kinds
    modulus = kit.stock.material.modulus
    shares = coupler_shares(kit, modulus)
    for kind in kinds:
        ratio = kit.connector.coupler_stiffness * kind.node_length
        place = 0.5 - kind.cut_length / 6 / kind.node_length
        one = coupler_factor(ratio / (modulus * kit.stock.section.inertia_z), place)
        assert (shares[kind.struts] < one).all()
        assert shares[kind.struts] == pytest.approx(1 / (2 / one - 1))


def test_couplers_that_were_not_tested_count_at_the_low_end_and_a_check_says_so():
    """At c L/EI of 2 a coupler at mid-length leaves 0.47 of the Euler load (printed above)."""
    words = BRIEF.replace('coupler = ["{stiff}", "{stiff}", "{stiff}"]\n', "")
    brief = parse_brief(words.format(bar="1.2 m"), "test.toml")
    kit = make_kit(make_shell(brief), brief)
    assert UNTESTED[0] == 2.0
    shares = coupler_shares(kit, kit.stock.material.modulus)
    assert shares == pytest.approx(0.47, abs=0.005)
    model = make_model(kit, "staked", duration="gust", temperature=20.0)
    spring = 2.0 * model.modulus * kit.stock.section.inertia_z / kit.strut_types[0].node_length
    first = model.frame.couplers.members == kit.strut_types[0].struts[0]
    assert model.frame.couplers.rotation[first, 1:] == pytest.approx(spring)
    (said,) = [c for c in judge(kit, brief, limits=False).checks if c.code == "coupler-stiffness"]
    assert said.status == "not_checked"
    assert "c L/EI of 2" in said.note


def test_struts_with_loose_couplers_sag_more_under_their_line_loads():
    (loose_kit, brief), (plain_kit, _) = made(), made(bar="6 m")
    loose, plain = (judge(kit, brief, limits=False).service for kit in (loose_kit, plain_kit))
    assert loose.sag.max() > 1.3 * plain.sag.max()
