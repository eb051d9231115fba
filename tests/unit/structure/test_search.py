import numpy as np
import pytest

from strutwright.structure.search import CLOSE, chord, largest_passing


def test_linear_and_growing_utilisations_are_met_from_below():
    load = np.array([250.0, 3.0, 12000.0])

    def usage(rows, tried):
        return 0.2 + 0.8 * (tried / load[rows]) ** np.array([1.0, 2.0, 3.0])[rows]

    found = largest_passing(usage, np.full(3, 40.0), 1e6)
    assert found == pytest.approx(load, rel=2 * CLOSE)
    assert (found <= load).all()


def test_a_load_that_is_too_much_at_once_and_one_that_never_is():
    def usage(rows, tried):
        return np.array([1.2, 0.5])[rows] + 0.0 * tried

    assert largest_passing(usage, np.full(2, 1.0), 500.0).tolist() == [0.0, 500.0]


def test_a_utilisation_that_becomes_infinite_is_met_from_below():
    def usage(rows, tried):
        left = 1.0 - tried / 10.0
        with np.errstate(divide="ignore"):
            return np.where(left > 0, 0.1 * tried / np.maximum(left, 1e-12), np.inf) + 0.0 * rows

    found = largest_passing(usage, np.array([1.0]), 1e6)
    assert found[0] == pytest.approx(5.0, rel=2 * CLOSE)
    assert found[0] <= 5.0


def test_the_chord_is_below_the_load_of_a_growing_utilisation():
    still, load = 0.2, 7.0  # u = 0.2 + 0.8 (p / 7)^2
    used = still + 0.8 * (10.0 / load) ** 2
    share = float(chord(np.array([still]), np.array([used]))[0])
    assert share == pytest.approx(0.8 / (used - still))
    assert 10.0 * share < load


def test_the_chord_keeps_all_where_nothing_is_used_up_and_nothing_where_all_was():
    kept = chord(np.array([0.2, 1.5, 0.3]), np.array([0.9, 2.0, np.inf]))
    assert kept.tolist() == [1.0, 0.0, 0.0]
