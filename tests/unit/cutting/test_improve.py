"""Bars cut anew: the same pieces, never dearer, no bar that is not there, the same every time."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from strutwright.catalogue import Bar
from strutwright.cutting import Piece, Saw
from strutwright.cutting.costs import cost_of
from strutwright.cutting.cut import prepare
from strutwright.cutting.greedy import first_fit
from strutwright.cutting.improve import improved

SAW = Saw(0.002, 0.005)


def job_of(lengths, counts, bars):
    pieces = [Piece(str(k), x, n) for k, (x, n) in enumerate(zip(lengths, counts, strict=True))]
    return prepare(pieces, bars, SAW).job


@settings(max_examples=12, deadline=None)
@given(st.integers(0, 10_000))
def test_the_pieces_stay_and_the_cost_never_rises(seed):
    random = np.random.default_rng(seed)
    n = int(random.integers(3, 9))
    lengths = (random.choice(np.arange(300, 1900), n, replace=False) / 1000).tolist()
    counts = random.integers(1, 6, n).tolist()
    bars = [Bar(3.0, 10.0), Bar(2.1, 7.2, int(random.integers(0, 4)))]
    job = job_of(lengths, counts, bars)
    plan = first_fit(job)
    better = improved(job, plan, 0.0)
    made = np.sum([one.counts for one in better], axis=0)
    assert (made >= job.demand).all()
    assert cost_of(job, better) <= cost_of(job, plan) + 1e-9
    used = np.bincount([job.source[one.bar] for one in better], minlength=len(job.quantities))
    assert (used <= job.quantities).all()
    for one in better:
        assert np.dot(one.counts, job.widths) <= job.capacities[one.bar]
    assert improved(job, plan, 0.0) == better


def test_a_wasteful_plan_is_mended():
    """4 x 1.0 m and 4 x 1.9 m: four bars of 3 m hold one of each and a little rest."""
    bars = [Bar(3.0, 10.0), Bar(2.0, 8.0)]
    job = job_of([1.9, 1.0], [4, 4], bars)
    bad = [one for one in first_fit(job_of([1.9, 1.0], [4, 4], [Bar(2.0, 8.0)]))]
    wasteful = [type(one)(1, one.counts) for one in bad]  # the dear short bars alone
    assert cost_of(job, wasteful) == pytest.approx(64.0)
    assert cost_of(job, improved(job, wasteful, 0.0)) == pytest.approx(40.0)
