"""A price sums cent for cent, and what has no price is named."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from strutwright.pricing import Ask, cents, price_kit

ASK = Ask(
    currency="EUR",
    hour=38.0,
    margin=0.25,
    tax=0.20,
    bars=637.0,
    n_bars=65,
    n_cuts=65,
    n_ends=130,
    n_hubs=26,
    n_couplers=0,
    n_struts=65,
    n_parcels=5,
    hub=4.1,
    fasteners=(("bolt", 26, 0.355),),
    freight=31.9,
)


def test_a_price_worked_by_hand():
    # bars 637.00; hubs 26 x 4.10 = 106.60; bolts 26 x 0.355 = 9.23
    # work: 65 cuts are 1.08 h; freight 5 x 31.90 = 159.50
    found = price_kit(ASK)
    amounts = {line.item: line.amount for line in found.lines}
    assert amounts["bars"] == Decimal("637.00")
    assert amounts["hub bodies"] == Decimal("106.60")
    assert amounts["bolt"] == Decimal("9.23")
    assert amounts["work: saw x 65"] == Decimal("41.04")
    assert amounts["freight"] == Decimal("159.50")
    cost = sum(line.amount for line in found.lines if line.kind not in {"margin", "tax"})
    assert amounts["margin"] == cents(cost * Decimal("0.25"))
    assert amounts["tax"] == cents((cost + amounts["margin"]) * Decimal("0.2"))
    assert found.is_complete


@given(
    st.floats(0, 1e5, allow_nan=False),
    st.floats(0, 500, allow_nan=False),
    st.floats(0, 3),
    st.floats(0, 0.5),
)
def test_lines_sum_to_the_total_cent_for_cent(bars, hour, margin, tax):
    found = price_kit(replace(ASK, bars=bars, hour=hour, margin=margin, tax=tax))
    assert sum(line.amount for line in found.lines) == found.total
    assert all(line.amount == cents(line.amount) for line in found.lines)


def test_what_has_no_price_is_named_and_not_counted():
    found = price_kit(replace(ASK, freight=None, bars=None))
    assert not found.is_complete
    assert [note.code for note in found.notes] == ["price-missing"]
    assert "bars" in found.notes[0].text
    assert "freight" in found.notes[0].text


def test_hubs_only_has_neither_bars_nor_saw_work():
    found = price_kit(replace(ASK, hubs_only=True, cover=(80.0, 2.0)))
    kinds = {line.kind for line in found.lines}
    assert "material" not in kinds
    assert "cover" not in kinds
    assert not any("saw" in line.item for line in found.lines)


@pytest.mark.parametrize(("amount", "text"), [(2.675, "2.68"), (0.005, "0.01"), (1.0, "1.00")])
def test_half_a_cent_goes_up(amount, text):
    assert str(cents(amount)) == text
