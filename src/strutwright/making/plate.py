"""A hub as a flat drawing at 1:1: a plate with arms and holes, or a template of the spokes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.drawing import (
    FINE,
    INK,
    MEDIUM,
    Circle,
    Line,
    Mark,
    Pen,
    Point,
    Polygon,
    Sheet,
    Text,
)
from strutwright.parts import HubType, Kit

__all__ = ["PlateDrawing", "hub_plate"]

PITCH: Final = 3.0
"""Diameters between the two bolts of an arm. Source: EN 1993-1-8 Table 3.3, least 2.2 d0, read."""
EDGE: Final = 2.0
"""Diameters from the last bolt to the end of the arm. Source: the same, least 1.2 d0."""
CUT: Final = Pen(MEDIUM, INK)
BEND: Final = Pen(FINE, INK, (3.0, 1.0))
TEMPLATE: Final = 60.0
"""mm, radius of the template of a hub without a plate."""


@dataclass(frozen=True)
class PlateDrawing:
    """A hub type flat at 1:1 in mm, and what it holds.

    Parameters
    ----------
    label : str
    sheet : Sheet
        Layers ``CUT``, ``HOLES``, ``BEND``, ``SPOKES`` and ``LABELS``.
    holes : int
    radius : float, m
        From the centre to the end of the arms.
    """

    label: str
    sheet: Sheet
    holes: int
    radius: float


def hub_plate(kit: Kit, kind: HubType) -> PlateDrawing:
    """Return the flat drawing of hub type `kind`, outside up.

    Plate hubs: an arm for every spoke as wide as the strut, two holes in it, a bend line where the
    arm dips. Others: a template that shows where the spokes go, for marking and for checking.
    """
    connector = kit.connector
    if connector.kind == "plate" and connector.hole_diameter and connector.bolt_from_end:
        return _plate(kit, kind, connector.hole_diameter, connector.bolt_from_end)
    return _template(kind)


def _plate(kit: Kit, kind: HubType, hole: float, from_end: float) -> PlateDrawing:
    from manifold3d import CrossSection  # heavy, and needed here alone

    start = float(np.mean(kit.allowances))
    diameter = hole * 1000
    first = (start + from_end) * 1000
    second = first + PITCH * diameter
    end = second + EDGE * diameter
    width = max(kit.stock.section.depth * 1000, 2 * EDGE * diameter)
    shape = CrossSection.circle(start * 1000, 96)
    marks: list[Mark] = []
    for azimuth, dip in kind.spokes.tolist():
        arm = CrossSection.square((end, width)).translate((0, -width / 2))
        shape += arm.rotate(math.degrees(azimuth))
        for reach in (first, second):
            place = _polar(reach, azimuth)
            marks.append(Circle(place, diameter / 2, None, CUT, "HOLES"))
        if abs(dip) > math.radians(0.5):
            at = start * 1000
            side = width / 2
            marks.append(
                Line(_square(at, azimuth, -side), _square(at, azimuth, side), BEND, "BEND")
            )
    outline = [
        Polygon(tuple((float(x), float(y)) for x, y in ring), None, CUT, "CUT")
        for ring in shape.to_polygons()
    ]
    marks += _labels(kind, end + 6)
    text = f"Hub plate {kind.label} at 1:1, outside up: {len(kind.spokes)} arms, bend lines dashed."
    sheet = Sheet(
        2 * end + 40, 2 * end + 40, _centred((*outline, *marks), end + 20), kind.label, text
    )
    return PlateDrawing(kind.label, sheet, 2 * len(kind.spokes), end / 1000)


def _template(kind: HubType) -> PlateDrawing:
    marks: list[Mark] = [Circle((0.0, 0.0), TEMPLATE, None, CUT, "CUT")]
    marks.append(Circle((0.0, 0.0), 1.0, None, CUT, "HOLES"))
    marks += [
        Line((0.0, 0.0), _polar(TEMPLATE, azimuth), CUT, "SPOKES")
        for azimuth, _ in kind.spokes.tolist()
    ]
    marks += _labels(kind, TEMPLATE + 9)
    text = f"Template of hub {kind.label} at 1:1, outside up: where its spokes go."
    size = 2 * TEMPLATE + 40
    sheet = Sheet(size, size, _centred(tuple(marks), TEMPLATE + 20), kind.label, text)
    return PlateDrawing(kind.label, sheet, 0, TEMPLATE / 1000)


def _labels(kind: HubType, radius: float) -> list[Mark]:
    turns = np.diff(np.sort(kind.spokes[:, 0]), append=kind.spokes[:, 0].min() + 2 * math.pi)
    widest = int(turns.argmax())
    between = float(np.sort(kind.spokes[:, 0])[widest] + turns[widest] / 2)
    name = Text(_polar(12.0, between), kind.label, 5.0, "middle", "middle", layer="LABELS")
    marks: list[Mark] = [name]
    for label, (azimuth, dip) in zip(kind.sockets, kind.spokes.tolist(), strict=True):
        words = f"{label} {math.degrees(dip):.1f}°"
        place = _polar(radius, azimuth)
        marks.append(Text(place, words, 4.0, "middle", "middle", layer="LABELS"))
    return marks


def _polar(reach: float, azimuth: float) -> Point:
    return reach * math.cos(azimuth), reach * math.sin(azimuth)


def _square(reach: float, azimuth: float, side: float) -> Point:
    x, y = _polar(reach, azimuth)
    return x - side * math.sin(azimuth), y + side * math.cos(azimuth)


def _centred(marks: tuple[Mark, ...], by: float) -> tuple[Mark, ...]:
    from strutwright.drawing import moved

    return moved(marks, by, by)
