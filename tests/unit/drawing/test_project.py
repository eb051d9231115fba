import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from strutwright.drawing import FRONT, ISOMETRIC, PLAN, SIDE, elevation, perspective, project, see

AXES = np.eye(3)


@pytest.mark.parametrize(
    ("camera", "right", "up", "toward"),
    [
        (PLAN, (1, 0, 0), (0, 1, 0), (0, 0, 1)),
        (FRONT, (1, 0, 0), (0, 0, 1), (0, -1, 0)),
        (SIDE, (0, 1, 0), (0, 0, 1), (1, 0, 0)),
        (elevation("back", math.pi / 2), (-1, 0, 0), (0, 0, 1), (0, 1, 0)),
    ],
)
def test_plan_and_elevations_look_along_the_axes(camera, right, up, toward):
    seen = project(camera, np.array([right, up, toward], dtype=float))
    assert seen == pytest.approx(np.eye(3), abs=1e-12)


def test_an_isometric_view_shortens_the_three_axes_alike():
    # sqrt(2/3) of the true length, the axes 120 degrees apart: the definition of isometric.
    seen = project(ISOMETRIC, AXES)[:, :2]
    assert np.linalg.norm(seen, axis=1) == pytest.approx([math.sqrt(2 / 3)] * 3)
    angles = np.arctan2(seen[:, 1], seen[:, 0])
    between = np.cos(angles - np.roll(angles, 1))  # of lines: which way an axis runs is no matter
    assert np.abs(between) == pytest.approx([0.5] * 3)


@given(st.floats(-3, 3), st.floats(-1.5, 1.5))
@settings(max_examples=30)
def test_a_parallel_view_only_turns(azimuth, height):
    camera = elevation("x", azimuth)
    camera = type(camera)("x", azimuth, height)
    points = np.array([[1.0, 2, 3], [-1, 0.5, 2], [0, 0, 1]])
    seen = project(camera, points)
    assert seen @ seen.T == pytest.approx(points @ points.T)
    assert np.linalg.det(project(camera, AXES)) == pytest.approx(1)


def test_perspective_draws_the_nearer_larger():
    camera = perspective(1.0, azimuth=-math.pi / 2, height=0.0)
    near, far = project(camera, np.array([[1.0, -1, 0], [1.0, 1, 0]]))
    assert near[0] == pytest.approx(4 / 3)
    assert far[0] == pytest.approx(4 / 5)


def test_the_farther_strut_is_cut_where_a_nearer_one_crosses():
    seen = np.array([[-10.0, 0, 0], [10, 0, 0], [0, -10, 1], [0, 10, 1]])
    pieces = see(seen, np.array([[0, 1], [2, 3]]), gap=1.0)
    assert pieces.segment.tolist() == [0, 0, 1]
    assert pieces.start.tolist() == [[-10, 0], [1, 0], [0, -10]]
    assert pieces.end.tolist() == [[-1, 0], [10, 0], [0, 10]]


def test_a_slanting_crossing_has_the_same_white_on_either_side():
    slant = math.radians(30)
    seen = np.array([[-10.0, 0, 0], [10, 0, 0], [0, 0, 1], [0, 0, 1]])
    seen[2, :2] = -10 * math.cos(slant), -10 * math.sin(slant)
    seen[3, :2] = -seen[2, :2]
    pieces = see(seen, np.array([[0, 1], [2, 3]]), gap=1.0)
    assert pieces.end[0, 0] == pytest.approx(-2)  # 1 mm / sin 30


def test_struts_that_share_a_hub_or_really_meet_are_not_cut():
    seen = np.array([[0.0, 0, 0], [10, 0, 5], [10, 5, 0], [5, -5, 2.5], [5, 5, 2.5]])
    assert len(see(seen, np.array([[0, 1], [0, 2]]), gap=1.0).segment) == 2
    assert len(see(seen, np.array([[0, 1], [3, 4]]), gap=1.0).segment) == 2


def test_a_strut_is_hidden_just_where_a_face_lies_before_it():
    seen = np.array(
        [[0.0, 0, 1], [4, 0, 1], [4, 4, 1], [0, 4, 1], [-2, 2, 0], [6, 2, 0], [-2, 1, 2], [6, 1, 2]]
    )
    faces = np.array([[0, 1, 2], [0, 2, 3]])
    pieces = see(seen, np.array([[4, 5], [6, 7], [0, 2]]), faces)
    hidden = pieces.hidden
    rows = [(k, a, b) for k, (a, _), (b, _), h in
            zip(pieces.segment, pieces.start, pieces.end, hidden, strict=True) if h]  # fmt: skip
    assert rows == [(0, pytest.approx(0), pytest.approx(4))]
    assert sorted(pieces.segment[~hidden].tolist()) == [0, 0, 1, 2]


def octahedron():
    points = np.array([[1.0, 0, 0], [0, 1, 0], [-1, 0, 0], [0, -1, 0], [0, 0, 1], [0, 0, -1]])
    faces = np.array([[0, 1, 4], [1, 2, 4], [2, 3, 4], [3, 0, 4],
                      [1, 0, 5], [2, 1, 5], [3, 2, 5], [0, 3, 5]])  # fmt: skip
    edges = np.unique(np.sort(np.concatenate([faces[:, :2], faces[:, 1:]]), axis=1), axis=0)
    return points, faces, edges


@given(st.floats(-3, 3), st.floats(-1.4, 1.4))
@settings(max_examples=50, deadline=None)
def test_of_a_convex_body_just_the_edges_of_faces_turned_away_are_hidden(azimuth, height):
    points, faces, edges = octahedron()
    camera = type(PLAN)("x", azimuth, height)
    seen = project(camera, points)
    a, b, c = (seen[faces[:, k], :2] for k in range(3))
    area = (b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]
    if np.abs(area).min() < 1e-3:
        return  # a face is seen edge on: what is hidden hangs on the last digit
    pieces = see(seen, edges, faces, gap=0.01)
    shown = {k for k, edge in enumerate(edges.tolist())
             if any(set(edge) <= set(face) for face in faces[area > 0].tolist())}  # fmt: skip
    assert set(pieces.segment[~pieces.hidden].tolist()) == shown
    assert set(pieces.segment[pieces.hidden].tolist()) == set(range(len(edges))) - shown


def test_the_same_view_gives_the_same_pieces():
    points, faces, edges = octahedron()
    seen = project(ISOMETRIC, points)
    assert see(seen, edges, faces, gap=0.1) == see(seen, edges, faces, gap=0.1)


def test_on_a_symmetric_body_the_far_edge_behind_a_near_one_is_hidden():
    points, faces, edges = octahedron()
    seen = project(FRONT, points @ np.array([[0.8, -0.6, 0], [0.6, 0.8, 0], [0, 0, 1]]))
    pieces = see(seen, edges, faces)
    assert 0 < pieces.hidden.sum() < len(pieces.hidden)
