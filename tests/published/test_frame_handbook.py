"""Twelve more handbook cases through the public names of the frame, all recalled from memory.

Formulas by Timoshenko and Gere, Theory of Elastic Stability (1961), Roark, and Gere and
Timoshenko, Mechanics of Materials.
"""

import numpy as np
import pytest
from scipy.optimize import brentq

from strutwright.frame import (
    Couplers,
    FrameModel,
    Loads,
    PathSettings,
    Sections,
    buckle,
    divide_loads,
    insert_couplers,
    internal_forces,
    solve,
    subdivide,
    trace,
)

EI, STIFF = 1.0, 1e6
BAR = Sections(STIFF, EI, EI, 1.5, 1.0, 1.0)
"""E I = 1, E A = 1e6, G J = 1.5: axial give is below what the tests look at."""


def straight(count, length=1.0):
    """Return nodes and members of a row along x, held in the plane xz."""
    nodes = np.column_stack([np.linspace(0.0, length, count), *np.zeros((2, count))])
    pairs = np.column_stack([np.arange(count - 1), np.arange(1, count)])
    fixed = np.zeros((count, 6), dtype=bool)
    fixed[:, [1, 3, 5]] = True
    return nodes, pairs, fixed


def force(count, node, freedom, value):
    forces = np.zeros((count, 6))
    forces[node, freedom] = value
    return forces


@pytest.mark.parametrize("share", [0.2, 0.5, 0.7])
def test_point_load_in_a_clamped_beam(share):
    """Moments at the ends P a b2/L2 and P a2 b/L2: the member is cut stiffly, the node loaded."""
    nodes, pairs, fixed = straight(2, 3.0)
    fixed[:] = True
    model = FrameModel(nodes, pairs, BAR, fixed=fixed)
    cut = insert_couplers(model, Couplers([0], share, np.inf, np.inf))
    (answer,) = solve(cut.model, [Loads(force(3, 2, 2, -7.0))])
    a, b = 3.0 * share, 3.0 * (1 - share)
    assert np.abs(answer.reactions[:2, 4]) == pytest.approx([7 * a * b**2 / 9, 7 * a**2 * b / 9])


def test_propped_cantilever_under_a_triangle():
    """Load q at the clamped end, nothing at the prop: M = q L2/15, the prop takes q L/10."""
    nodes, pairs, fixed = straight(2, 2.0)
    fixed[0], fixed[1, 2] = True, True
    model = FrameModel(nodes, pairs, BAR, fixed=fixed)
    (answer,) = solve(model, [Loads(line=[[[0, 0, -5.0], [0, 0, 0]]])])
    assert abs(answer.reactions[0, 4]) == pytest.approx(5 * 4 / 15)
    assert answer.reactions[1, 2] == pytest.approx(5 * 2 / 10)


def test_three_equal_spans():
    """q L: 0.4 and 1.1 on the supports, -0.1 q L2 over the inner ones, 0.08 in the outer span."""
    nodes, pairs, fixed = straight(4, 3.0)
    fixed[:, 2], fixed[0, 0] = True, True
    model = FrameModel(nodes, pairs, BAR, fixed=fixed)
    loads = Loads(line=np.tile([0.0, 0.0, -1.0], (3, 1)))
    (answer,) = solve(model, [loads])
    assert answer.reactions[:, 2] == pytest.approx([0.4, 1.1, 1.1, 0.4])
    along = internal_forces(model, loads, answer, np.array([0.0, 0.4, 1.0]))
    assert np.abs(along.forces[0, :, 4]) == pytest.approx([0.0, 0.08, 0.1], abs=1e-9)


def test_wall_bracket_of_two_bars():
    """3-4-5: under P at the tip, 4 P/3 pulls the level bar and 5 P/3 pushes the other."""
    nodes = np.array([[0, 0, 0.0], [0, 0, -3.0], [4.0, 0, 0]])
    fixed = np.ones((3, 6), dtype=bool)
    fixed[2, [0, 2]] = False
    model = FrameModel(nodes, [[0, 2], [1, 2]], BAR, truss=True, fixed=fixed)
    (answer,) = solve(model, [Loads(force(3, 2, 2, -3.0))])
    assert answer.axial == pytest.approx([4.0, -5.0])
    # unit load: sum of N n L/EA = (16 P/9 4 + 25 P/9 5)/EA
    assert -answer.displacements[2, 2] == pytest.approx((64 / 9 + 125 / 9) * 3.0 / STIFF)


def test_three_hinged_polygon_takes_its_loads_without_bending():
    """Equal loads at equal steps on a parabola: H = M0/f, no moment anywhere."""
    x = np.linspace(-4.0, 4.0, 9)
    nodes = np.column_stack([x, 0 * x, 2.0 * (1 - x**2 / 16)])
    pairs = np.column_stack([np.arange(8), np.arange(1, 9)])
    fixed = np.zeros((9, 6), dtype=bool)
    fixed[:, [1, 3, 5]] = True
    fixed[[0, 8], :3] = True
    hinge = np.full((8, 2, 3), np.inf)
    hinge[3, 1, 1] = 0.0
    model = FrameModel(nodes, pairs, BAR, fixed=fixed, end_rotation=hinge)
    forces = np.zeros((9, 6))
    forces[1:8, 2] = -1.0
    (answer,) = solve(model, [Loads(forces)])
    thrust = (3.5 * 4 - (1 + 2 + 3)) / 2.0
    assert answer.reactions[0, 0] == pytest.approx(thrust)
    assert np.abs(answer.end_forces[..., 4]).max() < 1e-6


def test_crossing_beams_share_by_the_cube_of_their_lengths():
    nodes = np.array([[-1, 0, 0.0], [1, 0, 0], [0, -1.5, 0], [0, 1.5, 0], [0, 0, 0]])
    fixed = np.zeros((5, 6), dtype=bool)
    fixed[:4, :3] = True
    fixed[4, 5] = True
    model = FrameModel(nodes, [[0, 4], [4, 1], [2, 4], [4, 3]], BAR, fixed=fixed)
    (answer,) = solve(model, [Loads(force(5, 4, 2, -1.0))])
    short = 27 / (27 + 8)
    assert answer.reactions[:4, 2] == pytest.approx(
        [short / 2, short / 2, (1 - short) / 2, (1 - short) / 2], rel=1e-6
    )


def test_bent_bar_twists_its_clamped_arm():
    """Load across the plane at the tip: P (a3 + b3)/(3 EI) + P a b2/GJ."""
    nodes = np.array([[0, 0, 0.0], [2, 0, 0], [2, 1.2, 0]])
    fixed = np.zeros((3, 6), dtype=bool)
    fixed[0] = True
    model = FrameModel(nodes, [[0, 1], [1, 2]], BAR, fixed=fixed)
    (answer,) = solve(model, [Loads(force(3, 2, 2, -1.0))])
    sunk = (8 + 1.2**3) / 3 + 2 * 1.2**2 / 1.5
    assert -answer.displacements[2, 2] == pytest.approx(sunk)


def test_prop_that_settles_bends_the_clamped_end():
    """M = 3 EI d/L2."""
    nodes, pairs, fixed = straight(2, 2.0)
    fixed[0], fixed[1, 2] = True, True
    moves = force(2, 1, 2, -0.01)
    (answer,) = solve(FrameModel(nodes, pairs, BAR, fixed=fixed), [Loads(moves=moves)])
    assert abs(answer.reactions[0, 4]) == pytest.approx(3 * 0.01 / 4)


@pytest.mark.parametrize("spring", [0.5, 3.0, 40.0])
def test_column_on_a_rotational_spring(spring):
    """Held against sway, hinged at the top: tan u = u/(1 + u2 EI/(c L))."""
    nodes, pairs, fixed = straight(2)
    fixed[0, :3], fixed[1, 2] = True, True
    springs = np.zeros((2, 6))
    springs[0, 4] = spring
    model = FrameModel(nodes, pairs, BAR, fixed=fixed, springs=springs)
    found, _ = buckle(model, Loads(force(2, 1, 0, -1.0)), pieces=8, count=1)
    u = brentq(
        lambda v: np.sin(v) * (1 + v * v / spring) - v * np.cos(v), np.pi + 1e-9, 1.4303 * np.pi
    )
    assert found.factors[0] == pytest.approx(u * u, rel=2e-4)


def test_stepped_column():
    """Clamped, free at the top, lower part twice as stiff: tan k1 l1 tan k2 l2 = k1/k2."""
    nodes, pairs, fixed = straight(3)
    nodes[1, 0] = 0.4
    fixed[0] = True
    table = Sections(STIFF, [2.0, 1.0], [2.0, 1.0], 1.0, 1.0, 1.0)
    model = FrameModel(nodes, pairs, table, fixed=fixed)
    found, _ = buckle(model, Loads(force(3, 2, 0, -1.0)), pieces=8, count=1)

    def missing(load):
        lower, upper = np.sqrt(load / 2.0), np.sqrt(load)
        return np.tan(upper * 0.6) * np.tan(lower * 0.4) - upper / lower

    assert found.factors[0] == pytest.approx(brentq(missing, 1.0, 5.0), rel=2e-4)


def test_pulled_beam_sinks_less():
    """Load q, pull S: 5 q L4/(384 EI) (24/(5 u4)) (1/cosh u - 1 + u2/2), u2 = S L2/(4 EI)."""
    nodes, pairs, fixed = straight(2)
    fixed[0, :3], fixed[1, 2] = True, True
    cut = subdivide(FrameModel(nodes, pairs, BAR, fixed=fixed), 8)
    pull = divide_loads(cut, Loads(force(2, 1, 0, 12.0)))
    across = divide_loads(cut, Loads(line=[[0.0, 0.0, -0.01]]))
    middle = int(np.argmin(np.abs(cut.model.nodes[:, 0] - 0.5)))
    path = trace(cut.model, across, PathSettings(first=1.0), constant=pull, watch=(middle, 2))
    u = np.sqrt(12.0 / 4)
    less = 24 / (5 * u**4) * (1 / np.cosh(u) - 1 + u**2 / 2)
    assert -path.watched[-1] == pytest.approx(5 * 0.01 / 384 * less, rel=2e-4)


def test_shallow_bars_on_a_side_spring_snap_sooner():
    """Flat bars of rise z snap at 2 k z3/(3 sqrt 3 L2), with k = EA/L.

    A foot on a spring c along x stands in series with both: k = 1/(L/EA + 1/(2 c)).
    """
    rise, half, spring = 0.02, 1.0, 5e5
    nodes = np.array([[-half, 0, 0], [0, 0, rise], [half, 0, 0]])
    fixed = np.zeros((3, 6), dtype=bool)
    fixed[:, [1, 3, 4, 5]] = True
    fixed[[0, 2], 2], fixed[0, 0] = True, True
    springs = np.zeros((3, 6))
    springs[2, 0] = spring
    found = []
    for k in (spring, 1e12):
        springs[2, 0] = k
        model = FrameModel(nodes, [[0, 1], [1, 2]], BAR, truss=True, fixed=fixed, springs=springs)
        path = trace(model, Loads(force(3, 1, 2, -1.0)), PathSettings(target=100.0))
        found.append(path.limit_load_factor)
    each = 1 / (half / STIFF + 1 / (2 * spring))
    exact = 2 * each * rise**3 / (3 * np.sqrt(3) * half**2)
    assert found[0] == pytest.approx(exact, rel=2e-3)
    assert found[1] / found[0] == pytest.approx((STIFF / half) / each, rel=2e-3)
