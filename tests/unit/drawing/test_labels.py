import itertools
import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import Delaunay

from strutwright.drawing import Circle, Line, Text, Wish, along, around, label_marks, place_labels

SHEET = (0.0, 0.0, 170.0, 170.0)


def meet(one, two):
    return one[0] < two[2] and two[0] < one[2] and one[1] < two[3] and two[1] < one[3]


def on_line(line, box):
    """True when the line passes through the box: by clipping, one side after another."""
    (x1, y1), (x2, y2) = line
    low, high = 0.0, 1.0
    for start, way, least, most in ((x1, x2 - x1, box[0], box[2]), (y1, y2 - y1, box[1], box[3])):
        if way == 0:
            if not least < start < most:
                return False
            continue
        first, last = sorted(((least - start) / way, (most - start) / way))
        low, high = max(low, first), min(high, last)
    return low + 1e-6 < high


def crowd(seed, struts):
    """Struts between points thrown at random, labelled in their middles, points numbered."""
    dice = random.Random(seed)
    points = [(dice.uniform(15, 155), dice.uniform(15, 155)) for _ in range(struts // 3)]
    pairs = [dice.sample(range(len(points)), 2) for _ in range(struts)]
    return wishes_of(points, [(points[i], points[j]) for i, j in pairs])


def wishes_of(points, ends):
    lines = np.array([[*a, *b] for a, b in ends])
    wishes = [
        Wish("ABCDEF"[k % 6] + str(k % 3), along(a, b)[0], along(a, b), own=(k,))
        for k, (a, b) in enumerate(ends)
    ]
    wishes += [Wish(str(k), point, around(point, 3.5), ring=True) for k, point in enumerate(points)]
    dots = [(x - 0.7, y - 0.7, x + 0.7, y + 0.7) for x, y in points]
    return wishes, dots, lines


def assert_clear(placing, bounds, keep_out=()):
    boxes = [label.box for label in placing.labels]
    assert not any(meet(a, b) for a, b in itertools.combinations(boxes, 2))
    assert not any(meet(a, b) for a in boxes for b in keep_out)
    for box in boxes:
        assert box[0] >= bounds[0]
        assert box[1] >= bounds[1]
        assert box[2] <= bounds[2]
        assert box[3] <= bounds[3]
    pairs = itertools.permutations(placing.labels, 2)
    others = [(one.leader, other.box) for one, other in pairs if one.leader]
    assert not any(on_line(leader, box) for leader, box in others)


def net(seed):
    """A net of triangles over 170 mm, about 250 struts from 10 to 30 mm long."""
    dice = np.random.default_rng(seed)
    grid = np.stack(np.meshgrid(np.arange(9), np.arange(9)), axis=-1).reshape(-1, 2)
    points = 15 + grid * 17.5 + dice.uniform(-6, 6, (81, 2))
    faces = Delaunay(points).simplices
    edges = np.unique(np.sort(np.concatenate([faces[:, :2], faces[:, 1:], faces[:, ::2]])), axis=0)
    return [tuple(point) for point in points.tolist()], edges.tolist()


def test_labels_of_250_struts_and_their_hubs_never_overlap():
    points, edges = net(1)
    wishes, dots, lines = wishes_of(points, [(points[i], points[j]) for i, j in edges])
    placing = place_labels(wishes, SHEET, keep_out=dots, lines=lines)
    assert len(edges) > 210
    assert not placing.left_out
    assert len(placing.labels) == len(edges) + len(points)
    assert_clear(placing, SHEET, dots)


@given(st.integers(0, 10**6), st.integers(6, 90))
@settings(max_examples=25, deadline=None)
def test_no_crowd_makes_labels_overlap(seed, struts):
    wishes, dots, lines = crowd(seed, struts)
    placing = place_labels(wishes, SHEET, keep_out=dots, lines=lines)
    assert_clear(placing, SHEET, dots)
    assert len(placing.labels) + len(placing.left_out) == len(wishes)


def test_the_first_place_is_taken_when_it_is_free():
    wish = Wish("A", (50, 50), ((50, 50), (60, 50)))
    (label,) = place_labels([wish], SHEET).labels
    assert label.middle == (50, 50)
    assert label.leader is None


def test_a_label_keeps_off_the_lines_of_others_but_not_its_own():
    wish = Wish("A", (50, 50), ((50, 50), (60, 50)), own=(0,))
    lines = np.array([[50.0, 0, 50, 100], [0, 50, 55, 50]])
    assert place_labels([wish], SHEET, lines=lines[:1]).labels[0].middle == (50, 50)
    assert place_labels([wish], SHEET, lines=lines).labels[0].middle == (60, 50)


def test_a_label_without_room_near_by_gets_a_leader_line():
    wish = Wish("A", (50, 50), ((50, 50),))
    (label,) = place_labels([wish], SHEET, keep_out=[(45, 45, 55, 55)]).labels
    assert label.leader
    assert label.leader[1] == (50, 50)
    placing = place_labels([wish], SHEET, keep_out=[(45, 45, 55, 55)])
    kinds = [type(mark) for mark in label_marks(placing)]
    assert kinds == [Line, Text]


def test_a_label_without_any_room_is_named_as_left_out():
    wish = Wish("A", (5, 5), ((5, 5),))
    placing = place_labels([wish], (0, 0, 1, 1))
    assert placing.left_out == (wish,)
    assert placing.labels == ()


def test_the_same_wishes_give_the_same_places():
    wishes, dots, lines = crowd(7, 60)
    first = place_labels(wishes, SHEET, keep_out=dots, lines=lines)
    assert first == place_labels(wishes, SHEET, keep_out=dots, lines=lines)


def test_a_round_frame_holds_its_words():
    wish = Wish("188", (50, 50), ((50, 50),), ring=True)
    frame, words = label_marks(place_labels([wish], SHEET))
    assert isinstance(frame, Circle)
    assert isinstance(words, Text)
    assert frame.radius == pytest.approx(3.0, abs=0.5)
