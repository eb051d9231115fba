"""Exact answers of beam theory for the linear frame solver."""

import numpy as np
import pytest

from strutwright.frame import (
    Couplers,
    FrameModel,
    Loads,
    Sections,
    divide_loads,
    insert_couplers,
    internal_forces,
    over_node_length,
    solve,
    subdivide,
)

ONE = Sections(1e6, 1.0, 1.0, 1.0, 1.0, 1.0)
"""E I = 1, E A = 1e6: lengths and forces without units."""


def beam(nodes_x, *, held, springs=None, **more):
    """Beam along x; `held` maps node -> freedoms held; out of plane all held."""
    nodes = np.column_stack([nodes_x, np.zeros(len(nodes_x)), np.zeros(len(nodes_x))])
    fixed = np.zeros((len(nodes), 6), dtype=bool)
    fixed[:, [1, 3, 5]] = True
    for node, freedoms in held.items():
        fixed[node, freedoms] = True
    members = [(k, k + 1) for k in range(len(nodes) - 1)]
    more = more | ({"springs": springs} if springs is not None else {})
    return FrameModel(nodes, members, ONE, fixed=fixed, **more)


def down(count, node, force=1.0):
    forces = np.zeros((count, 6))
    forces[node, 2] = -force
    return Loads(forces)


@pytest.mark.parametrize(
    ("k", "value"), [(1, (1 / 24, 0.015625)), (10, (0.10416666666666667, 0.0078125))]
)
def test_semi_rigid_beam_under_a_centre_load(k, value):
    # M = PL/8/(1 + 2/k), d = PL3/48EI - ML2/8EI with end springs k EI/L; closed form
    turning = np.full((2, 2, 3), np.inf)
    turning[0, 0, 1] = turning[1, 1, 1] = k
    model = beam([0.0, 0.5, 1.0], held={0: [0, 2, 4], 2: [0, 2, 4]}, end_rotation=turning)
    (answer,) = solve(model, [down(3, 1)])
    assert answer.end_forces[0, 0, 4] == pytest.approx(-value[0], abs=1e-9)
    assert answer.displacements[1, 2] == pytest.approx(-value[1], abs=1e-9)


@pytest.mark.parametrize("k", [0.0, 0.3, 4.0, 1e6, np.inf])
def test_semi_rigid_beam_under_a_line_load(k):
    # clamped moment qL2/12, shared with springs k at both ends: M = qL2/12/(1 + 2EI/kL)
    turning = np.array([[[np.inf, k, np.inf]] * 2])
    model = beam([0.0, 2.0], held={0: [0, 2, 4], 1: [0, 2, 4]}, end_rotation=turning)
    (answer,) = solve(model, [Loads(line=[[0.0, 0.0, -3.0]])])
    moment = 0.0 if k == 0.0 else 1.0 / (1.0 + 2.0 / (k * 2.0))
    assert answer.end_forces[0, 0, 4] == pytest.approx(-moment, abs=1e-12)
    along = internal_forces(model, Loads(line=[[0.0, 0.0, -3.0]]), answer, np.array([0.5]))
    assert along.deflection[0, 0, 2] == pytest.approx(
        -(5 * 3 * 16 / 384 - moment * 4 / 8), rel=1e-9
    )


def test_spring_at_one_end_only():
    # clamped at one end, spring k at the other, slope-deflection
    # slope t of the sprung end: 4 EI t/L + k t = qL2/12
    q, k = 1.0, 2.0
    turning = np.array([[[np.inf, np.inf, np.inf], [np.inf, k, np.inf]]])
    model = beam([0.0, 1.0], held={0: [0, 2, 4], 1: [0, 2, 4]}, end_rotation=turning)
    (answer,) = solve(model, [Loads(line=[[0.0, 0.0, -q]])])
    slope = q / 12.0 / (4.0 + k)
    assert abs(answer.end_forces[0, 1, 4]) == pytest.approx(k * slope, rel=1e-10)
    assert abs(answer.end_forces[0, 0, 4]) == pytest.approx(q / 12.0 + 2.0 * slope, rel=1e-10)


def test_axial_spring_in_series():
    sliding = np.array([[3.0, 7.0]])
    model = beam([0.0, 2.0], held={0: [0, 2, 4], 1: [2, 4]}, end_axial=sliding)
    forces = np.zeros((2, 6))
    forces[1, 0] = 5.0
    (answer,) = solve(model, [Loads(forces)])
    assert answer.displacements[1, 0] == pytest.approx(5.0 * (1 / 3 + 1 / 7 + 2e-6), rel=1e-9)
    along = internal_forces(model, Loads(forces), answer, np.array([0.0, 1.0]))
    assert along.deflection[0, 0, 0] == pytest.approx(5.0 / 3.0, rel=1e-9)
    assert along.deflection[0, 1, 0] == pytest.approx(5.0 / 3.0 + 1e-5, rel=1e-9)


@pytest.mark.parametrize("shape", ["uniform", "rising"])
def test_cantilever_with_shear_deformation(shape):
    # tip: q L4/8EI + q L2/2GA uniform; q L4 11/120EI + q L2/3GA rising to the tip
    table = Sections(1e6, 1.0, 1.0, 1.0, 1.0, 0.4, 5.0, 5.0)
    fixed = np.array([[1] * 6, [0] * 6])
    model = FrameModel([[0, 0, 0], [0, 1.5, 0]], [[0, 1]], table, fixed=fixed)
    first = 1.0 if shape == "uniform" else 0.0
    load = Loads(line=[[[0.0, 0.0, -first], [0.0, 0.0, -1.0]]])
    (answer,) = solve(model, [load])
    bent, sheared = (1 / 8, 1 / 2) if shape == "uniform" else (11 / 120, 1 / 3)
    tip = bent * 1.5**4 + sheared * 1.5**2 / (0.4 * 5.0)
    assert answer.displacements[1, 2] == pytest.approx(-tip, rel=1e-12)
    along = internal_forces(model, load, answer, np.array([1.0]))
    assert along.deflection[0, 0, 2] == pytest.approx(-tip, rel=1e-12)


def test_clamped_beam_with_shear_and_rising_load_agrees_with_many_elements():
    table = Sections(1e6, 1.0, 2.0, 1.0, 1.0, 0.4, 3.0, 5.0)
    fixed = np.ones((2, 6), dtype=bool)
    load = Loads(line=[[[0.0, 1.0, -1.0], [0.0, 4.0, -3.0]]])
    model = FrameModel([[0, 0, 0], [1.5, 0, 0]], [[0, 1]], table, fixed=fixed)
    (one,) = solve(model, [load])
    cut = subdivide(model, 5)
    (many,) = solve(cut.model, [divide_loads(cut, load)])
    assert many.reactions[:2] == pytest.approx(one.reactions, abs=1e-9)
    middle = internal_forces(model, load, one, np.array([0.4]))
    assert many.displacements[3, :3] == pytest.approx(middle.deflection[0, 0], abs=1e-9)


def test_rigid_offsets_carry_the_moment_of_an_eccentric_force():
    # bar with both ends 0.1 above the nodes: N at the nodes bends it with N e
    arms = np.array([[[0.0, 0.0, 0.1], [0.0, 0.0, 0.1]]])
    model = beam([0.0, 1.0], held={0: [0, 2], 1: [2]}, offsets=arms)
    forces = np.zeros((2, 6))
    forces[1, 0] = 2.0
    (answer,) = solve(model, [Loads(forces)])
    assert np.abs(answer.end_forces[0, :, 4]) == pytest.approx([0.2, 0.2], rel=1e-12)
    # end rotation M L/2EI, so the node slides by N L/EA + 2 e t
    assert answer.displacements[1, 0] == pytest.approx(2e-6 + 2 * 0.1 * 0.2 / 2, rel=1e-9)
    along = internal_forces(model, Loads(forces), answer, np.array([0.5]))
    assert abs(along.deflection[0, 0, 2]) == pytest.approx(0.2 / 8, rel=1e-9)


def test_offsets_along_the_member_shorten_its_flexible_part():
    arms = np.array([[[0.2, 0.0, 0.0], [-0.3, 0.0, 0.0]]])
    model = beam([0.0, 1.5], held={0: [0, 2, 4], 1: [0, 2, 4]}, offsets=arms)
    line = over_node_length(model, np.array([[0.0, 0.0, -1.0]]))
    (answer,) = solve(model, [Loads(line=line)])
    assert answer.reactions[:, 2].sum() == pytest.approx(1.5, rel=1e-12)
    assert answer.end_forces[0, 0, 4] == pytest.approx(-1.5 / 12, rel=1e-12)


def test_thermal_strain_between_walls():
    model = beam([0.0, 1.0], held={0: [0, 2, 4], 1: [0, 2, 4]})
    (answer,) = solve(model, [Loads(strain=[1e-3])])
    assert answer.axial == pytest.approx([-1e3])
    free = beam([0.0, 1.0], held={0: [0, 2, 4]})
    (answer,) = solve(free, [Loads(strain=[1e-3])])
    assert answer.displacements[1, 0] == pytest.approx(1e-3)
    assert answer.axial == pytest.approx([0.0], abs=1e-9)


def test_settled_support():
    # clamped ends, one settles by d: M = 6 EI d/L2
    model = beam([0.0, 2.0], held={0: [0, 2, 4], 1: [0, 2, 4]})
    moves = np.zeros((2, 6))
    moves[1, 2] = -0.1
    (answer,) = solve(model, [Loads(moves=moves)])
    assert np.abs(answer.end_forces[0, :, 4]) == pytest.approx([0.15, 0.15])
    assert np.abs(answer.reactions[:, 2]) == pytest.approx([0.15, 0.15])


def test_coupler_of_a_given_stiffness_inside_a_clamped_beam():
    # hinge at mid-span: two cantilevers of L/2 take P/2 each: (P/2)(L/2)3/3EI = PL3/48EI
    model = beam([0.0, 1.0], held={0: [0, 2, 4], 1: [0, 2, 4]})
    cut = insert_couplers(model, Couplers([0], 0.5, [np.inf, 0.0, np.inf], np.inf))
    (answer,) = solve(cut.model, [down(3, 2)])
    assert answer.displacements[2, 2] == pytest.approx(-1 / 48, rel=1e-9)
    # spring k: its moment M closes the kink of the hinge, M/k = PL2/8EI - ML/EI
    k = 3.0
    cut = insert_couplers(model, Couplers([0], 0.5, [np.inf, k, np.inf], np.inf))
    (answer,) = solve(cut.model, [down(3, 2)])
    moment = (1 / 8) / (1.0 + 1.0 / k)
    assert abs(answer.end_forces[0, 1, 4]) == pytest.approx(moment, rel=1e-9)


def test_portal_sway():
    # fixed feet, same EI and height = span = 1, side load H at the beam: leg foot moment
    # 2H h/7, leg top 3H h/14, drift 5 H h3/84 EI (slope-deflection, inextensible)
    nodes = [[0, 0, 0], [0, 0, 1], [1, 0, 1], [1, 0, 0]]
    fixed = np.zeros((4, 6), dtype=bool)
    fixed[:, [1, 3, 5]] = True
    fixed[[0, 3]] = True
    model = FrameModel(nodes, [[0, 1], [1, 2], [2, 3]], ONE, fixed=fixed)
    forces = np.zeros((4, 6))
    forces[[1, 2], 0] = 0.5
    (answer,) = solve(model, [Loads(forces)])
    assert answer.displacements[1, 0] == pytest.approx(5 / 84, rel=1e-4)
    assert abs(answer.reactions[0, 4]) == pytest.approx(2 / 7, rel=1e-4)
