"""kit.json, section site: setting out, slope, legs and anchors."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from strutwright.design import Design
from strutwright.site import legs_of

__all__ = ["SitePart", "site_section"]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid")


class StationPart(_Part):
    """A peg that distances are taken from."""

    name: str
    x: float = Field(description="m")
    y: float = Field(description="m")
    hub: int | None = Field(description="hub that it stands at; null for an auxiliary peg")


class PegPart(_Part):
    """Where a base hub goes."""

    hub: int
    x: float = Field(description="m")
    y: float = Field(description="m")
    a: str = Field(description="station of the first distance")
    from_a: float = Field(description="m")
    b: str
    from_b: float = Field(description="m")
    ellipse: tuple[float, float, float] = Field(
        description="standard error ellipse: semi-axes (m) and direction of the major one (rad)"
    )
    band: float = Field(description="m; a distance off by no more is good")


class SpanPart(_Part):
    """A distance between base hubs that is checked."""

    kind: Literal["diagonal", "width", "ring"]
    i: int
    j: int
    length: float = Field(description="m")
    band: float = Field(description="m")


class LegPart(_Part):
    """The leg under a base hub, m from hub centre to ground."""

    hub: int
    foot: int
    length: float
    braced: bool = Field(description="long: to be braced both ways")


class SlopePart(_Part):
    """The ground as read."""

    gradient: float = Field(description="fall over distance, straight down")
    downhill: float = Field(description="rad, anticlockwise from +x")
    along: float = Field(description="fall towards +x")
    across: float = Field(description="fall towards +y")
    fall: float = Field(description="m, between base hubs")
    sigma: float = Field(description="m, standard deviation of the ground's height, worst hub")
    readings_enough: int
    detectable: float = Field(description="m, smallest slip in a reading that would be found")
    terrace: float = Field(description="m3 of soil moved for a level pad")
    blunders: list[int] = Field(description="readings put aside, from 0 in the order of the file")


class AnchorPart(_Part):
    """What holds a base hub; N, Nm."""

    hub: int
    uplift: float
    horizontal: float
    combination: str
    demand: float
    capacity: float
    anchor: str
    quantity: int = Field(description="one to spare included; of ballast, pieces of 20 kg")
    torque: float | None = Field(description="to be reached by a screw anchor")


class TiePart(_Part):
    """A ground tie across the width and its force, N."""

    i: int
    j: int
    force: float


class SitePart(_Part):
    """Setting out, slope, legs, anchors."""

    stations: list[StationPart]
    pegs: list[PegPart]
    check_diagonals: list[SpanPart]
    slope: SlopePart | None = Field(description="null where no heights were read")
    legs: list[LegPart]
    anchors: list[AnchorPart]
    staking_order: list[int]
    ground_ties: list[TiePart]


def site_section(design: Design) -> dict[str, Any]:
    """Return the section."""
    sheet = design.setting_out
    plan = design.anchors
    return {
        "stations": [{"name": p.name, "x": p.x, "y": p.y, "hub": p.hub} for p in sheet.pegs],
        "pegs": [
            {
                "hub": row.hub, "x": row.x, "y": row.y, "a": row.a, "from_a": row.from_a,
                "b": row.b, "from_b": row.from_b, "ellipse": list(row.ellipse), "band": row.band,
            }
            for row in sheet.rows
        ],
        "check_diagonals": [vars(span) for span in sheet.spans],
        "slope": _slope(design),
        "legs": [vars(leg) for leg in legs_of(design.shell)],
        "anchors": [vars(row) for row in plan.hubs] if plan else [],
        "staking_order": plan.order.tolist() if plan else [],
        "ground_ties": [vars(tie) for tie in plan.ties] if plan else [],
    }  # fmt: skip


def _slope(design: Design) -> dict[str, Any] | None:
    ground = design.terrain
    if ground is None:
        return None
    names = ("gradient", "downhill", "along", "across", "fall", "sigma", "detectable", "terrace")
    return {
        **{name: getattr(ground, name) for name in names},
        "readings_enough": ground.enough,
        "blunders": ground.blunders.tolist(),
    }
