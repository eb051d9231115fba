"""The form of kit.json: every key with its unit; the JSON Schema comes from here."""

from __future__ import annotations

from typing import Any, Final, Literal

from pydantic import BaseModel, ConfigDict, Field

from strutwright.exports.sections import (
    ClimatePart,
    CoverPart,
    LoadsPart,
    PackingPart,
    PricePart,
    SequencePart,
    SitePart,
    StabilityPart,
    StructurePart,
    TolerancesPart,
)
from strutwright.exports.sections.choices import AlternativePart, SizePart, TradeoffPart

__all__ = ["KIT_SCHEMA_VERSION", "KitFile", "kit_schema"]

KIT_SCHEMA_VERSION: Final = 1
"""Raised when a key changes its meaning; keys may be added without."""

Point = tuple[float, float, float]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid")


class OpeningPart(_Part):
    """An opening as it was made."""

    name: str
    kind: Literal["door", "vent", "slot"]
    hubs: list[int] = Field(description="hubs of its frame")
    struts: list[int] = Field(description="struts of its frame, or the hinges of a vent")
    faces: list[int] = Field(description="infill round a door or slot, or the faces of a vent")


class ShellPart(_Part):
    """The shell: m, z = 0 at the base ring, x along the length, z up."""

    hubs: list[Point] = Field(description="hub centres, m")
    struts: list[tuple[int, int]] = Field(description="hub numbers of each strut, i < j")
    role: list[Literal["shell", "brace", "jamb", "head", "post", "leg", "tie"]]
    faces: list[tuple[int, int, int]] = Field(description="hubs, anticlockwise from outside")
    base: list[int] = Field(description="base hubs, anticlockwise from above")
    course: list[int] = Field(
        description="course whose upper edge a hub lies on: 0 the base row, -1 the foot of a leg"
    )
    groups: dict[str, list[int]] = Field(description="named sets; the prefix says of what")
    openings: list[OpeningPart]
    width: float = Field(description="m; of a dome the diameter of the circle of its base hubs")
    length: float = Field(description="m")
    rise: float = Field(description="m, above the base ring")
    floor_area: float = Field(description="m2, inside the base ring")
    cover_area: float = Field(description="m2, all faces")
    volume: float = Field(description="m3, under the faces")


class PiecePart(_Part):
    """Pieces that a strut is sawn in."""

    length: float = Field(description="m")
    quantity: int = Field(description="in one strut")


class EndCutPart(_Part):
    """How the end of a timber strut is sawn, rad."""

    tilt: float = Field(description="of the saw against square: the dip at that hub")
    bevel: float | None = Field(description="of the long edges: half the fold at the strut")


class StrutTypePart(_Part):
    """A strut type."""

    label: str
    node_length: float = Field(description="hub centre to hub centre, m")
    cut_length: float = Field(description="sawn, m; couplers and pieces in `pieces`")
    quantity: int
    struts: list[int]
    role: str
    pieces: list[PiecePart]
    coupler_at: list[float] = Field(description="couplers, m from one end of the strut")
    band: str = Field(description="band pattern that marks it besides its letter")
    end_cuts: list[EndCutPart] = Field(description="saw cuts of a timber strut; empty if square")


class SpokePart(_Part):
    """Where a strut leaves its hub, rad."""

    azimuth: float = Field(description="anticlockwise seen from outside, from the first spoke")
    dip: float = Field(description="below the tangent plane of the hub")


class HubTypePart(_Part):
    """A hub type."""

    label: str
    valence: int
    quantity: int
    hubs: list[int]
    spokes: list[SpokePart]
    sockets: list[str] = Field(description="strut label for each spoke")


class FastenerPart(_Part):
    """A fastener or fitting."""

    item: str
    quantity: int


class PartsPart(_Part):
    """Everything that is made or bought."""

    strut_types: list[StrutTypePart]
    hub_types: list[HubTypePart]
    fasteners: list[FastenerPart]
    mass: float = Field(description="kg; struts, hubs and fasteners")


class SubjectPart(_Part):
    """What a check is about."""

    kind: str
    index: int | None


class CheckPart(_Part):
    """One comparison of demand with capacity."""

    code: str
    subject: SubjectPart
    demand: float | None
    capacity: float | None
    unit: str
    utilisation: float | None = Field(
        description="demand / capacity; null when not checked or when nothing is carried at all"
    )
    required: bool
    status: Literal["pass", "fail", "not_checked"]
    combination: str
    format: Literal["factored", "allowable", "-"]
    source: str
    note: str
    is_bound: bool = Field(description="the capacity is at least so much, the utilisation at most")


class CutPart(_Part):
    """One piece sawn from a bar."""

    label: str
    length: float = Field(description="m")


class BarPart(_Part):
    """One bar and what is sawn from it, in order."""

    stock: str
    length: float = Field(description="m")
    cuts: list[CutPart]
    offcut: float = Field(description="m")


class CuttingPart(_Part):
    """The cutting plan."""

    bars: list[BarPart]
    cost: float | None = Field(description="in the currency of the brief, or metres of bar")
    bound: float | None = Field(description="no plan can cost less than this")
    gap: float | None = Field(description="(cost - bound) / cost")
    proven: bool
    used: float = Field(description="m in pieces")
    bought: float = Field(description="m of bars")


class NotePart(_Part):
    """Something assumed, rounded, skipped or cut short."""

    code: str
    text: str


class KitFile(_Part):
    """kit.json: SI throughout (m, N, Pa, kg, rad); parts not yet worked out are absent."""

    schema_version: int = KIT_SCHEMA_VERSION
    strutwright_version: str
    catalogue_version: str
    brief: dict[str, Any] = Field(description="the brief as read, SI")
    recipe: dict[str, Any] = Field(description="how the shell was made")
    shell: ShellPart
    alternatives: list[AlternativePart]
    lengths_tradeoff: list[TradeoffPart]
    sizes: list[SizePart] = Field(default=[], description="narrowest first")
    parts: PartsPart
    loads: LoadsPart
    checks: list[CheckPart]
    stability: StabilityPart | None
    structure: StructurePart
    cutting: CuttingPart
    site: SitePart
    tolerances: TolerancesPart | None = Field(description="None for a kit too large to say")
    sequence: SequencePart
    cover: CoverPart | None = Field(description="None for a bare frame")
    climate: ClimatePart
    packing: PackingPart
    price: PricePart
    notes: list[NotePart]


def kit_schema() -> dict[str, Any]:
    """Return the JSON Schema of kit.json."""
    return KitFile.model_json_schema()
