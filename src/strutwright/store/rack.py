"""The rack: bars in, and a cutting plan booked whole or not at all."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

import sqlalchemy as sa

from strutwright.catalogue import Bar
from strutwright.cutting import CuttingPlan
from strutwright.cutting.zones import usable_parts
from strutwright.errors import InputError
from strutwright.store.base import RACK, Records

__all__ = ["RackRow", "add_bars", "book_cut", "list_rack"]


@dataclass(frozen=True)
class RackRow:
    """One bar or offcut in the rack; `came_from` is the bar that it was cut from."""

    id: int
    name: str
    stock: str
    length: float
    price: float | None
    zones: tuple[tuple[float, float], ...]
    came_from: int | None

    def bar(self) -> Bar:
        """Return it as a bar of which there is one; its name is its number in the rack."""
        return Bar(self.length, self.price, 1, self.stock, f"#{self.id}", self.zones)


def add_bars(records: Records, bars: Sequence[Bar]) -> list[int]:
    """Put `bars` into the rack and return their numbers; a bar without a quantity is one."""
    with records.begin() as connection:
        return [
            _add(connection, bar, None)
            for bar in bars
            for _ in range(1 if bar.quantity is None else bar.quantity)
        ]


def _add(connection: sa.Connection, bar: Bar, came_from: int | None) -> int:
    done = connection.execute(
        RACK.insert()
        .values(
            name=bar.name,
            stock=bar.stock,
            length=bar.length,
            price=bar.price,
            unusable=json.dumps(bar.zones),
            came_from=came_from,
        )
        .returning(RACK.c.id)
    )
    return int(done.scalar_one())


def list_rack(records: Records, stock: str = "") -> list[RackRow]:
    """Return what is in the rack and not taken, the longest first; of `stock` where it is named."""
    asked = sa.select(RACK).where(RACK.c.taken_by.is_(None))
    if stock:
        asked = asked.where(RACK.c.stock == stock)
    with records.begin() as connection:
        rows = connection.execute(asked.order_by(RACK.c.length.desc(), RACK.c.id)).mappings()
        return [
            RackRow(
                row["id"],
                row["name"],
                row["stock"],
                row["length"],
                row["price"],
                tuple((a, b) for a, b in json.loads(row["unusable"])),
                row["came_from"],
            )
            for row in rows
        ]


def book_cut(
    records: Records, plan: CuttingPlan, job: str, *, keep: float | None = None
) -> list[int]:
    """Take the bars of `plan` out of the rack and put its offcuts in; return their numbers.

    One transaction: a crash in the middle leaves the rack as it was, and a bar that another seat
    has taken meanwhile refuses the whole. Bars of the plan that are named ``#12`` are number 12
    of the rack; the others are taken as bought. Rests of at least `keep` (m) go in.

    Raises
    ------
    InputError
        ``bar-taken``: bars of the plan are no longer in the rack; all are named.
    """
    numbers = sorted({_number(bar.name) for bar in plan.bars} - {0})
    with records.begin() as connection:
        gone = [number for number in numbers if not _take(connection, number, job)]
        if gone:
            names = ", ".join(f"#{number}" for number in gone)
            raise InputError(
                "bar-taken", f"no longer in the rack: {names}", job,
                "plan the job again with the rack as it is",
            )  # fmt: skip
        return _rests(connection, plan, keep) + _uncut(connection, plan, numbers)


def _rests(connection: sa.Connection, plan: CuttingPlan, keep: float | None) -> list[int]:
    """Put in the rests of the plan that are long enough."""
    put = []
    for bar in plan.bars:
        if keep is not None and bar.offcut >= keep:
            price = None if bar.price is None else bar.price / bar.length * bar.offcut
            rest = Bar(bar.offcut, price, 1, bar.stock, "offcut")
            put.append(_add(connection, rest, _number(bar.name) or None))
    return put


def _uncut(connection: sa.Connection, plan: CuttingPlan, numbers: Sequence[int]) -> list[int]:
    """Put in the parts between unusable zones that no piece was cut from."""
    put = []
    for number in numbers:
        asked = sa.select(RACK).where(RACK.c.id == number)
        row = connection.execute(asked).mappings().one()
        zones = tuple((a, b) for a, b in json.loads(row["unusable"]))
        bar = Bar(row["length"], row["price"], 1, row["stock"], "offcut", zones)
        starts = [one.start for one in plan.bars if _number(one.name) == number]
        for part in usable_parts([bar], by_price=row["price"] is not None):
            end = part.start + part.length
            if not any(part.start <= start < end for start in starts):
                rest = Bar(part.length, part.price, 1, part.stock, "offcut")
                put.append(_add(connection, rest, number))
    return put


def _number(name: str) -> int:
    digits = name.removeprefix("#")
    return int(digits) if name.startswith("#") and digits.isdigit() else 0


def _take(connection: sa.Connection, number: int, job: str) -> bool:
    done = connection.execute(
        RACK.update().where(RACK.c.id == number, RACK.c.taken_by.is_(None)).values(taken_by=job)
    )
    return done.rowcount == 1
