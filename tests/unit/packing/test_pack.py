"""Parcels: all pieces once, no limit broken, fewest where it says so."""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from strutwright.catalogue import carrier
from strutwright.errors import InputError
from strutwright.packing import Item, pack, room_of

EURO = carrier("parcel-175")


@st.composite
def loads(draw):
    return [
        Item(
            "ABCDEFGH"[k],
            draw(st.integers(0, 2)),
            draw(st.integers(1, 12)),
            draw(st.sampled_from([0.4, 0.9, 1.2, 1.7])),
            draw(st.sampled_from([0.025, 0.05, 0.1])),
            draw(st.sampled_from([0.3, 0.9, 2.4])),
            is_hub=False,
        )
        for k in range(draw(st.integers(1, 5)))
    ]


@settings(max_examples=30, deadline=None)
@given(loads())
def test_parcels_sum_to_the_pieces_and_keep_the_limits(items):
    plan = pack(items, EURO)
    packed = Counter()
    mass = {item.label: item.mass for item in items}
    for parcel in plan.parcels:
        packed.update(parcel.counts)
        assert parcel.length <= EURO.length + 1e-9
        girth = parcel.length + 2 * (parcel.width + parcel.height)
        assert girth <= EURO.length_and_girth + 1e-9
        assert parcel.mass <= EURO.packing_mass + 1e-9
        held = sum(mass[label] * n for label, n in parcel.counts.items())
        assert parcel.mass == pytest.approx(held + 0.5)
    wanted = Counter()
    for item in items:
        wanted[item.label] += item.quantity
    assert packed == wanted
    assert plan.bound <= len(plan.parcels)
    assert plan.proven == (plan.bound == len(plan.parcels))


def test_mass_alone_by_hand():
    # 10 kg each, 23.5 kg a parcel: two a parcel, so five pieces take three
    plan = pack([Item("A", 0, 5, 1.0, 0.05, 10.0)], EURO)
    assert (len(plan.parcels), plan.proven) == (3, True)


def test_cross_section_alone_by_hand():
    # 1.71 m long: girth leaves (3.0 - 1.75) / 4 = 0.3125 m square; 0.15 m pieces: 4.3 a parcel
    assert room_of(EURO, 1.71).width == pytest.approx(0.3125)
    plan = pack([Item("A", 0, 9, 1.71, 0.15, 0.1)], EURO)
    assert (len(plan.parcels), plan.proven) == (3, True)


def test_a_parcel_holds_a_stage_where_that_costs_no_parcel():
    items = [Item("A", 0, 2, 1.0, 0.05, 10.0), Item("A", 1, 2, 1.0, 0.05, 10.0)]
    assert [p.stages for p in pack(items, EURO).parcels] == [(0,), (1,)]


def test_a_piece_that_fits_no_parcel_is_named_with_the_limit():
    with pytest.raises(InputError) as caught:
        pack([Item("A", 0, 1, 1.80, 0.05, 1.0)], EURO)
    assert caught.value.code == "parcel-too-small"
    assert "1.710 m" in caught.value.what


def test_small_parts_ride_in_the_lightest_parcel():
    items = [Item("A", 0, 3, 1.0, 0.05, 10.0)]
    bare, loaded = pack(items, EURO), pack(items, EURO, 2.0)
    assert len(bare.parcels) == len(loaded.parcels)
    assert sum(p.mass for p in loaded.parcels) == pytest.approx(
        sum(p.mass for p in bare.parcels) + 2.0
    )


def test_hubs_lie_behind_one_another():
    plan = pack([Item("H1", 0, 20, 0.1, 0.1, 0.2, is_hub=True)], EURO)
    assert len(plan.parcels) == 1
    assert plan.parcels[0].counts == {"H1": 20}


def test_small_parts_that_need_a_parcel_of_their_own_are_in_the_bound():
    # 20 kg and 5 kg of small parts, 23.5 kg a parcel: two by mass, and two are sent
    plan = pack([Item("A", 0, 2, 1.0, 0.05, 10.0)], EURO, 5.0)
    assert (len(plan.parcels), plan.bound, plan.proven) == (2, 2, True)
    # two parcels of 15 kg take no 20 kg of small parts: three are sent, and by mass three are due
    plan = pack([Item("A", 0, 2, 1.0, 0.05, 15.0)], EURO, 20.0)
    assert (len(plan.parcels), plan.bound, plan.proven) == (3, 3, True)
    # two parcels of 15 kg and 10 kg of small parts that lie in one box: not proven to need three
    plan = pack([Item("A", 0, 2, 1.0, 0.05, 15.0)], EURO, 10.0)
    assert (len(plan.parcels), plan.bound, plan.proven) == (3, 2, False)
