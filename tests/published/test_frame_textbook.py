"""Linear frames against handbook formulas, all recalled from memory."""

from dataclasses import replace

import numpy as np
import pytest

from strutwright.frame import Contacts, FrameModel, Loads, buckle, combine, solve, solve_contact

from .frames import IN, chain, cut, flat, forces, plain

SPAN, HEIGHT, LINE = 6.0, 4.0, 3.0


@pytest.mark.parametrize("base", ["hinged", "clamped"])
def test_portal_under_a_line_load(base):
    # Kleinlogel, frame 1 and 41: k = h/L for one section throughout
    held = {0: IN, 3: IN} if base == "clamped" else {0: (0, 2), 3: (0, 2)}
    nodes = [[0, 0], [0, HEIGHT], [SPAN, HEIGHT], [SPAN, 0]]
    model = flat(nodes, chain(4), held)
    (found,) = solve(model, [Loads(line=[[0, 0, 0], [0, 0, -LINE], [0, 0, 0]])])
    k = HEIGHT / SPAN
    if base == "clamped":
        corner, foot = LINE * SPAN**2 / (6 * (k + 2)), LINE * SPAN**2 / (12 * (k + 2))
    else:
        corner, foot = LINE * SPAN**2 / (4 * (2 * k + 3)), 0.0
    assert abs(found.end_forces[1, 0, 4]) == pytest.approx(corner, rel=1e-4)
    assert abs(found.reactions[0, 4]) == pytest.approx(foot, rel=1e-3, abs=1e-9)
    assert found.reactions[0, 0] == pytest.approx((corner + foot) / HEIGHT, rel=1e-4)


def test_clamped_portal_under_a_side_load():
    # Kleinlogel, frame 41: side load P at the corner: M at the foot P h (3k+1)/(2 (6k+1))
    model = flat([[0, 0], [0, HEIGHT], [SPAN, HEIGHT], [SPAN, 0]], chain(4), {0: IN, 3: IN})
    (found,) = solve(model, [forces(4, (1, 0, 10.0))])
    k = HEIGHT / SPAN
    foot = 10.0 * HEIGHT * (3 * k + 1) / (2 * (6 * k + 1))
    assert abs(found.reactions[0, 4]) == pytest.approx(foot, rel=1e-4)


def test_middle_support_of_two_spans_sinks():
    # force 48 EI d/(2L)3 and moment 3 EI d/L2 over the support
    model = flat([[0, 0], [2, 0], [4, 0]], chain(3), {0: (0, 2), 1: (2,), 2: (2,)})
    moves = np.zeros((3, 6))
    moves[1, 2] = -0.01
    (found,) = solve(model, [Loads(moves=moves)])
    assert found.reactions[1, 2] == pytest.approx(-48 * 0.01 / 4**3)
    assert abs(found.end_forces[0, 1, 4]) == pytest.approx(3 * 0.01 / 2**2)


def test_beam_on_an_elastic_bed():
    # Hetenyi: long beam, k per metre, b = (k/4EI)**(1/4): sag P b/(2k), moment P/(4b)
    x = np.linspace(-20, 20, 801)
    k, step = 0.8, x[1] - x[0]
    springs = np.zeros((len(x), 6))
    springs[:, 2] = k * step
    model = flat(np.column_stack([x, 0 * x]), chain(len(x)), {0: (0,)}, springs=springs)
    (found,) = solve(model, [forces(len(x), (400, 2, -5.0))])
    b = (k / 4) ** 0.25
    assert -found.displacements[400, 2] == pytest.approx(5 * b / (2 * k), rel=2e-3)
    assert abs(found.end_forces[399, 1, 4]) == pytest.approx(5 / (4 * b), rel=2e-3)


def test_ring_pressed_at_two_points():
    # Roark: shortening (pi/4 - 2/pi) P R3/EI = 0.1488, widening (2/pi - 1/2) = 0.1366
    turn = np.linspace(0, np.pi / 2, 65)
    nodes = 2.0 * np.column_stack([np.sin(turn), np.cos(turn)])
    model = flat(nodes, chain(65), {0: (0, 4), 64: (2, 4)})
    (found,) = solve(model, [forces(65, (0, 2, -0.5))])
    assert -2 * found.displacements[0, 2] == pytest.approx(0.1488 * 8, rel=2e-3)
    assert 2 * found.displacements[64, 0] == pytest.approx(0.1366 * 8, rel=2e-3)


def test_quarter_bow_clamped_at_one_end():
    # force P across the plane of a quarter circle, at its free end (Castigliano):
    # P R3 (pi/(4 EI) + (3 pi/4 - 2)/GJ)
    turn = np.linspace(0, np.pi / 2, 65)
    nodes = 3.0 * np.column_stack([np.cos(turn), np.sin(turn), 0 * turn])
    fixed = np.zeros((65, 6), dtype=bool)
    fixed[0] = True
    model = FrameModel(nodes, chain(65), plain(inertia=2.0, torsion=1.5), fixed=fixed)
    (found,) = solve(model, [forces(65, (64, 2, -7.0))])
    exact = 7.0 * 27 * (np.pi / (4 * 2.0) + (3 * np.pi / 4 - 2) / 1.5)
    assert -found.displacements[64, 2] == pytest.approx(exact, rel=1e-3)


def test_three_bars_heated_and_pressed():
    # Timoshenko: middle bar L, sides at 60 degrees from it, equal EA: under P the middle takes
    # P/(1 + 2 cos3 a); heating the middle alone by e gives it -EA e 2 cos3 a/(1 + 2 cos3 a)
    a = np.radians(40)
    nodes = [[0, 0], [0, 1], [-np.tan(a), 1], [np.tan(a), 1]]
    held = {k: (0, 2, 4) for k in (1, 2, 3)}
    model = flat(nodes, [[0, 1], [0, 2], [0, 3]], held, plain(area=100.0), truss=True)
    strain = np.array([1e-3, 0, 0])
    loaded, heated = solve(model, [forces(4, (0, 2, -9.0)), Loads(strain=strain)])
    c = np.cos(a) ** 3
    assert loaded.axial[0] == pytest.approx(9 / (1 + 2 * c))
    assert loaded.axial[1] == pytest.approx(9 * np.cos(a) ** 2 / (1 + 2 * c))
    assert heated.axial[0] == pytest.approx(-0.1 * 2 * c / (1 + 2 * c))


def test_tripod():
    # statics: three bars from the corners of a level triangle, load at the top
    turn = np.radians([0, 120, 240])
    feet = 2.0 * np.column_stack([np.cos(turn), np.sin(turn), 0 * turn])
    fixed = np.zeros((4, 6), dtype=bool)
    fixed[:3] = True
    model = FrameModel(
        [*feet, [0, 0, 3.0]], [[0, 3], [1, 3], [2, 3]], plain(area=50.0), truss=True, fixed=fixed
    )
    down, side = solve(model, [forces(4, (3, 2, -6.0)), forces(4, (3, 0, 6.0))])
    length = np.hypot(2, 3)
    assert down.axial == pytest.approx(np.full(3, -2.0 * length / 3))
    assert side.axial == pytest.approx([-2 * length, length, length])  # 6 = 1.5 x 2/len x N
    assert -down.displacements[3, 2] == pytest.approx(2.0 * length / 3 * (length / 50) * length / 3)


def test_semi_rigid_portal_that_sways():
    # posts clamped, beam on springs k: slope deflection by hand, beam end 6 EI/L / (1 + 6 EI/kL)
    k, height, span, push = 2.5, 3.0, 5.0, 1.0
    springs = np.full((3, 2, 3), np.inf)
    springs[1, :, 1] = k
    nodes = [[0, 0], [0, height], [span, height], [span, 0]]
    model = flat(nodes, chain(4), {0: IN, 3: IN}, end_rotation=springs)
    (found,) = solve(model, [forces(4, (1, 0, push))])
    beam = (6 / span) / (1 + 6 / (span * k))
    # turn t and sway s of each corner: (4/h + beam) t = 6/h2 s; 2 (12/h3 s - 6/h2 t) = push
    matrix = [[4 / height + beam, -6 / height**2], [-12 / height**2, 24 / height**3]]
    t, s = np.linalg.solve(matrix, [0, push])
    assert found.displacements[1, 0] == pytest.approx(s, rel=1e-4)
    assert found.displacements[1, 4] == pytest.approx(t, rel=1e-4)


def test_beam_that_lifts_off_a_side_support():
    # three supports that push only, spans 2 and 1, load on the long side alone: the short end
    # lifts; then each of the other two takes its share of a simple beam
    model = flat([[0, 0], [1, 0], [2, 0], [3, 0]], chain(4), {0: (0,)})
    model = replace(model, contacts=Contacts(nodes=[0, 2, 3]))
    (found,) = solve_contact(model, [forces(4, (1, 2, -8.0))])
    assert found.ended == "settled"
    assert found.response.reactions[[0, 2, 3], 2] == pytest.approx([4, 4, 0], abs=1e-9)


def test_superposed_cases_equal_the_sum():
    model = flat([[0, 0], [2, 0], [4, 0]], chain(3), {0: IN, 2: (2,)})
    one, two = forces(3, (1, 2, -1.0)), forces(3, (2, 0, 3.0))
    a, b, both = solve(model, [one, two, combine([one, two], [1.35, 1.5])])
    assert both.displacements == pytest.approx(1.35 * a.displacements + 1.5 * b.displacements)


@pytest.mark.parametrize(
    ("held", "factor"),
    [
        ({0: IN, 1: ()}, np.pi**2 / 4),
        ({0: (0, 2), 1: (2,)}, np.pi**2),
        ({0: IN, 1: (2,)}, 20.1907),
        ({0: IN, 1: (2, 4)}, 4 * np.pi**2),
        ({0: IN, 1: (4,)}, np.pi**2),
    ],
)
def test_euler_cases(held, factor):
    model = flat([[0, 0], [1, 0]], [[0, 1]], held)
    found, _ = buckle(model, forces(2, (1, 0, -1.0)), pieces=16)
    assert found.factors[0] == pytest.approx(factor, rel=1e-4)


def test_column_under_its_own_weight():
    # Greenhill: q L3/EI = 7.837
    model = flat([[0, 0], [0, 1]], [[0, 1]], {0: IN})
    found, _ = buckle(model, Loads(line=[[0, 0, -1.0]]), pieces=32)
    assert found.factors[0] == pytest.approx(7.837, rel=1e-3)


@pytest.mark.parametrize("bed", [50.0, 600.0, 3000.0])
def test_column_on_an_elastic_bed(bed):
    # Timoshenko and Gere: least of n2 pi2 + bed/(n2 pi2) over whole n, for EI = L = 1
    nodes = np.column_stack([np.linspace(0, 1, 65), np.zeros(65)])
    springs = np.zeros((65, 6))
    springs[1:-1, 2] = bed / 64
    model = flat(nodes, chain(65), {0: (0, 2), 64: (2,)}, springs=springs)
    found, _ = buckle(model, forces(65, (64, 0, -1.0)), pieces=1)
    n = np.arange(1, 6) * np.pi
    assert found.factors[0] == pytest.approx((n**2 + bed / n**2).min(), rel=1e-3)


def test_prop_that_is_stiff_enough_halves_the_column():
    # Timoshenko and Gere: a spring of 16 pi2 EI/L3 at the middle forces two half waves
    springs = np.zeros((3, 6))
    springs[1, 2] = 16 * np.pi**2 * 1.001
    model = flat([[0, 0], [0.5, 0], [1, 0]], chain(3), {0: (0, 2), 2: (2,)}, springs=springs)
    found, _ = buckle(model, forces(3, (2, 0, -1.0)), pieces=12)
    assert found.factors[0] == pytest.approx(4 * np.pi**2, rel=1e-3)


@pytest.mark.parametrize(("held", "factor"), [((0, 2), 1.821), (IN, 7.379)])
def test_portal_that_sways_under_two_loads(held, factor):
    # equal posts and beam; u tan u = 6 for hinged feet, u cot u = -6 for clamped ones
    model = flat([[0, 0], [0, 1], [1, 1], [1, 0]], chain(4), {0: held, 3: held})
    loads = forces(4, (1, 2, -1.0), (2, 2, -1.0))
    found, _ = buckle(model, loads, pieces=8)
    assert found.factors[0] == pytest.approx(factor, abs=6e-4)


def test_heat_between_walls_buckles():
    # strain 4 pi2 I/(A L2), clamped
    table = plain(area=400.0, inertia=0.02)
    model = flat([[0, 0], [3.0, 0]], [[0, 1]], {0: IN, 1: IN}, table)
    found, _ = buckle(model, Loads(strain=[1e-5]), pieces=16)
    assert found.factors[0] * 1e-5 == pytest.approx(4 * np.pi**2 * 0.02 / 400 / 9, rel=1e-4)


@pytest.mark.parametrize("pull", [5.0, -5.0])
def test_constant_load_is_kept_apart_from_the_growing_one(pull):
    model = flat([[0, 0], [1, 0]], [[0, 1]], {0: (0, 2), 1: (2,)})
    grows, stays = forces(2, (1, 0, -2.0)), forces(2, (1, 0, pull))
    for pieces in (8, 40):  # few freedoms and many are solved by different means
        found, _ = buckle(model, grows, constant=stays, pieces=pieces)
        assert found.factors[0] == pytest.approx((np.pi**2 + pull) / 2, rel=1e-4)


def test_constant_load_that_buckles_by_itself():
    model = flat([[0, 0], [1, 0]], [[0, 1]], {0: (0, 2), 1: (2,)})
    load = forces(2, (1, 0, -1.0))
    found, _ = buckle(model, load, constant=combine([load], [10.0]), pieces=8)
    assert found.ended == "constant load"
    assert len(found.factors) == 0


def test_heated_prop_with_a_weight_on_it():
    # the weight stays, heat grows: what the weight leaves of the Euler load
    table = plain(area=100.0)
    model = flat([[0, 0], [1, 0]], [[0, 1]], {0: IN, 1: IN}, table)
    weight = Loads(strain=[0.1])
    found, _ = buckle(model, Loads(strain=[0.01]), constant=weight, pieces=24)
    assert found.factors[0] == pytest.approx((4 * np.pi**2 - 10.0) / 1.0, rel=1e-4)


def test_cut_pieces_keep_the_sag():
    model = flat([[0, 0], [2, 0]], [[0, 1]], {0: (0, 2), 1: (2,)})
    fine, loads = cut(model, Loads(line=[[0, 0, -1.0]]), 2)
    (found,) = solve(fine, [loads])
    assert -found.displacements[2, 2] == pytest.approx(5 * 2**4 / 384)
