"""The tables of a brief as pydantic reads them: every key, its kind, its bound, what it means."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Discriminator, Field, Tag

from strutwright.brief import bounds as b
from strutwright.brief import choices as c
from strutwright.brief import sections
from strutwright.brief.fields import Amount, Choice, Name, Quantity, Text

__all__ = [
    "HubsTable",
    "ProjectTable",
    "ShapeTable",
    "SizeTable",
    "StrutsTable",
    "Table",
    "about",
    "key",
]


def key(description: str, default: object = None) -> Any:  # noqa: ANN401 - as pydantic's Field
    """Return an optional key; `default` is what stands in its place, as a reader writes it."""
    extra = {"x-default": default} if default is not None else None
    return Field(default=None, description=description, json_schema_extra=extra)  # type: ignore[arg-type]


def about(table: type[BaseModel]) -> str:
    """Return what a table says of itself."""
    return (table.__doc__ or "").strip()


class Table(BaseModel):
    """A table of the file: unknown keys are refused, nothing is converted by guess."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class ProjectTable(Table):
    """What it is and how documents speak."""

    name: Annotated[str, Text(80)] = Field(description="Name of the kit, as printed on every page.")
    use: (
        Annotated[
            str,
            Choice("greenhouse", "shelter", "store", "stall", "observatory", "hall", "climbing"),
        ]
        | None
    ) = key("What it is for; it decides the consequence class and what is refused.", "greenhouse")
    show: Annotated[str, Choice("metric", "imperial", "both")] | None = key(
        "How documents print numbers.", "metric"
    )
    language: Annotated[str, Choice("en", "de", "es")] | None = key("Language of documents.", "en")


class SizeTable(Table):
    """Any set of sizes that is enough; the rest is worked out, a contradiction is refused."""

    width: Annotated[float, Quantity("length", b.WIDTH)] | None = key(
        "Hub to hub across the base; of a dome the diameter of the circle through its base hubs."
    )
    length: Annotated[float, Quantity("length", b.LENGTH)] | None = key(
        "Hub to hub along the base; left out or equal to the width: a dome."
    )
    rise: Annotated[float, Quantity("length", b.RISE)] | None = key(
        "Height of the highest hub above the base ring."
    )
    freedom: Annotated[sections.Freedom, c.FREEDOM] | None = key(
        "How far the size may move, a share or two widths: it moves where longest_strut or "
        "headroom ask for it; which widths would suit the bars better is shown and proposed."
    )
    floor_area: Annotated[float, Quantity("area", b.FLOOR_AREA)] | None = key(
        "Area inside the base ring."
    )
    longest_strut: Annotated[float, Quantity("length", b.LONGEST_STRUT)] | None = key(
        "Longest node length."
    )
    headroom: Annotated[float, Quantity("length", b.HEADROOM)] | None = key(
        "Height wanted over a useful part of the floor."
    )


class ShapeTable(Table):
    """The shape; the whole section left out: chosen from size, use and stock."""

    family: Annotated[str, Choice("dome", "long-dome", "vault", "imported")] | None = key(
        "Dome, long dome (two half domes with bays between), barrel vault, or an old kit in a "
        "file.",
        "dome; long-dome where the length is more than the width",
    )
    seed: Annotated[str, Choice("icosahedron", "octahedron", "tetrahedron")] | None = key(
        "Polyhedron that is subdivided.", "icosahedron"
    )
    division: Annotated[tuple[int, int], c.DIVISION] | None = key(
        "(b, c): class I (b, 0), class II (b, b), class III (b, c); chosen when left out."
    )
    point_law: Annotated[str, Name("flat")] | None = key(
        "How the points of a face are spread over the sphere: flat, arc, even.", "flat"
    )
    pose: Annotated[str, Choice("vertex", "edge", "face")] | None = key(
        "What of the seed points up.", "vertex"
    )
    truncation: Annotated[Fraction | int, c.TRUNCATION] | None = key(
        "Share of the sphere's courses that is kept, or the courses kept, from the apex.",
        "1/2, or what the rise asks for",
    )
    scale_rise: bool | None = key(
        "true: a rise that the cut does not give is reached by scaling.", "false"
    )
    level_base: Annotated[str, Choice("whole", "ring", "none")] | None = key(
        "How an uneven base is levelled: all hubs, the base ring alone, not at all.", "whole"
    )
    bays: Annotated[int, Amount(b.COUNT_BAYS, whole=True)] | None = key(
        "Length steps of a long dome or vault; worked out from the length when left out."
    )
    cap_symmetry: Annotated[int, Choice(4, 5, 6)] | None = key(
        "Order of a long dome's end cap about the long axis.", 6
    )
    rows: Annotated[str, Choice("along", "around")] | None = key(
        "Strut rows of a long dome along its length or around the arch.", "along"
    )
    profile: Annotated[str, Choice("circle", "ellipse", "parabola", "pointed")] | None = key(
        "Cross-section: circle or ellipse of a long dome; circle, parabola or pointed of a vault.",
        "circle",
    )
    grid: Annotated[str, Choice("three-way", "lamella")] | None = key(
        "Strut directions of a vault.", "three-way"
    )
    side_walls: Annotated[float, Quantity("length", b.SIDE_WALLS)] | None = key(
        "Straight walls under a vault.", "0 m"
    )
    ends: Annotated[str, Choice("wall", "open")] | None = key(
        "Ends of a vault: a wall of posts and rails, or open with a stiff rib.", "wall"
    )
    lengths: Annotated[int, Amount(b.LENGTHS, whole=True)] | None = key(
        "At most so many distinct strut lengths."
    )
    drift: Annotated[float, Quantity("length", b.DRIFT)] | None = key(
        "How far a hub may move for fewer lengths."
    )
    file: Annotated[str, Text(120)] | None = key(
        "Of an old kit, beside the brief: its struts as lines in CSV, DXF or OBJ, or its strut "
        "lengths and counts in CSV, by which a dome is recognised."
    )
    unit: Annotated[str, Choice("mm", "cm", "m", "in", "ft")] | None = key(
        "Unit of numbers that stand without one in `file`.", "what the file says"
    )
    up: Annotated[str, Choice("z", "y")] | None = key(
        "Axis of `file` that points up: y in many OBJ files.", "z"
    )
    join: Annotated[float, Quantity("length", b.JOIN)] | None = key(
        "Ends of lines in `file` that lie this near to one another are one hub.", "5 mm"
    )
    inner_braces: Annotated[str, Choice("none", "auto", "all")] | None = key(
        "Struts on the inside of a long dome, from a hub to the hub two courses on.", "auto"
    )


class StockInline(Table):
    """A stock of your own: a tube (outside, wall), a round bar (outside), or a batten."""

    material: Annotated[str, Name("s235")] = Field(description="Material id.")
    outside: Annotated[float, Quantity("length", b.OUTSIDE)] | None = key("Outside diameter.")
    wall: Annotated[float, Quantity("length", b.WALL)] | None = key("Wall; none: a solid bar.")
    depth: Annotated[float, Quantity("length", b.OUTSIDE)] | None = key(
        "Depth of a batten, square to the shell."
    )
    breadth: Annotated[float, Quantity("length", b.OUTSIDE)] | None = key("Breadth of a batten.")
    name: Annotated[str, Text(60)] | None = key("Name in lists.", "own stock")


class BarTable(Table):
    """One bar as sold."""

    length: Annotated[float, Quantity("length", b.BAR)] = Field(description="Length of the bar.")
    price: Annotated[float, Amount(b.PRICE)] | None = key("Price of one, in the brief's currency.")
    quantity: Annotated[int, Amount(b.QUANTITY, whole=True)] | None = key(
        "Number at hand; none: any number can be bought."
    )


def _written_as(value: object) -> str:
    return "@table" if isinstance(value, dict) else "@id"


StockChoice = Annotated[
    Annotated[str, Name("emt-3/4"), Tag("@id")] | Annotated[StockInline, Tag("@table")],
    Discriminator(_written_as),
]


class StrutsTable(Table):
    """What struts are made of and how they are sawn."""

    stock: StockChoice | None = key("A catalogue id, or a table of your own.", "emt-1")
    bars: list[BarTable] | None = key("Bars as sold; left out: the catalogue's.")
    kerf: Annotated[float, Quantity("length", b.KERF)] | None = key("Width of the saw cut.", "2 mm")
    end_trim: Annotated[float, Quantity("length", b.END_TRIM)] | None = key(
        "Cut off the end of each bar first.", "5 mm"
    )
    step: Annotated[float, Quantity("length", b.STEP)] | None = key(
        "What the workshop saws to.", "1 mm; 1/16 in where show is imperial"
    )


class ConnectorInline(Table):
    """A connector of your own; what is left out has still to be tested."""

    allowance: Annotated[float, Quantity("length", b.ALLOWANCE)] = Field(
        description="Half the difference of node length and cut length, per strut end."
    )
    eccentricity: Annotated[float, Quantity("length", b.ECCENTRICITY)] | None = key(
        "Offset of the strut's axis from the hub's."
    )
    stiffness: Annotated[float, Quantity("rotational stiffness", b.STIFFNESS)] | None = key(
        "Rotational stiffness of one strut end."
    )
    axial_stiffness: Annotated[float, Quantity("stiffness", b.AXIAL_STIFFNESS)] | None = key(
        "Stiffness of one strut end along the strut."
    )
    strength: Annotated[float, Quantity("force", b.STRENGTH)] | None = key(
        "Characteristic strength of one strut end in tension and compression."
    )
    fasteners: Annotated[int, Amount(b.FASTENERS, whole=True)] | None = key(
        "Fasteners per strut end.", 1
    )
    mass: Annotated[float, Quantity("mass", b.HUB_MASS)] | None = key("Mass of one hub.")
    price: Annotated[float, Amount(b.PRICE)] | None = key("Price of one hub.")
    name: Annotated[str, Text(60)] | None = key("Name in lists.", "own connector")


ConnectorChoice = Annotated[
    Annotated[str, Name("flattened-bolt"), Tag("@id")] | Annotated[ConnectorInline, Tag("@table")],
    Discriminator(_written_as),
]


Forces = list[Annotated[float, Quantity("force", b.STRENGTH)]]
Stiffnesses = list[Annotated[float, Quantity("rotational stiffness", b.STIFFNESS)]]
Moments = list[Annotated[float, Quantity("moment", b.MOMENT)]]
Offsets = list[Annotated[float, Quantity("length", b.ECCENTRICITY)]]


class HubTestTable(Table):
    """The workshop's own tests: one reading a sample, three or more; what none tests stays."""

    pull: Forces | None = key("Largest force that pulls one strut end from its hub.")
    push: Forces | None = key("Largest force that pushes one strut end into its hub.")
    bend: Stiffnesses | None = key("Rotational stiffness of one strut end.")
    slip: Offsets | None = key("Play of one strut end along the strut.")
    offset: Offsets | None = key("Strut axis to hub centre, across the strut.")
    coupler: Stiffnesses | None = key("Rotational stiffness of a coupler.")
    coupler_bend: Moments | None = key("Largest bending moment that a coupler carried.")
    coupler_pull: Forces | None = key("Largest force that pulled a coupler apart.")


class HubsTable(Table):
    """How struts are joined."""

    connector: ConnectorChoice | None = key(
        "A catalogue id, or a table of your own.", "flattened-bolt"
    )
    tests: list[HubTestTable] | None = key(
        "The workshop's own tests; their results replace the connector's values."
    )
    test_file: Annotated[str, Text(200)] | None = key(
        "File of such tests beside the brief, one sample a line: kind,value, such as pull,8.9 kN."
    )
