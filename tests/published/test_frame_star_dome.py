"""Levy & Spillers, Analysis of Geometrically Nonlinear Structures, 2nd ed., section 2.4.2:
24-bar star dome, inch and pound, E = 30e6 psi, A = 0.0155 in2, 220.46 lb down at the crown.

Nodes, bars and the linear crown displacement as read in an open finite element example that
reprints them; the limit load was computed elsewhere (the book says "considerably below" 220.46).
"""

import numpy as np
import pytest

from strutwright.frame import FrameModel, Loads, PathSettings, Sections, solve, trace

NODES = [
    [0, 0, 3.2346],
    [4.92125, 8.5239, 2.4472],
    [-4.92125, 8.5239, 2.4472],
    [-9.8425, 0, 2.4472],
    [-4.92125, -8.5239, 2.4472],
    [4.92125, -8.5239, 2.4472],
    [9.8425, 0, 2.4472],
    [0, 19.685, 0],
    [-17.0472, 9.8425, 0],
    [-17.0472, -9.8425, 0],
    [0, -19.685, 0],
    [17.0472, -9.8425, 0],
    [17.0472, 9.8425, 0],
]
BARS = """1-2 1-3 1-4 1-5 1-6 1-7 6-12 7-12 7-13 2-13 2-8 3-8 3-9 4-9 4-10 5-10 5-11 6-11
          2-3 3-4 4-5 5-6 6-7 7-2"""
LOAD = 220.46


@pytest.fixture(scope="module")
def dome():
    bars = [[int(end) - 1 for end in bar.split("-")] for bar in BARS.split()]
    fixed = np.zeros((13, 6), dtype=bool)
    fixed[7:, :3] = True
    table = Sections(0.0155, 1.0, 1.0, 1.0, 30e6, 12e6)
    return FrameModel(NODES, bars, table, truss=True, fixed=fixed)


@pytest.fixture(scope="module")
def load():
    forces = np.zeros((13, 6))
    forces[0, 2] = -LOAD
    return Loads(forces)


def test_linear_crown_displacement(dome, load):
    (answer,) = solve(dome, [load])
    assert answer.displacements[0, 2] == pytest.approx(-0.20641184, abs=2e-6)  # as printed


def test_limit_load(dome, load):
    path = trace(dome, load)
    assert path.ended == "limit point"
    assert path.limit_load_factor * LOAD == pytest.approx(146.78, abs=0.15)
    assert path.watch.tolist() == [0, 2]
    # 0.6658 at a crown drop of 0.3026 in, computed elsewhere
    assert path.displacements[0, 2] == pytest.approx(-0.3026, abs=2e-3)


def test_path_goes_on_past_the_limit(dome, load):
    path = trace(dome, load, PathSettings(stop="target", steps=60))
    assert path.limit_load_factor * LOAD == pytest.approx(146.78, abs=0.15)
    after = path.watched < -0.5
    assert after.any()
    assert path.factors[after].min() < path.limit_load_factor
