"""Zones that cannot be used, offcuts that are kept, the second prover."""

from itertools import product

import numpy as np
import pytest

from strutwright.catalogue import Bar
from strutwright.cutting import Piece, Saw, cut
from strutwright.cutting.columns import single_patterns, solve_fractional
from strutwright.cutting.job import make_job
from strutwright.cutting.master import Master
from strutwright.cutting.prove import near_patterns
from strutwright.cutting.zones import usable_parts
from strutwright.errors import InputError


def test_no_piece_lies_over_an_unusable_zone():
    bar = Bar(3.0, 9.0, 1, "tube", "R1", ((1.2, 1.3),))
    plan = cut([Piece("A", 1.15, 1), Piece("B", 1.65, 1)], [bar], Saw(0.002, 0.005))
    assert sorted((b.start, b.cuts[0].label) for b in plan.bars) == [
        (pytest.approx(0.005), "A"),
        (pytest.approx(1.305), "B"),
    ]
    assert plan.cost == pytest.approx(9.0)
    with pytest.raises(InputError, match="the longest that fits the bars is 1695"):
        cut([Piece("C", 1.8, 1)], [bar], Saw(0.002, 0.005))


def test_parts_of_a_bar_share_its_price():
    parts = usable_parts([Bar(3.0, 9.0, 1, zones=((0.0, 0.5), (1.0, 1.5)))], by_price=True)
    assert [(p.start, p.length, p.price) for p in parts] == [(0.5, 0.5, 2.25), (1.5, 1.5, 6.75)]


def test_a_rest_that_is_kept_decides_between_bars():
    # 1.0 m from a 3 m bar leaves 2 m worth 4; from a 1.2 m bar it leaves nothing worth keeping
    wanted, bars = [Piece("A", 1.0, 1)], [Bar(3.0, 7.5), Bar(1.2, 4.0)]
    assert cut(wanted, bars).bars[0].length == 1.2
    plan = cut(wanted, bars, Saw(keep=0.5, keep_value=2.0))
    assert plan.bars[0].length == 3.0
    assert plan.bars[0].worth == pytest.approx(4.0)
    assert plan.cost == pytest.approx(3.5)
    assert plan.proven


def test_a_rest_shorter_than_is_kept_is_worth_nothing():
    plan = cut([Piece("A", 1.0, 1)], [Bar(1.4, 4.0)], Saw(keep=0.5, keep_value=2.0))
    assert (plan.bars[0].worth, plan.cost) == (0.0, 4.0)


def test_an_offcut_dearer_than_its_bar_is_refused():
    with pytest.raises(InputError) as caught:
        cut([Piece("A", 1.0, 1)], [Bar(3.0, 6.0)], Saw(keep=0.5, keep_value=2.5))
    assert caught.value.code == "cutting-value"


def test_kept_offcuts_against_every_way_of_cutting():
    lengths, demand, value = (0.9, 0.7, 0.4), (2, 2, 2), 1.5
    bars = [Bar(2.0, 6.0), Bar(1.2, 3.9)]
    pieces = [Piece(str(k), one, n) for k, (one, n) in enumerate(zip(lengths, demand, strict=True))]
    plan = cut(pieces, bars, Saw(keep=0.6, keep_value=value))
    best = {(0, 0, 0): 0.0}
    for need in sorted(product(range(3), repeat=3), key=sum):
        for taken in product(*(range(n + 1) for n in need)):
            if not any(taken):
                continue
            used = sum(n * one for n, one in zip(taken, lengths, strict=True))
            rest = tuple(a - b for a, b in zip(need, taken, strict=True))
            for bar in bars:
                left = bar.length - used
                if left < -1e-9:
                    continue
                cost = best[rest] + bar.price - (value * left if left >= 0.6 - 1e-9 else 0.0)
                best[need] = min(best.get(need, np.inf), cost)
    assert plan.cost == pytest.approx(best[demand])
    assert plan.bound <= best[demand] + 1e-9


def test_stops_are_measured_from_the_datum_end():
    plan = cut([Piece("A", 0.7, 2), Piece("B", 0.5, 1)], [Bar(2.0)], Saw(0.002, 0.005))
    assert plan.bars[0].stops == pytest.approx((0.705, 1.407, 1.909))


def test_near_patterns_are_all_that_a_plan_can_hold():
    pieces = [Piece("A", 0.45, 4), Piece("B", 0.31, 5), Piece("C", 0.22, 6)]
    parts = usable_parts([Bar(1.0, 7.0), Bar(0.6, 4.4)], by_price=True)
    job, _ = make_job(pieces, parts, Saw(), [7.0, 4.4])
    master = Master(job)
    master.add(single_patterns(job))
    start = solve_fractional(job, master, lambda cost: cost)
    gap = 1.3
    found = {(p.bar, p.counts) for p in near_patterns(job, start, start.bound + gap)}
    wanted = set()
    for bar, counts in product(range(2), product(range(5), range(6), range(7))):
        fits = np.dot(counts, job.widths) <= job.capacities[bar]
        if fits and job.costs[bar] - np.dot(counts, start.values) <= gap + 1e-9:
            wanted.add((bar, counts))
    assert wanted
    assert found == wanted


def test_two_prices_are_proven_where_the_job_is_small():
    pieces = [Piece(str(w), w / 1000, n) for w, n in [(1272, 7), (1060, 9), (961, 14), (804, 11)]]
    plan = cut(pieces, [Bar(3.048, 9.8), Bar(1.524, 5.6)], Saw(0.002, 0.005))
    assert plan.proven
