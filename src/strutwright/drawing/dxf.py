"""Sheets as DXF in millimetres, and DXF documents as bytes that are the same every time."""

from __future__ import annotations

import io
import math
import re
from typing import TYPE_CHECKING, Final

from strutwright.drawing.marks import (
    CAP_HEIGHT,
    Arc,
    Circle,
    Line,
    Mark,
    Pen,
    Polygon,
    Polyline,
    Text,
)
from strutwright.drawing.sheet import Sheet
from strutwright.errors import ResultError

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

__all__ = ["dxf", "dxf_bytes", "new_dxf", "true_colour"]

MILLIMETRES: Final = 4
"""$INSUNITS for millimetres (DXF reference, HEADER variables)."""
STYLE: Final = "Drawing"
_WEIGHTS: Final = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100)
"""Line weights that DXF knows, hundredths of a mm (up to 1 mm)."""
_STAMPS: Final = (
    # Time and identity of the writing, which differ at every run, take fixed values.
    (r"(  9\n\$TDU?(?:CREATE|UPDATE)\n 40\n)[^\n]*", r"\g<1>2451544.5"),
    (
        r"(  9\n\$(?:FINGERPRINT|VERSION)GUID\n  2\n)[^\n]*",
        r"\g<1>{00000000-0000-0000-0000-000000000000}",
    ),
    (r"\d+\.\d+[\w.]* @ \d{4}-\d\d-\d\dT[\d:.]+\+00:00", "strutwright"),
)


def new_dxf(units: int) -> Drawing:
    """Return an empty DXF document (R2010) whose `units` are an $INSUNITS code."""
    from ezdxf.filemanagement import new  # heavy (0.3 s), and needed where DXF is written alone

    document = new("R2010", setup=False)
    document.units = units
    document.header["$MEASUREMENT"] = 1
    document.styles.add(STYLE, font="SourceSans3-Regular.ttf")
    return document


def dxf_bytes(document: Drawing) -> bytes:
    """Return `document` as bytes: audited, without time or chance in them.

    Raises
    ------
    ResultError
        The audit found an error.
    """
    audit = document.audit()
    if audit.has_errors or audit.has_fixes:
        found = "; ".join(str(entry.message) for entry in (*audit.errors, *audit.fixes))
        raise ResultError(
            "dxf-not-sound", f"the audit of the DXF file found: {found}", "", "report this kit"
        )
    # The writer adds classes in the order of a set: added before and sorted, they stay put.
    document.classes.add_required_classes(document.dxfversion)
    table = document.classes.classes
    rows = sorted(table.items())
    table.clear()
    table.update(rows)
    stream = io.StringIO()
    document.write(stream)
    text = stream.getvalue()
    for pattern, fixed in _STAMPS:
        text = re.sub(pattern, fixed, text)
    return text.encode(document.output_encoding, errors="dxfreplace")


def true_colour(colour: str) -> int:
    """Return `colour` (#rrggbb) as a DXF true colour number."""
    return int(colour[1:], 16)


def dxf(sheet: Sheet) -> bytes:
    """Return `sheet` as a DXF file in mm, a layer for each kind of mark."""
    document = new_dxf(MILLIMETRES)
    space = document.modelspace()
    for layer in sorted({mark.layer for mark in sheet.marks} - {"0"}):
        document.layers.add(layer)
    for mark in sheet.marks:
        _draw(space, mark)
    return dxf_bytes(document)


def _look(layer: str, pen: Pen | None) -> dict[str, object]:
    if pen is None:
        return {"layer": layer}
    weight = min(_WEIGHTS, key=lambda known: abs(known - round(pen.width * 100)))
    return {"layer": layer, "lineweight": weight, "true_color": true_colour(pen.colour)}


def _draw(space: Modelspace, mark: Mark) -> None:
    match mark:
        case Line():
            space.add_line(mark.start, mark.end, dxfattribs=_look(mark.layer, mark.pen))
        case Polyline():
            space.add_lwpolyline(mark.points, dxfattribs=_look(mark.layer, mark.pen))
        case Polygon():
            _area(space, mark)
        case Circle():
            _disc(space, mark)
        case Arc():
            space.add_arc(
                mark.centre,
                mark.radius,
                math.degrees(mark.start),
                math.degrees(mark.end),
                dxfattribs=_look(mark.layer, mark.pen),
            )
        case Text():
            _write(space, mark)


def _area(space: Modelspace, mark: Polygon) -> None:
    if mark.fill:
        hatch = space.add_hatch(dxfattribs={"layer": mark.layer})
        hatch.rgb = _rgb(mark.fill)
        hatch.paths.add_polyline_path(mark.points, is_closed=True)
    if mark.pen:
        space.add_lwpolyline(mark.points, close=True, dxfattribs=_look(mark.layer, mark.pen))


def _disc(space: Modelspace, mark: Circle) -> None:
    if mark.fill:
        hatch = space.add_hatch(dxfattribs={"layer": mark.layer})
        hatch.rgb = _rgb(mark.fill)
        hatch.paths.add_edge_path().add_arc(mark.centre, mark.radius, 0, 360)
    if mark.pen:
        space.add_circle(mark.centre, mark.radius, dxfattribs=_look(mark.layer, mark.pen))


def _rgb(colour: str) -> tuple[int, int, int]:
    number = true_colour(colour)
    return (number >> 16, number >> 8 & 255, number & 255)


def _write(space: Modelspace, text: Text) -> None:
    from ezdxf.enums import TextEntityAlignment as Place  # heavy, as above

    level = "MIDDLE_" if text.level == "middle" else ""
    side = {"start": "LEFT", "middle": "CENTER", "end": "RIGHT"}[text.align]
    entity = space.add_text(
        text.text,
        height=text.size * CAP_HEIGHT,
        rotation=math.degrees(text.angle),
        dxfattribs={
            "layer": text.layer,
            "style": STYLE,
            "true_color": true_colour(text.colour),
        },
    )
    entity.set_placement(text.at, align=Place[level + side])
