import pytest

from strutwright.brief import parse_brief
from strutwright.catalogue import Bar
from strutwright.cutting import Piece, Saw, cut, kit_pieces, plan_cuts
from strutwright.errors import InputError
from strutwright.parts import make_kit
from strutwright.shape.dome import DomeSpec, dome


def test_the_cheaper_bars_are_taken():
    wanted = [Piece("A", 1.4, 4)]
    by_price = cut(wanted, [Bar(3.0, 10.0), Bar(1.5, 4.0)])
    assert [b.length for b in by_price.bars] == [1.5] * 4
    assert by_price.cost == pytest.approx(16.0)
    assert (by_price.proven, by_price.by_price) == (True, True)
    dear = cut(wanted, [Bar(3.0, 10.0), Bar(1.5, 6.0)])
    assert [b.length for b in dear.bars] == [3.0] * 2


def test_a_limited_bar_is_not_used_more_often_than_it_is_there():
    plan = cut([Piece("A", 1.4, 5)], [Bar(3.0, 10.0), Bar(1.5, 4.0, 1)])
    assert sorted(b.length for b in plan.bars) == [1.5, 3.0, 3.0]
    assert plan.cost == pytest.approx(24.0)
    assert plan.proven


def test_bars_that_run_out_are_an_error():
    with pytest.raises(InputError) as caught:
        cut([Piece("A", 1.4, 4)], [Bar(3.0, None, 1)])
    assert caught.value.code == "bars-too-few"
    assert "3.00 m" in caught.value.what


def test_bars_that_just_suffice_are_used_up():
    plan = cut([Piece("A", 1.4, 2), Piece("B", 0.9, 1)], [Bar(3.0, None, 1), Bar(1.0, None, 1)])
    assert sorted(b.length for b in plan.bars) == [1.0, 3.0]


def test_every_piece_that_fits_no_bar_is_named_with_the_longest_that_does():
    wanted = [Piece("A", 3.1, 2), Piece("B", 1.0, 5), Piece("C", 3.045, 1)]
    with pytest.raises(InputError) as caught:
        cut(wanted, [Bar(3.048), Bar(6.0, quantity=0)], Saw(0.002, 0.005))
    assert [p.code for p in caught.value.problems] == ["piece-too-long"] * 2
    assert "piece A is 3100.0 mm; the longest that fits the bars is 3043.0 mm" in caught.value.what
    assert "piece C" in caught.value.problems[1].what


def test_end_trim_and_kerf_are_taken_from_the_offcut():
    plan = cut([Piece("A", 0.7, 4)], [Bar(3.048)], Saw(0.002, 0.005))
    (bar,) = plan.bars
    assert bar.offcut == pytest.approx(3.048 - 0.005 - 4 * 0.7 - 4 * 0.002)
    full = cut([Piece("A", 1.521, 2)], [Bar(3.048)], Saw(0.001, 0.005))
    assert full.bars[0].offcut == 0.0


def test_pieces_of_one_length_keep_their_own_labels():
    plan = cut([Piece("A1", 0.9, 2), Piece("B", 0.9, 3)], [Bar(3.0)])
    labels = sorted(c.label for b in plan.bars for c in b.cuts)
    assert labels == ["A1", "A1", "B", "B", "B"]


def test_inches_fit_to_the_last_hair():
    inch = 0.0254
    # 2 x 59 15/16 in and a kerf of 1/8 in make 120 in
    plan = cut([Piece("A", 59.9375 * inch, 2)], [Bar(120 * inch)], Saw(0.125 * inch))
    assert len(plan.bars) == 1


def test_metres_are_saved_where_a_price_is_missing_and_that_is_told():
    plan = cut([Piece("A", 1.0, 3)], [Bar(3.0, 10.0), Bar(2.0)])
    assert not plan.by_price
    assert plan.cost == pytest.approx(3.0)
    assert [n.code for n in plan.notes] == ["bar-price-missing"]


def test_nothing_to_cut_costs_nothing():
    plan = cut([Piece("A", 1.0, 0)], [Bar(3.0)])
    assert (plan.bars, plan.cost, plan.proven, plan.gap) == ((), 0.0, True, 0.0)


@pytest.mark.parametrize(
    ("piece", "bar", "saw"),
    [
        (Piece("A", 0.0, 1), Bar(3.0), Saw()),
        (Piece("A", float("nan"), 1), Bar(3.0), Saw()),
        (Piece("A", 1.0, -1), Bar(3.0), Saw()),
        (Piece("A", 1.0, 1), Bar(-3.0), Saw()),
        (Piece("A", 1.0, 1), Bar(3.0, None, -1), Saw()),
        (Piece("A", 1.0, 1), Bar(3.0), Saw(kerf=-0.001)),
        (Piece("A", 1.0, 1), Bar(3.0), Saw(end_trim=float("inf"))),
    ],
)
def test_values_out_of_bounds_are_refused(piece, bar, saw):
    with pytest.raises(InputError) as caught:
        cut([piece], [bar], saw)
    assert caught.value.code == "cutting-value"


def test_no_bar_at_all_is_refused():
    with pytest.raises(InputError, match="no bar"):
        cut([Piece("A", 1.0, 1)], [])


def test_an_unproven_plan_says_so_with_its_gap():
    # three widths of just over a third: two a bar, while the linear bound hopes for more
    wanted = [Piece("A", 0.51, 1), Piece("B", 0.27, 2), Piece("C", 0.252, 4)]
    plan = cut(wanted, [Bar(1.0, 7.0), Bar(0.53, 3.777777)])
    assert plan.bound <= plan.cost
    assert plan.gap == pytest.approx(0 if plan.proven else 1 - plan.bound / plan.cost)


def test_the_same_job_gives_the_same_plan_without_a_word(capfd):
    wanted = [Piece("A", 0.9317, 30), Piece("B", 0.8121, 41), Piece("C", 0.7003, 28)]
    bars = [Bar(3.048, 9.8), Bar(1.524, 5.6, 12)]
    assert cut(wanted, bars) == cut(wanted, bars)
    out, err = capfd.readouterr()
    assert (out, err) == ("", "")


def test_a_kit_is_cut_from_the_bars_of_its_brief():
    text = """[project]
name = "Fernlow shelter"
[size]
width = "6 m"
rise = "3 m"
[struts]
stock = "emt-1"
bars = [{ length = "10 ft", price = 9.80 }]
kerf = "2 mm"
end_trim = "5 mm"
[delivery]
carrier = "freight"
"""
    brief = parse_brief(text, "fernlow.toml")
    kit = make_kit(dome(DomeSpec(3.0, division=(2, 0))), brief)
    plan = plan_cuts(kit, brief)
    assert len(plan.bars) == 65
    assert plan.cost == pytest.approx(65 * 9.80)
    assert {b.stock for b in plan.bars} == {"emt-1"}
    assert sum(p.quantity for p in kit_pieces(kit)) == 65
