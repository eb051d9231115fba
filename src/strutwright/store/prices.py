"""Price lists of the workshop, by name."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

import sqlalchemy as sa

from strutwright.errors import InputError
from strutwright.store.base import PRICES, Records

__all__ = ["get_prices", "list_price_lists", "set_prices"]


def set_prices(records: Records, name: str, prices: Mapping[str, Decimal]) -> None:
    """Put `prices` (item to price) in the place of what the list `name` held."""
    rows = [{"list": name, "item": item, "price": price} for item, price in prices.items()]
    with records.begin() as connection:
        connection.execute(PRICES.delete().where(PRICES.c.list == name))
        connection.execute(PRICES.insert(), rows)


def get_prices(records: Records, name: str) -> dict[str, Decimal]:
    """Return the prices of the list `name` by item, in the order of their names.

    Raises
    ------
    InputError
        ``prices-unknown``.
    """
    asked = sa.select(PRICES.c.item, PRICES.c.price).where(PRICES.c.list == name)
    with records.begin() as connection:
        rows = connection.execute(asked.order_by(PRICES.c.item)).all()
    if not rows:
        known = ", ".join(list_price_lists(records)) or "none yet"
        raise InputError(
            "prices-unknown", f"there is no price list {name!r}", "list", f"there are: {known}"
        )
    return {item: Decimal(price) for item, price in rows}


def list_price_lists(records: Records) -> dict[str, int]:
    """Return the names of the price lists and how many items each has."""
    asked = sa.select(PRICES.c.list, sa.func.count()).group_by(PRICES.c.list)
    with records.begin() as connection:
        rows = connection.execute(asked.order_by(PRICES.c.list)).all()
    return {name: int(n) for name, n in rows}
