"""Tables as comma-separated values."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

from strutwright.exports.tables import (
    Cell,
    CutBar,
    Table,
    cut_plan_table,
    fastener_table,
    hub_type_table,
    strut_type_table,
)
from strutwright.parts import Kit

__all__ = ["csv_bytes", "cut_plan_csv", "parts_csv"]

DIGITS = 6
"""Places after the point of a number in m or kg: a thousandth of a millimetre."""


def csv_bytes(table: Table) -> bytes:
    """Return `table` as CSV after RFC 4180: UTF-8, commas, CRLF, a head row."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(table.head)
    writer.writerows([[_cell(cell) for cell in row] for row in table.rows])
    return stream.getvalue().encode()


def _cell(cell: Cell) -> str | int:
    if cell is None:
        return ""
    if isinstance(cell, float):
        return f"{cell:.{DIGITS}f}"
    return cell


def parts_csv(kit: Kit, system: str = "metric", step: float | None = None) -> bytes:
    """Return the parts list: strut types, their pieces, hub types, fasteners.

    Lengths stand in m, and once more as the reader's `system` (``metric``, ``imperial``,
    ``both``) shows them to the workshop's `step` (m).
    """
    struts = strut_type_table(kit, system, step)
    head = (
        *("kind", "label", "quantity", "band", "role", "node length (m)", "cut length (m)"),
        *("cut length", "details", "mass of one (kg)", "price of one"),
    )
    rows: list[tuple[Cell, ...]] = []
    for label, band, quantity, role, node, cut, shown, pieces, _ in struts.rows:
        more = (role, node, cut, shown, pieces, None, None)
        rows.append(("strut", label, quantity, band, *more))
    for label, valence, quantity, sockets, *_ in hub_type_table(kit).rows:
        details = f"{valence} spokes: {sockets}"
        rows.append(("hub", label, quantity, *(None,) * 5, details, None, None))
    for item, quantity, mass, price in fastener_table(kit).rows:
        rows.append(("fastener", item, quantity, *(None,) * 6, mass, price))
    return csv_bytes(Table("parts", head, tuple(rows)))


def cut_plan_csv(
    bars: Sequence[CutBar], system: str = "metric", step: float | None = None
) -> bytes:
    """Return a cutting plan, one row for each cut in the order of sawing."""
    return csv_bytes(cut_plan_table(bars, system, step))
