"""Orders: what was sold, so that the same part can be made years later."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa

from strutwright.catalogue import CATALOGUE_VERSION
from strutwright.design import Design, kit_number
from strutwright.errors import InputError
from strutwright.store.base import ORDERS, Records
from strutwright.values import plain
from strutwright.version import __version__

__all__ = ["Order", "add_order", "get_order", "list_orders"]


@dataclass(frozen=True)
class Order:
    """An order as it was frozen.

    Parameters
    ----------
    number : int
    kit : str
        Number of the kit, as on its labels.
    name, brief : str
        Of the kit; the text of the brief as read.
    version, catalogue : str
        Of the tool and of the catalogue.
    parts : mapping
        Strut and hub types with their lengths, sockets and places.
    """

    number: int
    kit: str
    name: str
    brief: str
    version: str
    catalogue: str
    parts: dict[str, Any]


def add_order(records: Records, design: Design) -> Order:
    """Freeze `design` as an order and return it with its number."""
    kit, shell = design.kit, design.shell
    parts = {
        "struts": [
            {
                "label": t.label,
                "cut_length": t.cut_length,
                "node_length": t.node_length,
                "pieces": [[p.label, p.length] for p in t.pieces],
                "ends": plain(shell.struts[t.struts]),
                "ids": plain(t.struts),
            }
            for t in kit.strut_types
        ],
        "hubs": [
            {
                "label": t.label,
                "valence": t.valence,
                "sockets": list(t.sockets),
                "spokes": plain(t.spokes),
                "ids": plain(t.hubs),
            }
            for t in kit.hub_types
        ],
        "course": plain(shell.course),
        "valence": [int(kit.hub_types[k].valence) for k in kit.hub_type_of],
    }
    with records.begin() as connection:
        done = connection.execute(
            ORDERS.insert()
            .values(
                kit=kit_number(design.brief),
                name=design.brief.project.name,
                brief=design.brief.text,
                version=__version__,
                catalogue=CATALOGUE_VERSION,
                parts=json.dumps(parts),
            )
            .returning(ORDERS.c.number)
        )
        number = int(done.scalar_one())
    return get_order(records, number)


def get_order(records: Records, number: int) -> Order:
    """Return the order with `number`.

    Raises
    ------
    InputError
        ``order-unknown``.
    """
    with records.begin() as connection:
        asked = sa.select(ORDERS).where(ORDERS.c.number == number)
        row = connection.execute(asked).mappings().first()
    if row is None:
        raise InputError(
            "order-unknown", f"there is no order {number}", "order", "strutwright order list"
        )
    return _order(row)


def list_orders(records: Records) -> list[Order]:
    """Return all orders, the oldest first."""
    with records.begin() as connection:
        rows = connection.execute(sa.select(ORDERS).order_by(ORDERS.c.number)).mappings()
        return [_order(row) for row in rows]


def _order(row: sa.RowMapping) -> Order:
    names = ("number", "kit", "name", "brief", "version", "catalogue")
    return Order(**{name: row[name] for name in names}, parts=json.loads(row["parts"]))
