"""Loads from faces to struts: sums exact, bending on the safe side, film at free edges."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from strutwright.catalogue import Source
from strutwright.loads.case import LoadCase, resultant
from strutwright.loads.cover import edge_pull, face_struts, onto_struts
from strutwright.loads.form import form_of

from .shells import hemisphere, vault

SHELLS = [hemisphere(2), hemisphere(4), vault(), vault(rise=1.2, around=5)]


def case(hubs, lines):
    return LoadCase("test", "wind", hubs, lines, "gust", Source("test"))


@given(st.sampled_from(SHELLS), st.integers(0, 2**32 - 1))
def test_force_and_moment_of_the_faces_are_kept_about_every_point(shell, seed):
    rng = np.random.default_rng(seed)
    forces, point = rng.normal(size=(len(shell.faces), 3)), rng.normal(size=3) * 10
    form = form_of(shell)
    force, moment = resultant(shell, case(*onto_struts(shell, forces)))
    assert force == pytest.approx(forces.sum(axis=0), abs=1e-9)
    exact = np.cross(form.centres - point, forces).sum(axis=0)
    assert moment - np.cross(point, force) == pytest.approx(exact, abs=1e-8)


def test_each_face_gives_to_its_own_three_struts_alone():
    shell = hemisphere(2)
    forces = np.zeros((len(shell.faces), 3))
    forces[7] = [1.0, 2.0, 3.0]
    hubs, lines = onto_struts(shell, forces)
    mine = face_struts(shell)[7]
    assert set(np.flatnonzero(lines.any(axis=1))) == set(mine)
    assert set(np.flatnonzero(np.abs(hubs).max(axis=1) > 1e-12)) <= set(shell.faces[7])
    ends = {frozenset(shell.struts[s]) for s in mine}
    a, b, c = shell.faces[7]
    assert ends == {frozenset((a, b)), frozenset((b, c)), frozenset((c, a))}


def nearest_strut_moment(a, b, c):
    """Return the largest moment of strut ab, simply supported, under 1 Pa that goes from each
    point of the triangle to its nearest side, by sums over a fine grid, Nm."""
    n = 400
    i, j = np.meshgrid(np.arange(n), np.arange(n), indexing="ij")
    keep = i + j < n
    u, v = (i[keep] + 1 / 3) / n, (j[keep] + 1 / 3) / n
    points = (1 - u - v)[:, None] * a + u[:, None] * b + v[:, None] * c
    area = np.linalg.norm(np.cross(b - a, c - a)) / 2 / len(points)

    def distance(p, q):
        axis = (q - p) / np.linalg.norm(q - p)
        return np.linalg.norm(np.cross(points - p, axis), axis=1)

    mine = distance(a, b) <= np.minimum(distance(b, c), distance(c, a))
    length = np.linalg.norm(b - a)
    s = (points[mine] - a) @ (b - a) / length
    at = np.linspace(0, length, 201)
    left = ((length - s) * area / length).sum()
    return max(left * x - (np.maximum(x - s, 0) * area).sum() for x in at)


@pytest.mark.parametrize(
    "corner", [(0.5, 3**0.5 / 2), (0.5, 0.5), (0.3, 0.9), (0.1, 0.7), (0.0, 1.0)]
)
def test_bending_is_never_less_than_the_load_of_the_nearest_points_gives(corner):
    a, b, c = np.zeros(3), np.array([1.0, 0, 0]), np.array([*corner, 0.0])
    sides = [np.linalg.norm(q - p) for p, q in ((a, b), (b, c), (c, a))]
    area = corner[1] / 2
    ours = 4 / 3 * area / sum(sides) * 1.0**2 / 8
    exact = nearest_strut_moment(a, b, c)
    # The sums over the grid are good to about 1 per cent.
    assert exact / ours <= 1.01
    assert exact / ours >= 0.9


def test_lines_carry_what_the_docstring_says():
    # An equilateral face of side 1 and area A under 1 Pa: 4/3 of A/3 on each metre of side.
    shell = hemisphere(4)
    form = form_of(shell)
    _, lines = onto_struts(shell, form.normals * form.areas[:, None])
    ends = shell.hubs[shell.struts]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    on_struts = np.linalg.norm(lines, axis=1) @ length
    assert on_struts == pytest.approx(4 / 3 * form.areas.sum(), rel=0.02)


@pytest.mark.parametrize("shell", SHELLS)
def test_film_pull_has_no_resultant_and_bends_free_edges_alone(shell):
    pressure = np.full(len(shell.faces), 600.0)
    hubs, lines = edge_pull(shell, pressure, 36e3)
    force, moment = resultant(shell, case(hubs, lines))
    assert force == pytest.approx(0, abs=1e-8)
    assert moment == pytest.approx(0, abs=1e-8)
    count = np.bincount(face_struts(shell).ravel(), minlength=len(shell.struts))
    assert (lines.any(axis=1) == (count == 1)).all()
    # Across the strut and towards the cover.
    ends = shell.hubs[shell.struts]
    axis = ends[:, 1] - ends[:, 0]
    assert np.einsum("ij,ij->i", lines, axis) == pytest.approx(0, abs=1e-9)
    towards = np.array([0, 0, shell.hubs[:, 2].max() / 2]) - ends.mean(axis=1)
    assert (np.einsum("ij,ij->i", lines, towards)[count == 1] > 0).all()
