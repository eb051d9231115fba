"""What holds for any cutting plan."""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from strutwright.catalogue import Bar
from strutwright.cutting import Piece, Saw, cut
from strutwright.cutting.costs import cost_of
from strutwright.cutting.greedy import first_fit
from strutwright.cutting.job import make_job
from strutwright.cutting.zones import usable_parts

SAW = Saw(0.002, 0.005)


@st.composite
def jobs(draw):
    lengths = draw(st.lists(st.integers(80, 1500), min_size=1, max_size=7, unique=True))
    pieces = [Piece(f"P{k}", mm / 1000, draw(st.integers(1, 25))) for k, mm in enumerate(lengths)]
    bars = [Bar(3.048, draw(st.sampled_from([None, 9.8])))]
    if draw(st.booleans()):
        bars.append(Bar(1.524, draw(st.sampled_from([4.7, 5.6])), draw(st.integers(0, 9))))
    return pieces, bars


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_cuts_sum_to_the_pieces_and_fit_their_bars(job):
    pieces, bars = job
    plan = cut(pieces, bars, SAW)
    sawn = Counter(c.label for b in plan.bars for c in b.cuts)
    assert sawn == {p.label: p.quantity for p in pieces}
    lengths = {p.label: p.length for p in pieces}
    for bar in plan.bars:
        assert all(c.length == lengths[c.label] for c in bar.cuts)
        taken = sum(c.length for c in bar.cuts) + (len(bar.cuts) - 1) * SAW.kerf
        assert taken + SAW.end_trim <= bar.length + 1e-7
        assert bar.cuts
        rest = bar.length - SAW.end_trim - taken - SAW.kerf
        assert bar.offcut == pytest.approx(max(rest, 0.0), abs=1e-9)
    assert plan.bought == pytest.approx(sum(b.length for b in plan.bars))
    assert plan.used == pytest.approx(sum(p.length * p.quantity for p in pieces))
    for bar in bars:
        if bar.quantity is not None:
            assert sum(b.length == bar.length for b in plan.bars) <= bar.quantity


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_no_plan_costs_more_than_first_fit_or_less_than_its_bound(job):
    pieces, bars = job
    plan = cut(pieces, bars, SAW)
    by_price = all(b.price is not None for b in bars)
    costs = [b.price if by_price else b.length for b in bars]
    whole, _ = make_job(pieces, usable_parts(bars, by_price=by_price), SAW, costs)
    greedy = first_fit(whole)
    assert greedy is not None
    assert plan.cost <= cost_of(whole, greedy) + 1e-9
    assert plan.bound <= plan.cost + 1e-9
    # material bound: what is sawn away cannot come from nowhere
    if not by_price:
        assert plan.cost >= plan.used
    assert plan.proven == (plan.cost <= plan.bound * (1 + 1e-6))


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(20, 60), min_size=1, max_size=7))
def test_the_plan_is_that_of_trying_everything(widths):
    counted = Counter(widths)
    pieces = [Piece(str(w), w / 1000, n) for w, n in counted.items()]
    plan = cut(pieces, [Bar(0.1)])
    assert len(plan.bars) == fewest(tuple(sorted(widths, reverse=True)), 100)
    assert plan.proven or plan.bound < plan.cost


def fewest(widths, capacity):
    """Return the least number of bins by trying every bin for every piece."""
    best = [len(widths)]

    def place(index, bins):
        if len(bins) >= best[0]:
            return
        if index == len(widths):
            best[0] = len(bins)
            return
        for k in range(len(bins)):
            if bins[k] + widths[index] <= capacity and bins[k] not in bins[:k]:
                place(index + 1, (*bins[:k], bins[k] + widths[index], *bins[k + 1 :]))
        place(index + 1, (*bins, widths[index]))

    place(0, ())
    return best[0]
