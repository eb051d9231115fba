"""Large displacement, snap-through and giving: known frames, all recalled from memory."""

import numpy as np
import pytest
from scipy.optimize import brentq

from strutwright.frame import FrameModel, Loads, PathSettings, Sections, imperfect, solve, trace

from .frames import IN, chain, cut, flat, forces, plain


def test_lee_frame():
    # Lee, Manuel and Rossow 1968: legs of 120, A 6, I 2, E 720, load 24 from the corner:
    # first limit 18.55 EI/L2 = 1.855
    table = Sections(6.0, 2.0, 2.0, 2.0, 720.0, 300.0)
    nodes = [[0, 0], [0, 120], [24, 120], [120, 120]]
    model, load = cut(
        flat(nodes, chain(4), {0: (0, 2), 3: (0, 2)}, table), forces(4, (2, 2, -1.0)), 8
    )
    path = trace(model, load, PathSettings(target=4.0, first=0.05))
    assert path.ended == "limit point"
    assert path.limit_load_factor == pytest.approx(18.55 * 1440 / 120**2, rel=0.01)


def test_deep_arch_clamped_and_hinged():
    # DaDeppo and Schmidt 1975: R 100, 215 degrees, EI 1e6, load at the crown: 8.97 EI/R2
    turn = np.radians(np.linspace(-107.5, 107.5, 41))
    nodes = 100.0 * np.column_stack([np.sin(turn), np.cos(turn)])
    table = plain(area=1e8 / 1e6, inertia=1.0, modulus=1e6)
    model = flat(nodes, chain(41), {0: IN, 40: (0, 2)}, table)
    settings = PathSettings(target=1500.0, first=0.05, growth=2.0, steps=400)
    path = trace(model, forces(41, (20, 2, -1.0)), settings)
    assert path.ended == "limit point"
    assert path.limit_load_factor == pytest.approx(897.0, rel=0.005)


@pytest.mark.parametrize(
    ("load", "tip"), [(300.0, (22.33, 58.84, 40.08)), (600.0, (15.79, 47.23, 53.37))]
)
def test_bow_of_45_degrees_bent_across_its_plane(load, tip):
    # Bathe and Bolourchi 1979, answers of Simo and Vu-Quoc 1986: R 100, 1 x 1, E 1e7, no
    # Poisson's ratio; position of the tip
    turn = np.radians(np.linspace(0, 45, 9))
    nodes = 100.0 * np.column_stack([1 - np.cos(turn), np.sin(turn), 0 * turn])
    fixed = np.zeros((9, 6), dtype=bool)
    fixed[0] = True
    table = Sections(1.0, 1 / 12, 1 / 12, 1 / 6, 1e7, 5e6)
    path = trace(FrameModel(nodes, chain(9), table, fixed=fixed), forces(9, (8, 2, load)))
    assert path.ended == "target"
    at = nodes[8] + path.displacements[8, :3]
    assert at == pytest.approx(tip, abs=0.35)  # published answers differ by 0.3


def test_moment_rolls_a_cantilever_into_a_full_circle():
    fixed = np.zeros((2, 6), dtype=bool)
    fixed[0] = True
    table = Sections(1e4, 100.0, 100.0, 100.0, 1.0, 1.0)
    model = FrameModel([[0, 0, 0], [10.0, 0, 0]], [[0, 1]], table, fixed=fixed)
    fine, load = cut(model, forces(2, (1, 4, 2 * np.pi * 10)), 20)
    path = trace(fine, load, PathSettings(stop="target", steps=400, move=0.02))
    assert path.ended == "target"
    tip = fine.nodes[1] + path.displacements[1, :3]
    assert tip == pytest.approx([0, 0, 0], abs=0.05)


@pytest.mark.parametrize(
    ("over", "high", "aside"),
    [(1.063, 0.881, 0.422), (1.152, 0.741, 0.593), (1.518, 0.349, 0.792)],
)
def test_column_past_its_euler_load(over, high, aside):
    # Timoshenko and Gere, table of the elastica: P/Pcr, height and side of the free end
    nodes = np.column_stack([np.zeros(33), np.linspace(0, 1, 33)])
    model = flat(nodes, chain(33), {0: IN})
    sway = 1 - np.cos(np.pi / 2 * nodes[:, 1])
    bent = imperfect(model, np.column_stack([sway, 0 * sway, 0 * sway]), 1e-5)
    load = forces(33, (32, 2, -(np.pi**2) / 4 * over))
    path = trace(bent, load, PathSettings(first=0.02, steps=400, move=0.02))
    assert path.ended == "target"
    assert 1 + path.displacements[32, 2] == pytest.approx(high, abs=0.002)
    assert path.displacements[32, 0] == pytest.approx(aside, abs=0.002)


def test_narrow_cantilever_falls_over_sideways():
    # Timoshenko and Gere: 4.013 sqrt(EI GJ)/L2 for a load at the axis of the free end
    fixed = np.zeros((2, 6), dtype=bool)
    fixed[0] = True
    table = Sections(1e5, 1e5, 1.0, 0.8, 1.0, 1.0)  # stiff about y, the load along z
    model = FrameModel([[0, 0, 0], [2.0, 0, 0]], [[0, 1]], table, fixed=fixed)
    fine, load = cut(model, forces(2, (1, 2, -1.0)), 24)
    path = trace(fine, load, PathSettings(target=3.0))
    assert path.ended == "bifurcation"
    assert path.limit_load_factor == pytest.approx(4.013 * np.sqrt(0.8) / 4, rel=2e-3)


def test_spring_on_a_rigid_post():
    # a hinged rigid post on a turning spring: P = k t/(L sin t), k/L at the start
    springs = np.zeros((2, 6))
    springs[0, 4] = 3.0
    table = plain(area=1e7, inertia=1e5)
    model = flat([[0, 0], [0, 2]], [[0, 1]], {0: (0, 2)}, table, springs=springs)
    bent = imperfect(model, [[0, 0, 0], [1, 0, 0]], 1e-4)
    path = trace(bent, forces(2, (1, 2, -1.9)), PathSettings(first=0.02, move=0.02, steps=400))
    assert path.ended == "target"
    t = np.arctan2(path.displacements[1, 0] + 1e-4, 2 + path.displacements[1, 2])
    assert pytest.approx(3.0 * t / (2 * np.sin(t)), rel=1e-3) == 1.9


def heated_bars(heat):
    """Two bars of EA 1e6, 10 across and 0.5 up, and the limit load where heat stays on."""
    length = np.hypot(10, 0.5)
    c0 = 10 / length
    t = np.arccos(np.cbrt(c0 / (1 + heat)))
    exact = 2e6 * np.sin(t) * (1 + heat - c0 / np.cos(t))
    model = flat([[-10, 0], [0, 0.5], [10, 0]], chain(3), {0: (0, 2), 2: (0, 2)},
                 Sections(1e3, 1.0, 1.0, 1.0, 1e3, 1.0), truss=True)  # fmt: skip
    return model, length, exact


@pytest.mark.parametrize("heat", [2e-4, -2e-4])
def test_two_bars_that_are_heated_snap_later(heat):
    # P = 2 EA sin t (1 + e - c0/cos t), greatest where cos3 t = c0/(1 + e)
    model, _, exact = heated_bars(heat)
    stays = Loads(strain=np.full(2, heat))
    path = trace(model, forces(3, (1, 2, -100.0)), constant=stays)
    assert path.limit_load_factor * 100 == pytest.approx(exact, rel=1e-7)


def test_heated_bars_grow_as_they_are_free_to():
    # nothing hinders two hinged bars: their length is L (1 + e), their force nothing
    model, length, _ = heated_bars(0.0)
    path = trace(model, Loads(strain=np.full(2, 0.02)))
    assert path.ended == "target"
    assert 0.5 + path.displacements[1, 2] == pytest.approx(np.sqrt((1.02 * length) ** 2 - 100))
    assert np.abs(path.end_forces).max() < 1e-3


def test_heat_and_the_linear_solver_agree_where_little_moves():
    nodes = [[0, 0, 0], [2, 0.3, 1], [4, 0, 0.2], [2, 2, 0]]
    fixed = np.zeros((4, 6), dtype=bool)
    fixed[[0, 2, 3]] = True
    springs = np.full((3, 2, 3), np.inf)
    springs[:, :, 1:] = 40.0
    arms = np.zeros((3, 2, 3))
    arms[:, 1] = [0.05, -0.1, 0.1]
    model = FrameModel(
        nodes, [[0, 1], [1, 2], [3, 1]], Sections(50.0, 2.0, 3.0, 1.0, 10.0, 4.0), fixed=fixed,
        end_rotation=springs, offsets=arms, end_axial=np.full((3, 2), 900.0),
    )  # fmt: skip
    small = Loads(strain=[1e-7, -2e-7, 3e-7], line=np.full((3, 3), 1e-7))
    (flat_answer,) = solve(model, [small])
    path = trace(model, small)
    assert path.displacements == pytest.approx(flat_answer.displacements, rel=1e-4, abs=1e-13)
    assert path.end_forces == pytest.approx(flat_answer.end_forces, rel=1e-3, abs=1e-10)


def test_crooked_bar_bows_when_heated_between_walls():
    # half sine e0 between hinges that do not give: thrust Q with (e - e0), e = e0/(1 - Q/Qe),
    # and Q L/EA + pi2 (e2 - e02)/(4 L) = strain L
    area, inertia, span, e0 = 200.0, 0.05, 4.0, 0.02
    euler = np.pi**2 * inertia / span**2
    nodes = np.column_stack([np.linspace(0, span, 41), np.zeros(41)])
    model = flat(nodes, chain(41), {0: (0, 2), 40: (0, 2)}, plain(area=area, inertia=inertia))
    shape = np.zeros((41, 3))
    shape[:, 2] = np.sin(np.pi * nodes[:, 0] / span)
    heat = 3.0 * euler / area
    path = trace(imperfect(model, shape, e0), Loads(strain=np.full(40, heat)), watch=(20, 2))
    assert path.ended == "target"

    def too_long(thrust):
        e = e0 / (1 - thrust / euler)
        return thrust * span / area + np.pi**2 * (e**2 - e0**2) / (4 * span) - heat * span

    exact = e0 / (1 - brentq(too_long, 0, 0.999999 * euler) / euler) - e0
    assert path.watched[-1] == pytest.approx(exact, rel=0.01)
