"""The tables of a brief about the place and the work there, as pydantic reads them."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from strutwright.brief import bounds as b
from strutwright.brief import choices as c
from strutwright.brief.fields import Amount, Choice, Name, Quantity, Text
from strutwright.brief.tables import Table, key

__all__ = [
    "ClimateTable",
    "CoverTable",
    "CrewTable",
    "DeliveryTable",
    "LoadsTable",
    "OpeningTable",
    "PriceTable",
    "SiteTable",
    "SurveyTable",
]


class WindTable(Table):
    """A wind speed with the time it is averaged over, which differs between standards."""

    value: Annotated[float, Quantity("speed", b.WIND)] = Field(
        description="Basic wind speed of the place."
    )
    basis: Annotated[str, Choice("10 min mean", "3 s gust")] = Field(
        description="Averaging time: 10 min mean for en, 3 s gust for asce7."
    )


class SiteTable(Table):
    """The standard, the loads of the place, the ground."""

    standard: Annotated[str, Choice("en", "asce7-16", "asce7-22")] | None = key(
        "Standard of loads and checks.", "en"
    )
    ground_snow: Annotated[float, Quantity("area load", b.SNOW)] | None = key(
        "Snow load on the ground; left out: nothing is checked against snow."
    )
    basic_wind: WindTable | None = key(
        "Basic wind speed; left out: nothing is checked against wind."
    )
    exposure: Annotated[str, Choice("0", "I", "II", "III", "IV", "B", "C", "D")] | None = key(
        "EN terrain category 0 to IV, or ASCE exposure B to D.", "II; C under asce7"
    )
    consequence: Annotated[str, Choice("CC1", "CC2", "CC3", "I", "II", "III", "IV")] | None = key(
        "EN consequence class CC1 to CC3, or ASCE risk category I to IV.",
        "CC1, I under asce7, for greenhouse, store and stall; else CC2, II under asce7",
    )
    topography: Annotated[float, Amount(b.TOPOGRAPHY)] | None = key(
        "Factor of hills and crests on the wind, as the standard gives it.", 1.0
    )
    dome_table: Annotated[str, Text(200)] | None = key(
        "File of wind coefficients A, B, C of domes, read off the standard's figure, beside the "
        "brief: f_over_d,h_over_d,A,B,C,source. Left out: a hemisphere alone is known."
    )
    altitude: Annotated[float, Quantity("length", b.ALTITUDE)] | None = key(
        "Height above sea level.", "0 m"
    )
    temperature: Annotated[tuple[float, float], c.TEMPERATURES] | None = key(
        "Coldest and warmest of the frame.", '["-10 C", "45 C"]'
    )
    base: Annotated[str, Choice("staked", "anchored", "ballast", "free")] | None = key(
        "How the base ring is held.", "staked"
    )
    ballast: Annotated[float, Quantity("mass", b.BALLAST)] | None = key(
        "Mass laid on every hub on the ground; left out: as much as it takes."
    )
    soil: Annotated[str, Text(40)] | None = key("Soil, in words of the anchor catalogue.")
    north: Annotated[float, Quantity("angle", b.NORTH)] | None = key(
        "Compass bearing of +y, the direction to the left of the length.", "0 deg"
    )
    frost: Annotated[float, Quantity("length", b.FROST)] | None = key("Depth of frost.")
    levels: Annotated[str, Text(200)] | None = key(
        "File of height readings, beside the brief: hub or x,y with the height."
    )
    pull_test: Annotated[float, Quantity("force", b.PULL_TEST)] | None = key(
        "Pull that an anchor held on the site; it overrides the estimates."
    )
    riser: Annotated[float, Quantity("length", b.RISER)] | None = key(
        "Wall or legs under the base ring.", "0 m"
    )


class LoadsTable(Table):
    """Loads that people put on it."""

    hung: Annotated[float, Quantity("force", b.HUNG)] | None = key(
        "Load hung at any one hub.", "445 N"
    )
    crop: Annotated[float, Quantity("area load", b.CROP)] | None = key(
        "Crop or equipment hung evenly, per floor area.", "0 kN/m2"
    )


class CoverTable(Table):
    """The skin."""

    material: Annotated[str, Name("pe-film-180")] | None = key(
        "Catalogue id of the cover; left out: a bare frame."
    )
    layers: Annotated[int, Amount(b.LAYERS, whole=True)] | None = key("Layers.", 1)
    roll: Annotated[float, Quantity("length", b.ROLL)] | None = key("Width of the roll.")
    sheet: Annotated[tuple[float, float], c.SHEET] | None = key("Size of a sheet.")
    barrier: Annotated[str, Name("none")] | None = key(
        'Between film and bare PVC: "white-paint" or "tape"; "none" where the pipe is no PVC.',
        "none",
    )
    strips: (
        Annotated[
            str, Choice("auto", "courses", "slopes", "along", "arches", "ends-and-barrel", "free")
        ]
        | None
    ) = key("How the film is parted into strips; auto: with the fewest metres of seam.", "auto")
    nest: Annotated[str, Choice("rows", "dense")] | None = key(
        "How pieces lie on rolls and sheets: in rows or fitted, or packed against a clock.",
        "rows",
    )
    standoff: Annotated[float, Quantity("length", b.STANDOFF)] | None = key(
        "How far an inner film hangs below the struts.", "0 mm"
    )
    machine: Annotated[float, Quantity("length", b.MACHINE)] | None = key(
        "Widest piece that the workshop's table, welder or sewing machine takes."
    )
    fixing: Annotated[float, Quantity("force", b.FIXING)] | None = key(
        "What one fixing of the film held in a pull test; left out: 150 N, a clamp of 100 mm."
    )
    sheet_load: Annotated[float, Quantity("area load", b.SHEET_LOAD)] | None = key(
        "What the maker's table allows on the widest panel, held along all edges, in use."
    )
    price: Annotated[float, Amount(b.PRICE)] | None = key("Price of a square metre of one layer.")


class ClimateTable(Table):
    """Heat and air."""

    inside: Annotated[float, Quantity("temperature", b.INDOORS)] | None = key(
        "Temperature to be kept inside."
    )
    outside: Annotated[float, Quantity("temperature", b.TEMPERATURE)] | None = key(
        "Design temperature outside."
    )
    air_changes: Annotated[float, Amount(b.AIR_CHANGES)] | None = key(
        "Air changes per hour through gaps.", 1.0
    )
    degree_days: Annotated[float, Amount(b.DEGREE_DAYS)] | None = key(
        "Degree days of a season at the inside temperature, K d: gives the fuel of a season."
    )
    fuel_price: Annotated[float, Amount(b.PRICE)] | None = key(
        "Price of a kWh of heat: gives what a second layer saves."
    )
    sun: Annotated[float, Amount(b.SUN)] | None = key("Summer sun on the level, W/m2.", 800.0)
    shade: Annotated[float, Quantity("share", b.SHARE)] | None = key(
        "Share of the sun kept out by shading.", "0 %"
    )


class OpeningTable(Table):
    """A door, a vent or a slot; one table each."""

    kind: Annotated[str, Choice("door", "vent", "slot")] = Field(description="What it is.")
    width: Annotated[float, Quantity("length", b.OPENING)] | None = key("Clear width.")
    height: Annotated[float, Quantity("length", b.OPENING)] | None = key("Clear height.")
    facing: Annotated[float, c.FACING] | None = key(
        "Where it faces: a word or a compass bearing.", "south, for doors and slots"
    )
    share: Annotated[float, Quantity("share", b.SHARE)] | None = key(
        "Area of the vents as a share of the floor."
    )
    place: Annotated[str, Choice("low", "high")] | None = key("Where vents sit.")


class CrewTable(Table):
    """Who builds it."""

    people: Annotated[int, Amount(b.PEOPLE, whole=True)] | None = key("People.", 2)
    reach: Annotated[float, Quantity("length", b.REACH)] | None = key(
        "How high a person reaches from where they stand.", "2.0 m"
    )
    platform: Annotated[float, c.PLATFORM] | None = key(
        'Height of the platform at hand, or "none".', "none"
    )
    way: (
        Annotated[str, Choice("auto", "in-place", "flat-courses", "crown-first", "halves")] | None
    ) = key("Way to build.", "auto")


class SurveyTable(Table):
    """Standard deviations of craft work."""

    tape: Annotated[float, Quantity("length", b.DEVIATION)] | None = key("One reading.", "3 mm")
    cut: Annotated[float, Quantity("length", b.DEVIATION)] | None = key("Sawing.", "1 mm")
    play: Annotated[float, Quantity("length", b.DEVIATION)] | None = key(
        "Play of a strut end in its hub.", "1 mm"
    )


class PriceTable(Table):
    """What a quote is made from."""

    currency: Annotated[str, c.CURRENCY] | None = key("Three letters.", "EUR")
    hour: Annotated[float, Amount(b.PRICE)] | None = key("Price of one hour of work.")
    margin: Annotated[float, Quantity("share", b.MARGIN)] | None = key("Margin on cost.", "0 %")
    tax: Annotated[float, Quantity("share", b.TAX)] | None = key("Tax on the price.", "0 %")
    freight: Annotated[float, Amount(b.PRICE)] | None = key("Price of sending one parcel.")


class DeliveryTable(Table):
    """How it travels."""

    carrier: Annotated[str, Name("parcel-175")] | None = key("Carrier profile.", "parcel-175")
    kit: Annotated[str, Choice("full", "hubs-only")] | None = key("What is sent.", "full")
