"""setting-out.csv: where every base hub goes, and the distances that are checked."""

from __future__ import annotations

from strutwright.exports.comma import csv_bytes
from strutwright.exports.tables import Cell, Table
from strutwright.site import SettingOut
from strutwright.units import show_length

__all__ = ["setting_out_csv"]

HEAD = (
    "kind", "hub", "to", "x (m)", "y (m)", "distance (m)", "distance (mm)",
    "distance (ft in)", "band (m)", "ellipse major (m)", "ellipse minor (m)",
)  # fmt: skip


def setting_out_csv(sheet: SettingOut) -> bytes:
    """Return the worksheet: pegs, their distances, hubs from two pegs, check distances.

    Lengths stand in m, and as a tape shows them: to 1 mm and to 1/16 in.
    """
    rows: list[tuple[Cell, ...]] = [
        ("peg", peg.name, peg.hub, peg.x, peg.y, None, None, None, None, None, None)
        for peg in sheet.pegs
    ]
    for a, b, length in sheet.frame:
        shown = _taped(length)
        rows.append(("pegs", a, b, None, None, length, *shown, None, None, None))
    for row in sheet.rows:
        for peg, distance in ((row.a, row.from_a), (row.b, row.from_b)):
            shown = _taped(distance)
            major, minor, _ = row.ellipse
            rows.append(
                ("hub", row.hub, peg, row.x, row.y, distance, *shown, row.band, major, minor)
            )
    for span in sheet.spans:
        shown = _taped(span.length)
        rows.append(
            (span.kind, span.i, span.j, None, None, span.length, *shown, span.band, None, None)
        )
    return csv_bytes(Table("setting out", HEAD, tuple(rows)))


def _taped(length: float) -> tuple[str, str]:
    return show_length(length, "metric"), show_length(length, "imperial")
