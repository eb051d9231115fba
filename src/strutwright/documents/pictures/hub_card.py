"""A hub as its maker needs it: spokes by azimuth from above, and their dips in section."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from strutwright.documents.pictures.signs import TypeSign
from strutwright.drawing import (
    FINE,
    INK,
    MEDIUM,
    PALE,
    POINT,
    QUIET,
    WIDE,
    Circle,
    Line,
    Mark,
    Pen,
    Point,
    Polygon,
    Sheet,
    Text,
    angle_mark,
    bands,
    text_width,
    tint,
)

__all__ = ["HubWords", "Spoke", "hub_card", "hub_inset", "hub_thumb"]

BODY: Final = 6.0
"""Radius of the hub on the card, mm; hubs are drawn as one sign, not to scale."""
REACH: Final = 25.0
"""From the middle of the hub to the end of a spoke, mm."""
SMALL: Final = 5.0
SHORT: Final = 15.0
"""Radius of the hub, and length of a spoke from its middle, in an inset, mm."""
ARC: Final = 13.0
"""Radius of the arcs that carry the angles between spokes, mm."""
THUMB: Final = 11.0
"""Width of a hub in a list, mm."""
BAR: Final = 3.2
"""Width of a spoke, mm."""
SAME_DIP: Final = math.radians(0.05)
"""Dips closer than this are drawn as one: half of the last place that is shown."""
SECTION: Final = 24.0
"""Length of a spoke in section, mm."""
ROW: Final = 9.0
"""Height of a level spoke in section with the space round it, mm."""
HEAD: Final = 8.0
FOOT: Final = 5.0


@dataclass(frozen=True)
class Spoke:
    """A strut end at a hub.

    Parameters
    ----------
    azimuth : float
        In the tangent plane of the hub, anticlockwise seen from outside, rad.
    dip : float
        Below the tangent plane, rad.
    sign : TypeSign
        Signs of the strut type.
    words : str
        What stands at its end besides the label, as the hub at the other end; may be empty.
    """

    azimuth: float
    dip: float
    sign: TypeSign
    words: str = ""


@dataclass(frozen=True)
class HubWords:
    """Words on a hub card, in the reader's language; `spoke`, `below`, `above` are filled in."""

    outside: str = "from outside"
    section: str = "section"
    angles: str = "angles true, not to scale"
    spoke: str = "spoke {number}"
    below: str = "{labels}: {angle} below the tangent"
    above: str = "{labels}: {angle} above the tangent"


def hub_card(
    title: str, spokes: Sequence[Spoke], said: HubWords | None = None, *, width: float = 84.0
) -> Sheet:
    """Return the picture of a hub: plan of its spokes above, section with their dips below.

    Angles are true; lengths are not to scale, and the picture says so.
    """
    said = said or HubWords()
    ordered = sorted(spokes, key=lambda spoke: spoke.azimuth % (2 * math.pi))
    dips = _distinct([spoke.dip for spoke in ordered])
    rows = [abs(math.sin(dip)) * SECTION + ROW for dip in dips]
    plan = 2 * (REACH + 9)
    height = FOOT + sum(rows) + HEAD + plan
    marks: list[Mark] = [*_plan((width / 2, height - plan / 2), ordered)]
    top = FOOT + sum(rows)
    for dip, row in zip(dips, rows, strict=True):
        marks += _section((3 + BODY / 2, top - (row - ROW) if dip < 0 else top), dip, ordered, said)
        top -= row
    marks.append(Text((3, height - 5), said.outside, 8 * POINT, colour=QUIET))
    marks.append(Text((3, FOOT + sum(rows) + 4.5), said.section, 8 * POINT, colour=QUIET))
    marks.append(Text((width - 2, 2.5), said.angles, 8 * POINT, "end", colour=QUIET))
    text = f"{title} with {len(spokes)} spokes: azimuths from outside and dips in section."
    return Sheet(width, height, tuple(marks), title, text)


def hub_inset(
    title: str, spokes: Sequence[Spoke], note: str, up: str, *, width: float = 56.0
) -> Sheet:
    """Return the plan of a hub alone, for the corner of a step: which strut in which socket.

    `note` stands at its foot and `up` at the arrow of its top side, in the reader's language.
    """
    ordered = sorted(spokes, key=lambda spoke: spoke.azimuth % (2 * math.pi))
    high = 2 * (SHORT + 8)
    centre = (width / 2, FOOT + high / 2)
    marks: list[Mark] = []
    for spoke in ordered:
        marks += _spoke(centre, SMALL, SHORT, spoke.azimuth, spoke.sign)
        marks += _end_words(centre, spoke, SHORT)
    marks.append(Circle(centre, SMALL, PALE, Pen(WIDE, INK), "hub"))
    marks.append(Text(centre, title, 10 * POINT, "middle", "middle", bold=True))
    tip = (5.0, FOOT + high - 4.0)
    marks.append(Line((tip[0], tip[1] - 7), tip, Pen(MEDIUM, INK), "up"))
    for side in (-1.2, 1.2):
        marks.append(Line(tip, (tip[0] + side, tip[1] - 2), Pen(MEDIUM, INK), "up"))
    marks.append(Text((tip[0], tip[1] - 10.5), up, 8 * POINT, "middle"))
    marks.append(Text((width / 2, 1.8), note, 9 * POINT, "middle", colour=QUIET))
    return Sheet(width, high + FOOT, tuple(marks), title, note)


def hub_thumb(title: str, text: str, spokes: Sequence[Spoke]) -> Sheet:
    """Return a hub small, seen from outside, for a list: its spokes in their directions."""
    centre = (THUMB / 2, THUMB / 2)
    marks: list[Mark] = [
        Line(centre, _polar(centre, THUMB / 2 - 0.8, one.azimuth), Pen(WIDE, one.sign.colour))
        for one in spokes
    ]
    marks.append(Circle(centre, THUMB / 7, PALE, Pen(MEDIUM, INK), "hub"))
    return Sheet(THUMB, THUMB, tuple(marks), title, text)


def _distinct(values: Sequence[float]) -> list[float]:
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] > SAME_DIP:
            kept.append(value)
    return kept


def _polar(centre: Point, reach: float, angle: float) -> Point:
    return (centre[0] + reach * math.cos(angle), centre[1] + reach * math.sin(angle))


def _spoke(centre: Point, start: float, end: float, angle: float, sign: TypeSign) -> list[Mark]:
    """Return a bar that runs out from a hub, with its bands near the far end."""
    across = (-math.sin(angle) * BAR / 2, math.cos(angle) * BAR / 2)
    near, far = _polar(centre, start, angle), _polar(centre, end, angle)
    corners = (
        (near[0] + across[0], near[1] + across[1]),
        (far[0] + across[0], far[1] + across[1]),
        (far[0] - across[0], far[1] - across[1]),
        (near[0] - across[0], near[1] - across[1]),
    )
    strokes = bands(near, far, sign.band, sign.colour, share=0.8, length=BAR, narrow=WIDE)
    return [
        Polygon(corners, tint(sign.colour, 0.2), Pen(MEDIUM, INK), "struts"),
        *strokes,
    ]


def _plan(centre: Point, spokes: Sequence[Spoke]) -> list[Mark]:
    marks: list[Mark] = []
    for spoke in spokes:
        marks += _spoke(centre, BODY, REACH, spoke.azimuth, spoke.sign)
        marks += _end_words(centre, spoke)
    marks.append(Circle(centre, BODY, PALE, Pen(WIDE, INK), "hub"))
    marks.append(Circle(centre, 0.5, INK, None, "hub"))
    for k, spoke in enumerate(spokes):
        following = spokes[(k + 1) % len(spokes)]
        turn = (following.azimuth - spoke.azimuth) % (2 * math.pi) or 2 * math.pi
        figure = f"{math.degrees(turn):.1f}°"
        marks += angle_mark(centre, ARC, spoke.azimuth, spoke.azimuth + turn, figure)
    return marks


def _end_words(centre: Point, spoke: Spoke, end: float = REACH) -> list[Mark]:
    """Return the label of the strut at the end of its spoke, and the other words under it."""
    size, small = 10 * POINT, 8 * POINT
    wide = max(text_width(spoke.sign.label, size, bold=True), text_width(spoke.words, small))
    high = 4.6 if spoke.words else 2.4
    cos, sin = math.cos(spoke.azimuth), math.sin(spoke.azimuth)
    reach = end + 1.6 + abs(cos) * wide / 2 + abs(sin) * high / 2
    x, y = _polar(centre, reach, spoke.azimuth)
    lift = 1.9 if spoke.words else 0.0
    look = {"colour": spoke.sign.colour, "bold": True, "layer": "labels"}
    marks: list[Mark] = [
        Text((x, y + lift), spoke.sign.label, size, "middle", "middle", **look)  # type: ignore[arg-type]
    ]
    if spoke.words:
        at = (x, y - lift)
        marks.append(Text(at, spoke.words, small, "middle", "middle", colour=QUIET, layer="labels"))
    return marks


def _section(centre: Point, dip: float, spokes: Sequence[Spoke], said: HubWords) -> list[Mark]:
    """Return the tangent plane of the hub, a spoke that dips below it, and the angle in words."""
    same = [spoke.sign for spoke in spokes if abs(spoke.dip - dip) <= SAME_DIP]
    names = ", ".join(sorted({sign.label for sign in same}))
    end = (centre[0] + SECTION + 3, centre[1])
    form = said.below if dip >= 0 else said.above
    words = form.format(labels=names, angle=f"{abs(math.degrees(dip)):.1f}°")
    return [
        *_spoke(centre, BODY / 2, SECTION, -dip, same[0]),
        Line(centre, end, Pen(FINE, QUIET, (3, 1)), "section"),
        Circle(centre, BODY / 2, PALE, Pen(WIDE, INK), "hub"),
        Circle(centre, 0.5, INK, None, "hub"),
        Text((end[0] + 1.5, centre[1]), words, 8 * POINT, "start", "middle", layer="labels"),
    ]
