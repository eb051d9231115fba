"""The rack whole or not at all; two seats; orders and parts; export and import; on both servers."""

import subprocess
import sys
import threading
from types import SimpleNamespace

import pytest
import sqlalchemy as sa

from strutwright.catalogue import Bar
from strutwright.cutting import Piece, Saw, cut
from strutwright.errors import InputError
from strutwright.store import (
    Order,
    add_bars,
    book_cut,
    export_records,
    find_part,
    get_order,
    import_records,
    list_rack,
    open_records,
)
from strutwright.store import rack as rack_room
from strutwright.store.base import ORDERS

SAW = Saw(0.002, 0.0, keep=0.4)


def planned(records, pieces):
    return cut(pieces, [row.bar() for row in list_rack(records)], SAW)


def test_cutting_takes_bars_out_and_puts_rests_in(records):
    first, second = add_bars(records, [Bar(3.0, 9.0, 1, "tube"), Bar(1.0, 2.0, 1, "tube")])
    plan = planned(records, [Piece("A", 2.0, 1)])
    put = book_cut(records, plan, "job 1", keep=0.4)
    rows = {row.id: row for row in list_rack(records)}
    assert set(rows) == {second, *put}
    assert rows[put[0]].length == pytest.approx(0.998)
    assert rows[put[0]].came_from == first
    # nothing comes from nowhere: pieces, kerf and rests are what went out
    assert rows[put[0]].length + 2.0 + 0.002 == pytest.approx(3.0)


def test_a_crash_in_the_middle_loses_nothing(records, monkeypatch):
    add_bars(records, [Bar(3.0, 9.0, 2, "tube")])
    before = list_rack(records)
    plan = planned(records, [Piece("A", 2.0, 2)])

    def crash(*_):
        raise RuntimeError("the lamp fell on the switch")

    monkeypatch.setattr(rack_room, "_rests", crash)
    with pytest.raises(RuntimeError):
        book_cut(records, plan, "job 1", keep=0.4)
    assert list_rack(records) == before


SEAT = """
import sys, time
from strutwright.cutting import Piece, Saw, cut
from strutwright.store import book_cut, list_rack, open_records, rack

put_in = rack._rests

def stop_before(connection, plan, keep):
    if sys.argv[2] == "after":
        put_in(connection, plan, keep)
    print("bars are out", flush=True)
    time.sleep(600)

rack._rests = stop_before
records = open_records(sys.argv[1])
bars = [row.bar() for row in list_rack(records)]
book_cut(records, cut([Piece("A", 2.0, 2)], bars, Saw(0.002, 0.0, keep=0.4)), "job 1", keep=0.4)
"""


@pytest.mark.parametrize("moment", ["before", "after"])
def test_a_seat_killed_between_bars_out_and_rests_in_loses_nothing(records, where, moment):
    """A process of its own, killed without warning with its transaction open."""
    add_bars(records, [Bar(3.0, 9.0, 2, "tube")])
    before = list_rack(records)
    seat = subprocess.Popen(
        [sys.executable, "-c", SEAT, where, moment], stdout=subprocess.PIPE, text=True
    )
    try:
        assert seat.stdout.readline().strip() == "bars are out"
    finally:
        seat.kill()  # SIGKILL: nothing of its own runs any more
        seat.wait(timeout=60)
        seat.stdout.close()
    found = open_records(where)
    assert list_rack(found) == before
    plan = planned(found, [Piece("A", 2.0, 2)])
    put = book_cut(found, plan, "job 2", keep=0.4)  # and another seat can take the bars
    assert len(put) == 2
    assert {row.id for row in list_rack(found)} == set(put)


def test_two_seats_cannot_take_the_same_bar(records, where):
    add_bars(records, [Bar(3.0, 9.0, 1, "tube")])
    plan = planned(records, [Piece("A", 2.0, 1)])
    outcomes, gate = [], threading.Barrier(2)

    def seat(name):
        own = open_records(where)
        gate.wait()
        try:
            book_cut(own, plan, name, keep=0.4)
            outcomes.append("booked")
        except InputError as error:
            outcomes.append(error.code)
        finally:
            own.engine.dispose()

    seats = [threading.Thread(target=seat, args=(f"seat {k}",)) for k in range(2)]
    for one in seats:
        one.start()
    for one in seats:
        one.join()
    assert sorted(outcomes) == ["bar-taken", "booked"]


def test_a_part_between_zones_that_is_not_cut_goes_back(records):
    add_bars(records, [Bar(3.0, 9.0, 1, "tube", "", ((1.0, 1.1),))])
    plan = planned(records, [Piece("A", 1.8, 1)])
    book_cut(records, plan, "job 1", keep=0.4)
    assert [row.length for row in list_rack(records)] == [pytest.approx(1.0)]


def parts():
    return {
        "struts": [
            {"label": "A", "pieces": [["A", 1.2]], "ids": [0, 1], "ends": [[0, 2], [1, 3]]},
            {"label": "B", "pieces": [["B1", 0.6]], "ids": [2], "ends": [[2, 3]]},
        ],
        "hubs": [],
        "course": [0, 0, 1, 1],
        "valence": [4, 5, 6, 6],
    }


def test_a_measured_piece_is_found_with_its_places():
    order = Order(1, "K", "n", "", "", "", parts())
    (one,) = find_part(order, 1.203, 5)
    assert (one.label, one.places, one.courses) == ("A", ((1, 1, 3),), (1,))
    assert find_part(order, 1.203, 3) == []
    assert [one.label for one in find_part(order, 0.599)] == ["B1"]
    assert find_part(order, 1.21) == []


def test_everything_is_exported_and_read_back(records, tmp_path):
    add_bars(records, [Bar(3.0, 9.0, 2, "tube", "R", ((1.0, 1.1),))])
    order = {"kit": "K", "name": "n", "brief": "b", "version": "1", "catalogue": "c"}
    with records.begin() as connection:
        connection.execute(ORDERS.insert().values(parts='{"struts": []}', **order))
    data = export_records(records)
    other = open_records(str(tmp_path / "other.sqlite"))
    assert import_records(other, data) == 3
    assert export_records(other) == data
    assert list_rack(other) == list_rack(records)
    with pytest.raises(InputError, match="not empty"):
        import_records(other, data)
    add_bars(other, [Bar(1.0, None, 1, "tube")])
    assert len(list_rack(other)) == 3
    other.engine.dispose()


def test_exported_records_go_on_counting_on_a_server(server, tmp_path):
    other = open_records(str(tmp_path / "w.sqlite"))
    add_bars(other, [Bar(3.0, 9.0, 2, "tube")])
    held = SimpleNamespace(records=open_records(server))
    with held.records.begin() as connection:
        for name in ("rack", "orders", "prices"):
            connection.execute(sa.text(f"delete from {name}"))
    import_records(held.records, export_records(other))
    assert add_bars(held.records, [Bar(1.0, None, 1, "tube")]) == [3]
    held.records.engine.dispose()
    other.engine.dispose()


@pytest.mark.parametrize("data", [b"", b"{}", b'{"format": "x", "rack": [], "orders": []}', b"[1]"])
def test_what_is_no_export_is_refused(tmp_path, data):
    held = open_records(str(tmp_path / "w.sqlite"))
    with pytest.raises(InputError) as caught:
        import_records(held, data)
    assert caught.value.code == "records-import"
    held.engine.dispose()


def test_an_order_that_is_not_there_is_named(records):
    with pytest.raises(InputError) as caught:
        get_order(records, 7)
    assert caught.value.code == "order-unknown"


def test_records_that_cannot_be_opened_say_why(tmp_path):
    with pytest.raises(InputError) as caught:
        open_records(str(tmp_path / "no" / "folder" / "w.sqlite"))
    assert caught.value.code == "records-unreachable"
