"""Bending of triangular sheets by another route: finite elements on Poisson's equation, twice.

A simply supported plate with straight edges obeys lap M = -p and lap w = -M/D, both zero along the
edges. What the program takes, a strip as wide as the largest circle, must never be less.
"""

import numpy as np
import pytest
from scipy.sparse import coo_array
from scipy.sparse.linalg import spsolve

from strutwright.loads.cover import sheet_moment, sheet_sag
from strutwright.shape.dome import DomeSpec, dome

N = 36
POISSON = 0.3
SHELL = dome(DomeSpec(radius=1.0, division=(1, 0), seed="octahedron"))


def lattice(corners):
    """Points of a triangle cut into N by N, their place by (i, j), and the elements."""
    index = {(i, j): None for i in range(N + 1) for j in range(N + 1 - i)}
    for k, key in enumerate(index):
        index[key] = k
    a, b, c = corners
    points = np.array([a + i / N * (b - a) + j / N * (c - a) for i, j in index])
    cells = [
        [index[i, j], index[i + 1, j], index[i, j + 1]] for i in range(N) for j in range(N - i)
    ]
    cells += [[index[i + 1, j], index[i + 1, j + 1], index[i, j + 1]]
              for i in range(N) for j in range(N - i - 1)]  # fmt: skip
    return points, index, np.array(cells)


def solved(corners):
    """Largest deflection and principal moment of a plate with p = D = 1."""
    points, index, cells = lattice(np.asarray(corners, dtype=float))
    p, q, r = (points[cells[:, k]] for k in range(3))
    area = np.abs((q - p)[:, 0] * (r - p)[:, 1] - (q - p)[:, 1] * (r - p)[:, 0]) / 2
    edges = np.stack([r - q, p - r, q - p], axis=1)
    local = np.einsum("ekd,eld->ekl", edges, edges) / (4 * area)[:, None, None]
    rows, columns = np.repeat(cells, 3, axis=1).ravel(), np.tile(cells, 3).ravel()
    n = len(points)
    stiff = coo_array((local.ravel(), (rows, columns)), shape=(n, n)).tocsr()
    lumped = np.bincount(cells.ravel(), np.repeat(area / 3, 3), n)
    inner = np.array([k for (i, j), k in index.items() if i and j and i + j < N])
    within = stiff[inner][:, inner]
    moment, sag = np.zeros(n), np.zeros(n)
    moment[inner] = spsolve(within, lumped[inner])
    sag[inner] = spsolve(within, (lumped * moment)[inner])
    return float(sag.max()), principal(points, index, sag)


def principal(points, index, sag):
    """Second differences along the three directions of the lattice give all curvatures."""
    steps = [points[index[d]] - points[index[0, 0]] for d in ((1, 0), (0, 1))]
    steps.append(steps[0] - steps[1])
    rows = np.array([[s[0] ** 2, s[1] ** 2, 2 * s[0] * s[1]] for s in steps])
    worst = 0.0
    for (i, j), k in index.items():
        if not (i and j and i + j < N):
            continue
        pairs = (
            ((i + 1, j), (i - 1, j)),
            ((i, j + 1), (i, j - 1)),
            ((i + 1, j - 1), (i - 1, j + 1)),
        )
        second = [sag[index[a]] - 2 * sag[k] + sag[index[b]] for a, b in pairs]
        x, y, xy = -np.linalg.solve(rows, second)
        curved = np.array([[x, xy], [xy, y]])
        moments = np.linalg.eigvalsh((1 - POISSON) * curved + POISSON * (x + y) * np.eye(2))
        worst = max(worst, float(np.abs(moments).max()))
    return worst


def circle(corners):
    """Diameter of the largest circle in a triangle."""
    a, b, c = np.asarray(corners, dtype=float)
    around = sum(np.linalg.norm(s) for s in (b - a, c - b, a - c))
    area = abs((b - a)[0] * (c - a)[1] - (b - a)[1] * (c - a)[0]) / 2
    return 4 * area / around


EQUAL = [[0, 0], [1, 0], [0.5, np.sqrt(0.75)]]


def test_the_elements_find_the_equilateral_plate_of_the_books():
    """w = p h^4/(972 D), M = 0.0259 p h^2 at nu 0.3: Timoshenko and Woinowsky-Krieger, art. 71."""
    sag, moment = solved(EQUAL)
    height = np.sqrt(0.75)
    assert sag == pytest.approx(height**4 / 972, rel=5e-3)
    assert moment == pytest.approx(0.0259 * height**2, rel=2e-2)


@pytest.mark.parametrize(
    "corners",
    [EQUAL, [[0, 0], [4, 0], [0, 3]], [[0, 0], [1, 0], [0.4, 0.7]], [[0, 0], [1, 0], [0.5, 2.4]],
     [[0, 0], [1, 0], [0.5, 0.25]], [[0, 0], [1, 0], [0.95, 0.6]]],
)  # fmt: skip
def test_the_strip_is_never_less_than_the_plate(corners):
    sag, moment = solved(corners)
    a = circle(corners)
    assert moment <= a**2 / 8
    assert sag <= 5 * a**4 / 384
    # and is no more than three times as much
    assert moment >= a**2 / 24


def test_the_program_takes_that_strip():
    """Faces of an octahedron: sides of root two, the circle's diameter is that over root three."""
    a = np.sqrt(2) / np.sqrt(3)
    load = np.array([900.0, -900.0, 300.0, 0.0])
    assert sheet_moment(SHELL, load) == pytest.approx(np.abs(load) * a**2 / 8)
    assert sheet_sag(SHELL, load, 700.0) == pytest.approx(5 * np.abs(load) * a**4 / (384 * 700))
