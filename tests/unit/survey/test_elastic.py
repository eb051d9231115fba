"""The shell that gives: exact where it closes, equilibrium where it must be forced."""

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.shape.measure import node_lengths
from strutwright.survey import make_elastic, settle
from strutwright.survey.evidence import made_to
from strutwright.survey.hypotheses import neighbour_swaps, turned_hubs, wrong_types

BRIEF = """
[project]
name = "Elastic test"
[size]
width = "6.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
"""


@pytest.fixture(scope="module")
def kit():
    brief = parse_brief(BRIEF)
    return make_kit(make_shell(brief), brief)


@pytest.fixture(scope="module")
def elastic(kit):
    return make_elastic(kit)


def lengths_of(shape, struts):
    return np.linalg.norm(shape[struts[:, 1]] - shape[struts[:, 0]], axis=1)


def test_a_true_shell_stays_as_designed_without_force(kit, elastic):
    rest = settle(elastic, elastic.lengths)
    assert rest.shape == pytest.approx(kit.shell.hubs, abs=1e-12)
    assert np.abs(rest.forces).max() < 1e-6


def test_small_length_errors_are_taken_up_by_the_shape_alone(kit, elastic):
    """Redundancy 0: any small set of lengths has its exact shape (identity E = 3V - 3 - B)."""
    rng = np.random.default_rng(4)
    lengths = elastic.lengths + rng.normal(0, 0.001, len(elastic.lengths))
    rest = settle(elastic, lengths)
    off = lengths_of(rest.shape, kit.shell.struts) - lengths
    assert np.abs(off).max() < 2e-5
    assert np.abs(rest.shape - kit.shell.hubs).max() > 1e-3


def test_the_forces_at_rest_balance(kit, elastic):
    """Struts, hubs and ground together sum to nothing at every hub, in a shell under force."""
    swaps = [one for one in neighbour_swaps(kit)][:40:5]
    checked = 0
    for one in swaps:
        rest = settle(elastic, made_to(elastic, one))
        if np.abs(rest.forces).max() > 300:
            continue
        rest = settle(elastic, made_to(elastic, one), start=rest.shape)
        pulls = np.zeros(3 * len(kit.shell.hubs))
        np.add.at(pulls, elastic.block, rest.along * rest.forces[:, None])
        pulls += elastic.constant @ (rest.shape - kit.shell.hubs).ravel()
        assert np.abs(pulls).max() < 0.03 * np.abs(rest.forces).max()
        checked += 1
    assert checked >= 4


def test_ninety_of_110_swaps_of_the_two_frequency_dome_close(kit, elastic):
    """Own computation of the job map by exact lengths: 90 of 110 have a shape (ADJ-8)."""
    swaps = list(neighbour_swaps(kit))
    assert len(swaps) == 110
    forces = [np.abs(settle(elastic, made_to(elastic, one)).forces).max() for one in swaps]
    assert sum(force <= 300 for force in forces) == 90


def test_a_load_moves_the_shell_by_its_stiffness(elastic):
    """A small pull at a hub against the linear answer of the same stiffness matrix."""
    rest = settle(elastic, elastic.lengths)
    load = np.zeros(elastic.hubs.size)
    load[3 * 20 + 2] = -1.0
    moved = settle(elastic, elastic.lengths, load=load).shape - rest.shape
    assert moved.ravel() == pytest.approx(rest.solve(load[:, None])[:, 0], abs=2e-8)


def test_swapped_struts_keep_their_own_sawn_length(kit):
    swap = next(iter(neighbour_swaps(kit)))
    cuts = node_lengths(kit.shell) - kit.allowances.sum(axis=1)
    (first, made), (second, other) = swap.changed
    assert made == pytest.approx(cuts[second] + kit.allowances[first].sum())
    assert other == pytest.approx(cuts[first] + kit.allowances[second].sum())
    assert swap.gap == pytest.approx(0.2145, abs=5e-5)  # 3 m (0.61803 - 0.54653)


def test_a_turned_hub_moves_every_strut_to_the_next_socket(kit):
    """A six-way hub of the two-frequency dome has four A and two B: its neighbours change."""
    for one in turned_hubs(kit):
        made = dict(one.changed)
        around = kit.sockets(one.hubs[0])
        assert set(made) <= set(around.tolist())
        assert len(made) > 2


def test_wrong_types_are_those_of_the_kit(kit):
    found = list(wrong_types(kit, np.array([0])))
    assert len(found) == 1
    assert abs(found[0].changed[0][1] - node_lengths(kit.shell)[0]) == pytest.approx(
        0.2145, abs=5e-5
    )
