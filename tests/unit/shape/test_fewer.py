import numpy as np
import pytest

from strutwright.errors import InputError
from strutwright.progress import Cancelled
from strutwright.shape import fewer_model as fm
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.fewer import fewer_lengths, length_tradeoff, meet_classes
from strutwright.shape.fewer_bounds import is_flat
from strutwright.shape.fewer_least import Limits, least, least_largest
from strutwright.shape.riser import raise_on_legs


@pytest.fixture(scope="module")
def start():
    return dome(DomeSpec(3.0, division=(4, 0)))


@pytest.fixture(scope="module")
def tradeoff(start):
    return length_tradeoff(start)


def test_as_many_lengths_as_nature_gives_leave_the_shell_alone(start):
    shell, _ = fewer_lengths(start, 6)
    assert np.array_equal(shell.hubs, start.hubs)
    assert shell.recipe.steps == start.recipe.steps


def test_the_fewest_lengths_within_a_drift_are_taken(start):
    shell, _ = fewer_lengths(start, drift=0.03)
    assert shell.recipe.steps[-1].startswith("fewer lengths: 6 to 4")


@pytest.mark.parametrize(
    ("lengths", "drift", "code", "says"),
    [
        (5, 0.0, "lengths-unreachable", "6 lengths, the fewest within it"),
        (3, 0.02, "lengths-unreachable", "5 lengths, the fewest within it"),
        (1, None, "lengths-unreachable", "snap-through|points outwards"),
        (0, None, "lengths-number", "at least 1"),
        (None, None, "lengths-number", "neither"),
        (None, -0.01, "lengths-number", "below 0"),
    ],
)
def test_what_cannot_be_had_is_refused_with_what_can(start, lengths, drift, code, says):
    with pytest.raises(InputError, match=says) as caught:
        fewer_lengths(start, lengths, drift)
    assert caught.value.code == code


def test_lengths_easily_confused_are_said(start):
    shell, _ = fewer_lengths(start, 6)
    assert [n.code for n in shell.recipe.notes].count("lengths-confusable") == 2


def test_sizes_stay_within_their_freedom(start):
    bound = length_tradeoff(start, freedom=0.005)
    plan = np.linalg.norm(bound.of(4).hubs[start.base, :2], axis=1)
    assert np.abs(plan - 3.0).max() <= 0.015 + 1e-5
    assert abs(bound.of(4).hubs[:, 2].max() - 3.0) <= 0.015 + 1e-5


def test_feet_of_legs_follow_the_base_in_plan(start):
    raised = raise_on_legs(start, 0.4)
    shell, _ = fewer_lengths(raised, 4)
    legs = shell.struts[shell.role == "leg"]
    assert len(legs) == 20
    apart = shell.hubs[legs[:, 0], :2] - shell.hubs[legs[:, 1], :2]
    assert np.abs(apart).max() < 1e-9


def test_the_work_can_be_stopped(start):
    class Stop:
        def stage(self, name, fraction):
            assert name.startswith("fewer lengths")
            assert 0 <= fraction <= 1

        def cancelled(self):
            return True

    with pytest.raises(Cancelled):
        fewer_lengths(start, 4, progress=Stop())


@pytest.mark.parametrize("division", [(2, 0), (4, 0), (2, 2), (3, 1)])
@pytest.mark.parametrize(
    ("value", "slopes"),
    [
        (fm.lengths, fm.length_slopes),
        (lambda m, h: fm.folds(h, m.hinges), fm.fold_slopes),
        (fm.deficits, fm.deficit_slopes),
    ],
)
def test_slopes_agree_with_finite_differences(division, value, slopes):
    model = fm.reduce_shell(dome(DomeSpec(3.0, division=division)))
    rng = np.random.default_rng(3)
    q, way = rng.normal(size=(2, model.n_unknowns)) * [[0.01], [1.0]]
    step = 1e-6
    plus, minus = (value(model, fm.places(model, q + s * step * way)) for s in (1, -1))
    rows, cols, values = slopes(model, fm.places(model, q))
    found = np.bincount(rows, values * np.append(way, 0.0)[cols], minlength=len(plus))
    assert found == pytest.approx((plus - minus) / (2 * step), abs=1e-6)


def test_hard_limits_are_kept_and_contradictions_found():
    rows, start = np.eye(2), np.array([-1.0, -2.0])
    # nearest point to (1, 2) with x + y <= 2 is (0.5, 1.5)
    kept = least(rows, start, Limits(np.array([[-1.0, -1.0]]), np.array([-2.0]), None))
    assert kept == pytest.approx([0.5, 1.5])
    against = Limits(np.array([[1.0, 0], [-1.0, 0]]), np.array([1.0, 1.0]), None)
    assert least(rows, start, against) is None


def test_the_largest_of_three_is_made_least():
    # |x|, |x - 1|, |x - 4|: the mean is 5/3, the middle of the range 2
    rows, start = np.ones((3, 1)), np.array([0.0, -1.0, -4.0])
    none = Limits(np.zeros((0, 1)), np.zeros(0), None)
    assert least(rows, start, none) == pytest.approx([5 / 3])
    assert least_largest(rows, start, np.arange(3), none) == pytest.approx([2.0], abs=0.05)


def test_the_classes_of_an_older_kit_are_met(start, tradeoff):
    wanted = tradeoff.of(4).class_of
    entry = meet_classes(start, wanted)
    assert entry.counts.tolist() == tradeoff.of(4).counts.tolist()
    assert entry.drift == pytest.approx(tradeoff.of(4).drift, rel=0.1)


def test_classes_that_bend_the_shell_to_one_side_are_refused(start, tradeoff):
    wanted = tradeoff.of(4).class_of.copy()
    wanted[-1] = (wanted[-1] + 1) % 4
    with pytest.raises(InputError, match="another class than the struts that it mirrors"):
        meet_classes(start, wanted)


def test_one_class_for_all_is_refused(start):
    with pytest.raises(InputError, match="lengths-unreachable"):
        meet_classes(start, np.zeros(len(start.struts), dtype=int))


def test_what_is_flat_by_design_is_told_from_folds():
    angles = np.array([0.3, 0.28, 0.0, 0.01, -0.1, 0.25, 0.04])
    assert is_flat(angles).tolist() == [False, False, True, True, True, False, False]
