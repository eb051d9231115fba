"""The parts list as a spreadsheet."""

from __future__ import annotations

import io
from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Final

from strutwright.exports.tables import (
    CutBar,
    Table,
    cut_plan_table,
    fastener_table,
    hub_table,
    hub_type_table,
    strut_table,
    strut_type_table,
)
from strutwright.parts import Kit

__all__ = ["parts_xlsx"]

CREATED: Final = datetime(2000, 1, 1, tzinfo=UTC)
"""Written as the time of creation, so that the same kit gives the same bytes."""
WIDEST: Final = 48
"""No column is wider, in characters."""


def parts_xlsx(
    kit: Kit,
    bars: Sequence[CutBar] = (),
    *,
    system: str = "metric",
    step: float | None = None,
    remark: str = "",
) -> bytes:
    """Return a workbook with sheets for strut types, struts, hub types, hubs, fasteners, cuts.

    Parameters
    ----------
    kit : Kit
    bars : sequence of CutBar
        The cutting plan; its sheet is left out when there is none.
    system : str
        How lengths are shown beside their value in m.
    step : float or None
        What the workshop saws to, m.
    remark : str
        Printed at the foot of every sheet, as ``NOT CHECKED``.
    """
    import xlsxwriter  # heavy (0.1 s), and needed by this function alone

    tables = [
        strut_type_table(kit, system, step),
        strut_table(kit, system, step),
        hub_type_table(kit),
        hub_table(kit),
        fastener_table(kit),
    ]
    if bars:
        tables.append(cut_plan_table(bars, system, step))
    stream = io.BytesIO()
    book = xlsxwriter.Workbook(stream, {"in_memory": True})
    book.set_properties({"created": CREATED.replace(tzinfo=None), "title": "Parts list"})
    styles = {
        "head": book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"}),
        "float": book.add_format({"num_format": "0.0000"}),
    }
    for table in tables:
        sheet = book.add_worksheet(table.name)
        _fill(sheet, table, styles)
        if remark:
            sheet.set_footer(f"&L{remark}&RPage &P of &N")
    book.close()
    return stream.getvalue()


def _fill(sheet: object, table: Table, styles: dict[str, object]) -> None:
    write = sheet.write  # type: ignore[attr-defined]  # xlsxwriter has no types
    for column, head in enumerate(table.head):
        write(0, column, head, styles["head"])
        cells = [row[column] for row in table.rows]
        longest = max(
            [len(head), *(len(str(cell)) for cell in cells if not isinstance(cell, float))]
        )
        sheet.set_column(column, column, min(WIDEST, longest + 2))  # type: ignore[attr-defined]
        for row, cell in enumerate(cells, 1):
            if isinstance(cell, float):
                write(row, column, cell, styles["float"])
            elif cell is not None:
                write(row, column, cell)
    sheet.freeze_panes(1, 1)  # type: ignore[attr-defined]
    sheet.set_landscape()  # type: ignore[attr-defined]
    sheet.repeat_rows(0)  # type: ignore[attr-defined]
    sheet.fit_to_pages(1, 0)  # type: ignore[attr-defined]
