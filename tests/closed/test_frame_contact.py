"""Ties that only pull, bases that lift and slide: closed forms and the conditions themselves."""

from dataclasses import replace

import numpy as np
import pytest

from strutwright.errors import ResultError
from strutwright.frame import (
    Contacts,
    FrameModel,
    Loads,
    Sections,
    buckle,
    settled,
    solve,
    solve_contact,
)

ONE = Sections(1.0, 1.0, 1.0, 1.0, 1.0, 1.0)


def test_braced_panel_with_ties_that_only_pull():
    # square a x a, ties EA, side load H: T/H = sqrt2, drift 2 sqrt2 H a/EA, slack tie 0;
    # the stiff bars that take H in turn add H a/EA of their own each
    nodes = [[0, 0, 0], [1, 0, 0], [1, 0, 1], [0, 0, 1]]
    members = [[0, 1], [1, 2], [2, 3], [3, 0], [0, 2], [1, 3]]
    rigid, tie = 1e6, 1.0
    area = [rigid] * 4 + [tie] * 2
    table = Sections(area, 1.0, 1.0, 1.0, 1.0, 1.0)
    fixed = np.zeros((4, 6), dtype=bool)
    fixed[:, 1] = True
    fixed[[0, 1], :3] = True
    model = FrameModel(
        nodes, members, table, truss=True, tension_only=[0, 0, 0, 0, 1, 1], fixed=fixed
    )
    for sense, pulling, bars in ((1.0, 4, 2), (-1.0, 5, 1)):
        forces = np.zeros((4, 6))
        forces[3, 0] = sense * 2.0
        (found,) = solve_contact(model, [Loads(forces)])
        assert found.ended == "settled"
        assert found.slack.tolist() == [False] * 4 + [pulling == 5, pulling == 4]
        axial = found.response.axial
        assert axial[pulling] / 2.0 == pytest.approx(1.4142135623730951, abs=1e-9)
        assert axial[9 - pulling] == pytest.approx(0.0, abs=1e-9)
        drift = found.response.displacements[3, 0] * tie / 2.0
        assert drift == pytest.approx(sense * (2.8284271247461903 + bars / rigid), abs=1e-9)
        rest, loads = settled(model, Loads(forces), found)
        (again,) = solve(rest, [loads])
        assert again.axial == pytest.approx(axial, abs=1e-8)


def beam_on_three(contacts, load_at):
    nodes = [[x, 0, 0] for x in (0.0, 0.5, 1.0, 1.5, 2.0)]
    fixed = np.zeros((5, 6), dtype=bool)
    fixed[:, [1, 3, 5]] = True
    fixed[0, 0] = True
    if not contacts:
        fixed[[0, 2, 4], 2] = True
    model = FrameModel(
        nodes,
        [[k, k + 1] for k in range(4)],
        ONE,
        fixed=fixed,
        contacts=Contacts([0, 2, 4]) if contacts else Contacts(),
    )
    forces = np.zeros((5, 6))
    forces[load_at, 2] = -1.0
    return model, Loads(forces)


def test_two_spans_on_supports_that_only_push():
    # held both ways 13/32, 22/32, -3/32; pushing only 1/2, 1/2, 0
    (held,) = solve(*_listed(beam_on_three(False, 1)))
    assert held.reactions[[0, 2, 4], 2] == pytest.approx([13 / 32, 22 / 32, -3 / 32], abs=1e-9)
    (found,) = solve_contact(*_listed(beam_on_three(True, 1)))
    assert found.ended == "settled"
    assert found.response.reactions[[0, 2, 4], 2] == pytest.approx([0.5, 0.5, 0.0], abs=1e-9)
    assert found.lifted.tolist() == [False, False, True]
    # it turns about the middle by P L2/16EI
    assert found.response.displacements[4, 2] == pytest.approx(1 / 16, abs=1e-9)


def _listed(pair):
    return pair[0], [pair[1]]


def test_everything_lifts_off():
    model, down = beam_on_three(True, 1)
    up = Loads(-down.forces)
    with pytest.raises(ResultError, match="lifts off") as told:
        solve_contact(model, [down, up])
    assert told.value.code == "mechanism"


def rod(friction, weights, push):
    """Rod of unit bars lying on the ground, pushed at one end; held at the other."""
    count = len(weights)
    nodes = np.column_stack([np.arange(count), np.zeros((count, 2))])
    fixed = np.zeros((count, 6), dtype=bool)
    fixed[-1, :3] = True
    members = [[k, k + 1] for k in range(count - 1)]
    model = FrameModel(
        nodes,
        members,
        ONE,
        truss=True,
        fixed=fixed,
        contacts=Contacts(np.arange(count - 1), friction=np.full(count - 1, friction)),
    )
    forces = np.zeros((count, 6))
    forces[:, 2] = -np.asarray(weights)
    forces[0, 0] = push
    return model, Loads(forces)


@pytest.mark.parametrize("push", [0.5, 1.7, 3.2, 6.0])
@pytest.mark.parametrize("sense", [1.0, -1.0])
def test_friction_is_used_up_from_the_pushed_end(push, sense):
    # bar forces fall by mu W at each sliding node; nodes stick from where the rest is below mu W
    weights = [2.0, 3.0, 1.0, 4.0, 2.0, 1.0]
    (found,) = solve_contact(*_listed(rod(0.5, weights, sense * push)))
    left, bars, sliding = push, [], []
    for weight in weights[:-1]:
        sliding.append(left > 0.5 * weight)
        left = left - 0.5 * weight if sliding[-1] else 0.0
        bars.append(-sense * left)
    assert found.ended == "settled"
    assert found.sliding.tolist() == sliding
    assert found.response.axial == pytest.approx(bars, abs=1e-9)
    moved = -np.cumsum(bars[::-1])[::-1]
    assert found.response.displacements[:-1, 0] == pytest.approx(moved, abs=1e-9)


def test_slope_of_a_slide_in_the_plane_of_the_ground():
    # post foot pulled along and across: friction opposes the slide itself, not each axis
    nodes = [[0, 0, 0], [0, 0, 1.0]]
    fixed = np.zeros((2, 6), dtype=bool)
    fixed[1] = True
    table = Sections(1.0, 2.0, 1.0, 1.0, 1.0, 1.0)
    model = FrameModel(nodes, [[0, 1]], table, fixed=fixed, contacts=Contacts([0], friction=[0.4]))
    forces = np.zeros((2, 6))
    forces[0] = [0.6, 0.5, -1.0, 0, 0, 0]
    (found,) = solve_contact(model, [Loads(forces)])
    slide = found.response.displacements[0, :2]
    drag = found.response.reactions[0, :2]
    assert found.sliding.all()
    assert np.linalg.norm(drag) == pytest.approx(0.4 * found.response.reactions[0, 2], rel=1e-9)
    assert slide @ drag == pytest.approx(-np.linalg.norm(slide) * np.linalg.norm(drag), rel=1e-6)
    # and the force that is left bends the post: u = F L3/12EI ... with the foot free to turn 3EI
    assert slide == pytest.approx((forces[0, :2] + drag) / [3.0 * 1.0, 3.0 * 2.0], rel=1e-6)


def test_rough_contact_never_slides_while_pressed():
    model, loads = rod(np.inf, [1.0, 1.0, 1.0], 50.0)
    (found,) = solve_contact(model, [loads])
    assert not found.sliding.any()
    assert found.response.displacements[:, 0] == pytest.approx([0.0] * 3, abs=1e-12)


def test_smooth_contact_slides_without_force():
    model, loads = rod(0.0, [1.0, 1.0, 1.0], 2.0)
    (found,) = solve_contact(model, [loads])
    assert found.response.axial == pytest.approx([-2.0, -2.0], abs=1e-12)


def arch(friction):
    """Two-hinged portal standing on ground, loaded so that it spreads, leans and lifts."""
    nodes = [[0, 0, 0], [0, 0, 1], [1, 0, 1], [2, 0, 1], [2, 0, 0]]
    fixed = np.zeros((5, 6), dtype=bool)
    fixed[:, [1, 3, 5]] = True
    model = FrameModel(
        nodes,
        [[0, 1], [1, 2], [2, 3], [3, 4]],
        Sections(100.0, 1.0, 1.0, 1.0, 1.0, 1.0),
        fixed=fixed,
        contacts=Contacts([0, 4], friction=[friction, friction]),
    )
    forces = np.zeros((5, 6))
    forces[2, 2] = -4.0
    return model, forces


def test_spreading_portal_slides_on_one_foot_or_holds():
    # thrust of the two-hinged portal: H = 3 P L/8h (1/(3 + 2 k)) with k = h/L; P 4, L 2, h 1
    model, forces = arch(0.8)
    (found,) = solve_contact(model, [Loads(forces)])
    thrust = found.response.reactions[0, 0]
    assert not found.sliding.any()
    assert thrust == pytest.approx(3 * 4 * 2 / 8 / (3 + 2 * 0.5), rel=0.05)


def test_side_load_beyond_friction_slides_away():
    model, forces = arch(0.3)
    forces[2, 0] = 3.0
    with pytest.raises(ResultError, match="slides away"):
        solve_contact(model, [Loads(forces)])


def test_smooth_base_with_nothing_across_is_a_mechanism():
    model, forces = arch(0.0)
    with pytest.raises(ResultError, match="can move without resistance"):
        solve_contact(model, [Loads(forces)])


@pytest.mark.parametrize("seed", range(8))
def test_random_bases_keep_every_condition(seed):
    """Ring of posts on rough ground with ties: each condition of contact holds in the answer."""
    rng = np.random.default_rng(seed)
    angle = np.arange(8) * np.pi / 4
    foot = np.column_stack([np.cos(angle), np.sin(angle), np.zeros(8)]) * 2
    top = np.column_stack([np.cos(angle), np.sin(angle), np.full(8, 1.5)]) * [1.4, 1.4, 1]
    nodes = np.vstack([foot, top, [[0, 0, 2.0]]])
    ring = [[8 + k, 8 + (k + 1) % 8] for k in range(8)]
    posts, ribs = [[k, 8 + k] for k in range(8)], [[8 + k, 16] for k in range(8)]
    ties = [[k, 8 + (k + 1) % 8] for k in range(8)] + [[8 + k, (k + 1) % 8] for k in range(8)]
    members = ring + posts + ribs + ties
    only = np.array([0] * 24 + [1] * 16, dtype=bool)
    model = FrameModel(
        nodes,
        members,
        Sections(1e-4, 1e-8, 1e-8, 1e-8, 2e11, 8e10),
        truss=only,
        tension_only=only,
        contacts=Contacts(np.arange(8), friction=rng.uniform(0.3, 0.6, 8)),
    )
    forces = np.zeros((17, 6))
    forces[8:, 2] = -1000.0
    forces[8:, :3] += rng.normal(0.0, 300.0, (9, 3))
    loads = Loads(forces)
    (found,) = solve_contact(model, [loads])
    assert found.ended == "settled"
    answer, friction = found.response, model.contacts.friction
    push, drag = answer.reactions[:8, 2], answer.reactions[:8, :2]
    lift, slide = answer.displacements[:8, 2], answer.displacements[:8, :2]
    assert (push >= -1e-6).all()
    assert (lift >= -1e-12).all()
    assert np.abs(push * lift).max() <= 1e-9
    most = friction * push
    assert (np.linalg.norm(drag, axis=1) <= most * (1 + 1e-6) + 1e-6).all()
    for k in np.flatnonzero(found.sliding):
        assert drag[k] * np.linalg.norm(slide[k]) == pytest.approx(
            -most[k] * slide[k], abs=1e-6 * 1e3
        )
    assert (answer.axial[only] >= -1e-6).all()
    assert answer.reactions[:, :3].sum(axis=0) == pytest.approx(
        -forces[:, :3].sum(axis=0), abs=1e-5
    )
    rest, again = settled(model, loads, found)
    (same,) = solve(rest, [again])
    assert same.displacements[8:] == pytest.approx(answer.displacements[8:], rel=1e-6, abs=1e-9)
    assert buckle(rest, again)[0].factors[0] > 0.0


def test_scaling_the_load_scales_the_answer():
    model, loads = rod(0.5, [2.0, 3.0, 1.0, 4.0], 2.5)
    twice = Loads(2 * loads.forces)
    one, two = solve_contact(model, [loads, twice])
    assert two.response.displacements == pytest.approx(2 * one.response.displacements, rel=1e-9)


def test_ground_spring_beside_a_contact_is_refused():
    model, loads = rod(0.5, [2.0, 3.0, 1.0], 1.0)
    springs = np.zeros((3, 6))
    springs[0, 2] = 5.0
    with pytest.raises(ValueError, match="node of its own"):
        solve_contact(replace(model, springs=springs), [loads])
