"""Cutting stock: published instances whose optimum is known, and kerf arithmetic."""

import pytest

from strutwright.catalogue import Bar
from strutwright.cutting import Piece, Saw, cut
from strutwright.errors import InputError


def bars_for(stock, pieces, saw=None):
    plan = cut([Piece(f"P{k}", x, n) for k, (x, n) in enumerate(pieces)], [Bar(stock)], saw)
    sawn = {}
    for bar in plan.bars:
        for piece in bar.cuts:
            sawn[piece.label] = sawn.get(piece.label, 0) + 1
    assert sawn == {f"P{k}": n for k, (_, n) in enumerate(pieces)}
    return plan


def test_paper_rolls():
    """Wikipedia, Cutting stock problem (read): 73 rolls of 5600, waste 0.401 %."""
    widths = [1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200]
    demand = [22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20]
    plan = bars_for(5.600, [(w / 1000, n) for w, n in zip(widths, demand, strict=True)])
    assert len(plan.bars) == 73
    assert 1 - plan.used / plan.bought == pytest.approx(0.00401, abs=5e-6)


def test_chvatal():
    """V. Chvatal, Linear Programming (1983), ch. 13; data recalled, value solved and proven."""
    plan = bars_for(1.00, [(0.45, 97), (0.36, 610), (0.31, 395), (0.14, 211)])
    assert len(plan.bars) == 453


def test_woodco():
    """W. Winston, Operations Research, column generation; data recalled, value proven."""
    assert len(bars_for(17.0, [(3.0, 25), (5.0, 20), (9.0, 15)]).bars) == 19


@pytest.mark.parametrize(("length", "bars"), [(1.524, 2), (1.525, 4)])
def test_kerf_edge(length, bars):
    """n pieces of one bar take their sum and n - 1 kerfs (arithmetic)."""
    assert len(bars_for(3.050, [(length, 4)], Saw(kerf=0.002)).bars) == bars


def test_a_piece_longer_than_every_bar_is_named():
    with pytest.raises(InputError, match="piece-too-long"):
        cut([Piece("A", 4.0, 1)], [Bar(3.0)], Saw())
