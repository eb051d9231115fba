import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from strutwright.parts.cluster import chained_groups, complete_groups, interval_groups, same_rows
from strutwright.parts.labels import band_patterns, label

lengths = st.lists(st.floats(0.1, 3.0), min_size=1, max_size=40)


@given(lengths, st.floats(1e-4, 0.2))
def test_no_group_spans_more_than_the_tolerance(values, tolerance):
    values = np.array(values)
    group = interval_groups(values, tolerance, 1e-9)
    for one in range(group.max() + 1):
        assert np.ptp(values[group == one]) <= tolerance + 1e-8
    order = [values[group == one].max() for one in range(group.max() + 1)]
    assert order == sorted(order, reverse=True)


@given(lengths, st.floats(1e-4, 0.2), st.randoms())
def test_groups_do_not_depend_on_the_order(values, tolerance, random):
    values = np.array(values)
    mixed = np.array(random.sample(range(len(values)), len(values)))
    straight = interval_groups(values, tolerance, 1e-9)
    assert (interval_groups(values[mixed], tolerance, 1e-9) == straight[mixed]).all()


def test_rounding_never_parts_a_group_at_the_edge_of_the_tolerance():
    values = np.array([1.0, 0.9995, 0.9995 - 1e-13, 0.9995 + 1e-13])
    assert interval_groups(values, 0.0005, 1e-9).max() == 0


def test_rows_are_alike_when_every_column_is():
    rows = np.array([[0.1, 2.0], [0.1 + 1e-9, 2.0], [0.1, 2.1], [0.2, 2.0]])
    group = same_rows(rows, 1e-6)
    assert group[0] == group[1]
    assert len(set(group.tolist())) == 3


def test_a_chain_does_not_widen_a_group():
    apart = np.abs(np.subtract.outer(np.arange(5.0), np.arange(5.0)))
    group = complete_groups(apart, 1.0)
    for one in set(group.tolist()):
        assert np.ptp(np.flatnonzero(group == one)) <= 1
    assert complete_groups(np.zeros((1, 1)), 1.0).tolist() == [0]


def test_labels_go_on_after_z():
    assert [label(k) for k in (0, 1, 25, 26, 27, 51, 52, 701, 702)] == [
        "A", "B", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA",
    ]  # fmt: skip


def test_no_band_pattern_is_another_one_read_backwards():
    patterns = band_patterns(200)
    assert len(set(patterns)) == 200
    assert not {p[::-1] for p in patterns if p[::-1] != p} & set(patterns)
    assert patterns[:6] == ["n", "w", "nn", "nw", "ww", "nnn"]


def test_measured_lengths_chain_into_one_group_up_to_a_span():
    rng = np.random.default_rng(5)
    true = np.repeat([1.0, 1.02, 1.0018], [30, 20, 25])
    measured = true + rng.uniform(-0.0008, 0.0008, len(true))
    group = chained_groups(measured, 0.001, 0.005)
    assert group.tolist() == [1] * 30 + [0] * 20 + [1] * 25
    exact = chained_groups(true, 0.001, 0.005)
    assert exact.tolist() == [2] * 30 + [0] * 20 + [1] * 25
    ramp = np.arange(0.0, 0.020, 0.0009)
    parted = chained_groups(ramp, 0.001, 0.005)
    assert all(np.ptp(ramp[parted == one]) <= 0.001 for one in range(parted.max() + 1))
    assert (np.diff(parted) <= 0).all()
