"""Couplers inside members of the linear frame: exact beams, and the same frame cut there."""

from dataclasses import replace

import numpy as np
import pytest

from strutwright.frame import (
    Couplers,
    FrameModel,
    Loads,
    buckle,
    buckling,
    circular_tube,
    divide_loads,
    factor,
    internal_forces,
    respond,
    solve,
    subdivide,
    undivided,
)

LENGTH, LOAD = 3.0, 250.0
TUBE = circular_tube(0.03, 0.002, 70e9, 27e9)
BENT = 70e9 * float(TUBE.inertia_z[0])
"""E I, Nm2."""
HALF = np.array([0.0, 0.5, 1.0])


def beam(couplers, *, clamped, line, side=2):
    """Return the forces along a beam from -x to +x, and its deflection, under a line load."""
    fixed = np.zeros((2, 6), dtype=bool)
    fixed[:, :3] = True
    fixed[0, 3] = True
    fixed[:, 3:] |= clamped
    nodes = np.array([[0, 0, 0.0], [LENGTH, 0, 0]])
    model = FrameModel(nodes, np.array([[0, 1]]), TUBE, fixed=fixed, couplers=couplers)
    given = np.zeros((1, 2, 3))
    given[0, :, side] = line
    loads = Loads(line=given)
    (answer,) = solve(model, [loads])
    return internal_forces(model, loads, answer, HALF)


@pytest.mark.parametrize("side", [1, 2])
@pytest.mark.parametrize("ratio", [0.3, 2.0, 20.0])
def test_a_clamped_beam_keeps_less_moment_at_a_coupler_in_its_middle(ratio, side):
    """Half beam with no shear at its end: M (1 + EI/cL) = q L^2/24; moments at the ends grow."""
    spring = ratio * BENT / LENGTH
    inside = Couplers([0], 0.5, [np.inf, spring, spring], np.inf)
    along = beam(inside, clamped=True, line=-LOAD, side=side)
    moment = np.abs(along.forces[0, :, 4 if side == 2 else 5])
    middle = LOAD * LENGTH**2 / 24 / (1 + 1 / ratio)
    assert moment == pytest.approx(
        [LOAD * LENGTH**2 / 8 - middle, middle, LOAD * LENGTH**2 / 8 - middle]
    )
    kink = middle / spring
    sunk = LOAD * (LENGTH / 2) ** 4 / (8 * BENT) - middle * (LENGTH / 2) ** 2 / (2 * BENT)
    assert -along.deflection[0, 1, side] == pytest.approx(sunk)
    assert kink == pytest.approx(LOAD * LENGTH**3 / (24 * BENT) - middle * LENGTH / BENT)


@pytest.mark.parametrize("share", [0.25, 0.4, 0.7])
def test_a_hinged_beam_sinks_by_the_kink_of_its_coupler(share):
    """M at the coupler is that of statics; the kink M/c adds a triangle of height kink a b/L."""
    spring = 2.0 * BENT / LENGTH
    plain = beam(Couplers(), clamped=False, line=-LOAD)
    inside = Couplers([0], share, [np.inf, spring, spring], np.inf)
    along = beam(inside, clamped=False, line=-LOAD)
    assert along.forces == pytest.approx(plain.forces)
    at = LOAD * LENGTH**2 / 2 * share * (1 - share)
    more = at / spring * min(share, 1 - share) * LENGTH / 2
    sunk = plain.deflection[0, 1, 2] - along.deflection[0, 1, 2]
    assert sunk == pytest.approx(more)


def framed(rng, couplers):
    """Return a tripod of six beams with springs, arms and uneven loads, and its load case."""
    nodes = np.array([[0, 0, 0], [2, 0, 0.1], [1, 1.8, 0], [1, 0.7, 1.5], [0.4, 0.2, 2.2]])
    members = np.array([[0, 3], [1, 3], [3, 2], [3, 4], [4, 0], [2, 4]])
    fixed = np.zeros((5, 6), dtype=bool)
    fixed[:3] = True
    model = FrameModel(
        nodes, members, TUBE, fixed=fixed, couplers=couplers,
        end_rotation=rng.uniform(0.3, 3.0, (6, 2, 3)) * 1e4,
        end_axial=rng.uniform(1.0, 3.0, (6, 2)) * 1e6,
        offsets=rng.uniform(-0.05, 0.05, (6, 2, 3)),
        springs=np.where(fixed, 0.0, 1e3),
    )  # fmt: skip
    moves = np.zeros((5, 6))
    moves[1, :3] = [0.002, -0.001, -0.004]
    return model, Loads(
        forces=rng.normal(0, 300, (5, 6)) * ~fixed,
        line=rng.normal(0, 200, (6, 2, 3)),
        strain=rng.normal(0, 2e-4, 6),
        moves=moves,
    )


def test_members_with_couplers_inside_answer_like_members_cut_there():
    rng = np.random.default_rng(4)
    inside = Couplers(
        [0, 0, 2, 4, 5],
        [0.3, 0.75, 0.5, 0.2, 0.6],
        rng.uniform(0.2, 4.0, (5, 3)) * 1e4,
        [2e6, np.inf, 1e6, np.inf, 3e6],
    )
    model, loads = framed(rng, inside)
    cut = subdivide(model, 1)
    assert len(cut.parent) == len(model.members) + 5
    assert len(cut.model.couplers.members) == 0
    (whole,), (parts,) = solve(model, [loads]), solve(cut.model, [divide_loads(cut, loads)])
    n = len(model.nodes)
    assert whole.displacements == pytest.approx(parts.displacements[:n], rel=1e-9, abs=1e-12)
    assert whole.reactions == pytest.approx(parts.reactions[:n], rel=1e-9, abs=1e-6)
    first = np.searchsorted(cut.parent, np.arange(6))
    last = np.searchsorted(cut.parent, np.arange(6), side="right") - 1
    for end, rows in ((0, first), (1, last)):
        found, wanted = whole.end_forces[:, end], parts.end_forces[rows, end]
        assert found == pytest.approx(wanted, rel=1e-9, abs=1e-6)
    _same_along(model, loads, whole, cut, parts)


def _same_along(model, loads, whole, cut, parts):
    """Each piece, at its quarter points, against the same places of the member with couplers."""
    quarters = np.array([0.25, 0.5, 0.75])
    pieces = internal_forces(cut.model, divide_loads(cut, loads), parts, quarters)
    for k, member in enumerate(cut.parent):
        stations = cut.span[k, 0] + quarters * (cut.span[k, 1] - cut.span[k, 0])
        along = internal_forces(model, loads, whole, stations)
        assert along.forces[member] == pytest.approx(pieces.forces[k], rel=1e-9, abs=1e-6)
        assert along.deflection[member] == pytest.approx(pieces.deflection[k], rel=1e-8, abs=1e-11)


def test_a_bar_with_a_coupler_is_as_stiff_along_but_stays_whole():
    """Its coupler bends under its own load alone; cut there it would be a loose chain."""
    model = FrameModel(
        np.array([[0, 0, 0.0], [1, 0, 0], [0.5, 0, 1]]), np.array([[0, 2], [1, 2]]), TUBE,
        fixed=[[True] * 6, [True] * 6, [False, True, False, True, True, True]],
        truss=[True, True], couplers=Couplers([0], 0.5, 10.0, np.inf),
    )  # fmt: skip
    force = Loads(forces=[[0] * 6, [0] * 6, [0, 0, -1e3, 0, 0, 0]])
    (with_it,), (without,) = (
        solve(model, [force]),
        solve(replace(model, couplers=Couplers()), [force]),
    )
    assert with_it.displacements == pytest.approx(without.displacements)
    cut = subdivide(model, 3)
    assert len(cut.parent) == 2
    assert cut.model.couplers.members.tolist() == [0]
    assert undivided(model).parent.tolist() == [0, 1]


def test_what_bows_is_cut_at_its_couplers_before_it_is_searched_for_buckling():
    spring = 2.0 * BENT / LENGTH
    fixed = np.zeros((2, 6), dtype=bool)
    fixed[0, :4] = fixed[1, 1:4] = True
    model = FrameModel(
        np.array([[0, 0, 0.0], [LENGTH, 0, 0]]), np.array([[0, 1]]), TUBE, fixed=fixed,
        couplers=Couplers([0], 0.5, [np.inf, spring, spring], np.inf),
    )  # fmt: skip
    push = Loads(forces=[[0] * 6, [-1.0, 0, 0, 0, 0, 0]])
    found, _ = buckle(model, push, pieces=8, count=1)
    u = 1.0769  # u tan u = 2; recalled to four digits, checked: 1.0769 tan 1.0769 = 2.000
    euler = np.pi**2 * BENT / LENGTH**2
    assert found.factors[0] / euler == pytest.approx((2 * u / np.pi) ** 2, rel=1e-3)
    whole = factor(model)
    (answer,) = respond(whole, [push])
    with pytest.raises(ValueError, match="cut it there first"):
        buckling(whole, answer)


def test_couplers_that_resist_nothing_or_name_no_member_are_refused():
    nodes, members = np.array([[0, 0, 0.0], [1, 0, 0]]), np.array([[0, 1]])
    with pytest.raises(ValueError, match="insert_couplers"):
        FrameModel(nodes, members, TUBE, couplers=Couplers([0], 0.5, 0.0, np.inf))
    with pytest.raises(ValueError, match="unknown member"):
        FrameModel(nodes, members, TUBE, couplers=Couplers([1], 0.5, 1.0, np.inf))
    with pytest.raises(ValueError, match="two couplers at one place"):
        Couplers([0, 0], 0.5, 1.0, np.inf)
