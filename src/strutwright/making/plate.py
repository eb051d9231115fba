"""A hub as flat drawings at 1:1: plates with arms and holes, or a template of the spokes."""

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
    moved,
)
from strutwright.making.arms import Plate, plates_of
from strutwright.making.form import WALL, Fixings, HubForm, Stake, hub_form
from strutwright.parts import HubType, Kit

__all__ = ["PlateDrawing", "foot_strap", "hub_plates", "lug"]

CUT: Final = Pen(MEDIUM, INK)
BEND: Final = Pen(FINE, INK, (3.0, 1.0))
TEMPLATE: Final = 60.0
"""mm, radius of the template of a hub without a plate."""
FOLDS: Final = math.radians(0.5)
"""A dip below this is no fold."""
LUG: Final = 1.5
"""From the hole of a lug to its end, and its half width, in diameters of the hole; our choice."""


@dataclass(frozen=True)
class PlateDrawing:
    """A plate, or a template of a hub type, flat at 1:1 in mm, and what it holds.

    Parameters
    ----------
    label : str
        Of the hub type; ``H1-braces`` for the second plate, of the inner braces.
    sheet : Sheet
        Layers ``CUT``, ``HOLES``, ``BEND``, ``SPOKES`` and ``LABELS``.
    holes : int
    radius : float, m
        From the centre to the end of the arms.
    area : float, m2
        Of the plate less its holes; 0 of a template.
    """

    label: str
    sheet: Sheet
    holes: int
    radius: float
    area: float = 0.0


def hub_plates(kit: Kit, kind: HubType, fixings: Fixings | None = None) -> tuple[PlateDrawing, ...]:
    """Return the flat drawings of hub type `kind`, outside up.

    Plate hubs: an arm for every spoke as wide as the strut, two holes in it, a bend line where the
    arm folds; inner braces have a plate of their own. Others: a template that shows where the
    spokes go, for marking and for checking.
    """
    form = hub_form(kit, kind, fixings)
    if form.kind == "plate" and (plates := plates_of(form)):
        return tuple(_plate(form, one, n == 0) for n, one in enumerate(plates))
    return (_template(form),)


def lug(stake: Stake, fold: float) -> tuple[float, float, float, float]:
    """Return azimuth, hole, end and width of the lug that a plate is staked by, rad and m.

    It lies in the plate and points down, or outwards where the plate lies level.
    """
    down = -np.array(stake.up)[:2]
    if np.linalg.norm(down) < math.sin(math.radians(20)):
        down = np.array(stake.out)[:2]
    hole = fold + LUG * stake.diameter + WALL
    end, width = hole + LUG * stake.diameter, 2 * LUG * stake.diameter
    return float(math.atan2(down[1], down[0])), hole, end, width


def _plate(form: HubForm, plate: Plate, is_first: bool) -> PlateDrawing:
    from manifold3d import CrossSection  # heavy, and needed here alone

    fold = 1000 * plate.arms[0].fold
    shape = CrossSection.circle(fold, 96)
    holes: list[Circle] = []
    bends: list[Mark] = []
    arms = [(arm.spoke.azimuth, arm.end, form.width, arm.spoke.dip) for arm in plate.arms]
    for arm in plate.arms:
        places = [_polar(1000 * reach, arm.spoke.azimuth) for reach in arm.holes]
        holes += [_hole(place, form.hole) for place in places]
    if form.hanger or not is_first or any(spoke.is_brace for spoke in form.spokes):
        holes.append(_hole((0.0, 0.0), form.hanger or form.hole))
    if is_first and form.stake:
        azimuth, at, end, width = lug(form.stake, plate.arms[0].fold)
        arms.append((azimuth, end, width, 0.0))
        holes.append(_hole(_polar(1000 * at, azimuth), form.stake.diameter))
    for azimuth, end, width, dip in arms:
        arm = CrossSection.square((1000 * end, 1000 * width)).translate((0, -500 * width))
        shape += arm.rotate(math.degrees(azimuth))
        if abs(dip) > FOLDS:
            half = 500 * width
            left, right = _square(fold, azimuth, -half), _square(fold, azimuth, half)
            bends.append(Line(left, right, BEND, "BEND"))
    outline = [
        Polygon(tuple((float(x), float(y)) for x, y in ring), None, CUT, "CUT")
        for ring in shape.to_polygons()
    ]
    slits = [
        Line(_polar(1000 * one.start, one.azimuth), _polar(1000 * one.end, one.azimuth), CUT, "CUT")
        for one in plate.slits
    ]
    drilled = sum(math.pi * hole.radius**2 for hole in holes)
    reach = max(end for _, end, _, _ in arms)
    names = [(arm.spoke.azimuth, f"{arm.spoke.label} {_degrees(arm.spoke.dip)}")
             for arm in plate.arms]  # fmt: skip
    marks = (*outline, *slits, *holes, *bends, *_labels(plate.label, names, 1000 * reach + 6))
    text = f"Hub plate {plate.label} at 1:1, outside up: {len(arms)} arms, bend lines dashed."
    sheet = _centred(marks, 1000 * reach + 20, plate.label, text)
    area = (float(shape.area()) - drilled) / 1e6
    return PlateDrawing(plate.label, sheet, len(holes), reach, area)


def foot_strap(stake: Stake, hole: float) -> PlateDrawing:
    """Return the strap between the bolt of a flattened hub (`hole`, m) and its stake, flat."""
    half, first = LUG * stake.diameter, 2 * hole
    at = first + 2 * half + WALL
    end = at + half
    corners = ((0.0, -half), (end, -half), (end, half), (0.0, half))
    holes = (_hole((1000 * first, 0.0), hole), _hole((1000 * at, 0.0), stake.diameter))
    outline = Polygon(tuple((1000 * x, 1000 * y) for x, y in corners), None, CUT, "CUT")
    name = Text((500 * (first + at), 0.0), "foot", 4.0, "middle", "middle", layer="LABELS")
    sheet = Sheet(
        1000 * end + 20, 2000 * half + 20, moved((outline, *holes, name), 10, 1000 * half + 10),
        "foot-strap", "Foot strap at 1:1: hole of the hub's bolt, hole of the stake.",
    )  # fmt: skip
    area = end * 2 * half - math.pi / 4 * (hole**2 + stake.diameter**2)
    return PlateDrawing("foot-strap", sheet, 2, end, area)


def _template(form: HubForm) -> PlateDrawing:
    marks: list[Mark] = [Circle((0.0, 0.0), TEMPLATE, None, CUT, "CUT")]
    centre = form.hole if form.kind == "flattened" else form.hanger
    marks.append(_hole((0.0, 0.0), centre or 0.002))
    marks += [
        Line((0.0, 0.0), _polar(TEMPLATE, spoke.azimuth), CUT, "SPOKES") for spoke in form.spokes
    ]
    names = [(spoke.azimuth, f"{spoke.label} {_degrees(spoke.dip)}") for spoke in form.spokes]
    marks += _labels(form.label, names, TEMPLATE + 9)
    text = f"Template of hub {form.label} at 1:1, outside up: where its spokes go."
    sheet = _centred(tuple(marks), TEMPLATE + 20, form.label, text)
    return PlateDrawing(form.label, sheet, 0, TEMPLATE / 1000)


def _hole(place: Point, diameter: float) -> Circle:
    return Circle(place, 500 * diameter, None, CUT, "HOLES")


def _degrees(angle: float) -> str:
    return f"{math.degrees(angle):.1f}°"


def _labels(name: str, spokes: list[tuple[float, str]], radius: float) -> list[Mark]:
    azimuths = np.sort([azimuth for azimuth, _ in spokes])
    turns = np.diff(azimuths, append=azimuths.min() + 2 * math.pi)
    widest = int(turns.argmax())
    between = float(azimuths[widest] + turns[widest] / 2)
    marks: list[Mark] = [Text(_polar(16.0, between), name, 5.0, "middle", "middle", layer="LABELS")]
    for azimuth, words in spokes:
        place = _polar(radius, azimuth)
        marks.append(Text(place, words, 4.0, "middle", "middle", layer="LABELS"))
    return marks


def _polar(reach: float, azimuth: float) -> Point:
    return reach * math.cos(azimuth), reach * math.sin(azimuth)


def _square(reach: float, azimuth: float, side: float) -> Point:
    x, y = _polar(reach, azimuth)
    return x - side * math.sin(azimuth), y + side * math.cos(azimuth)


def _centred(marks: tuple[Mark, ...], by: float, title: str, text: str) -> Sheet:
    return Sheet(2 * by, 2 * by, moved(marks, by, by), title, text)
