"""setting-out.csv: where every base hub goes, and the distances that are checked."""

from __future__ import annotations

from strutwright.exports.comma import csv_bytes
from strutwright.exports.tables import Cell, Table
from strutwright.site import SettingOut
from strutwright.units import show_length

__all__ = ["setting_out_csv"]

HEAD = (
    "kind", "hub", "to", "x (m)", "y (m)", "distance (m)", "distance", "band (m)",
    "ellipse major (m)", "ellipse minor (m)",
)  # fmt: skip


def setting_out_csv(sheet: SettingOut, system: str = "metric") -> bytes:
    """Return the worksheet: pegs, their distances, hubs from two pegs, check distances.

    Lengths stand in m, and once more as the reader's `system` shows them on a tape.
    """
    rows: list[tuple[Cell, ...]] = [
        ("peg", peg.name, peg.hub, peg.x, peg.y, None, "", None, None, None) for peg in sheet.pegs
    ]
    for a, b, length in sheet.frame:
        shown = show_length(length, system)
        rows.append(("pegs", a, b, None, None, length, shown, None, None, None))
    for row in sheet.rows:
        for peg, distance in ((row.a, row.from_a), (row.b, row.from_b)):
            shown = show_length(distance, system)
            major, minor, _ = row.ellipse
            rows.append(
                ("hub", row.hub, peg, row.x, row.y, distance, shown, row.band, major, minor)
            )
    for span in sheet.spans:
        shown = show_length(span.length, system)
        rows.append(
            (span.kind, span.i, span.j, None, None, span.length, shown, span.band, None, None)
        )
    return csv_bytes(Table("setting out", HEAD, tuple(rows)))
