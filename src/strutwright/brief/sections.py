"""The sections of a brief as frozen values: keys as in the file, SI, None where absent."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

__all__ = [
    "SOUTH",
    "Bar",
    "Climate",
    "ConnectorTable",
    "Cover",
    "Crew",
    "Delivery",
    "Freedom",
    "Hubs",
    "Loads",
    "Opening",
    "Price",
    "Project",
    "Shape",
    "Site",
    "Size",
    "StockTable",
    "Struts",
    "Survey",
    "Wind",
]


@dataclass(frozen=True)
class Project:
    """Name, use, and how documents speak: `show` metric, imperial or both."""

    name: str
    use: str = "greenhouse"
    show: str = "metric"
    language: str = "en"


@dataclass(frozen=True)
class Freedom:
    """How far the size may move: a share of it, or the least and largest width, m."""

    share: float | None = None
    least: float | None = None
    largest: float | None = None


@dataclass(frozen=True)
class Size:
    """Wished sizes, m and m2: any set that is enough; the shape works out the rest."""

    width: float | None = None
    length: float | None = None
    rise: float | None = None
    freedom: Freedom | None = None
    floor_area: float | None = None
    longest_strut: float | None = None
    headroom: float | None = None


@dataclass(frozen=True)
class Shape:
    """Wished shape; None where the shape is to be chosen or the key is for another family.

    Parameters
    ----------
    division : (b, c), optional
    truncation : Fraction or int, optional
        A share of the sphere's courses, or the courses kept, counted from the apex.
    side_walls, drift : float, m
        Straight walls under a vault; how far a hub may move for fewer lengths.
    file : str, optional
        Name of the file of an old kit, beside the brief.
    unit, up : str
        Of bare numbers in that file; the axis of the file that points up.
    join : float, m
        Ends of its lines this near to one another are one hub.
    """

    family: str
    seed: str = "icosahedron"
    division: tuple[int, int] | None = None
    point_law: str = "flat"
    pose: str = "vertex"
    truncation: Fraction | int | None = None
    scale_rise: bool = False
    level_base: str = "whole"
    bays: int | None = None
    cap_symmetry: int = 6
    rows: str = "along"
    profile: str = "circle"
    grid: str = "three-way"
    side_walls: float = 0.0
    ends: str = "wall"
    lengths: int | None = None
    drift: float | None = None
    inner_braces: str | tuple[int, ...] = "auto"
    file: str | None = None
    unit: str | None = None
    up: str = "z"
    join: float = 0.005


@dataclass(frozen=True)
class StockTable:
    """A stock that no catalogue holds: material id; tube or batten, all sizes in m."""

    material: str
    outside: float | None = None
    wall: float | None = None
    depth: float | None = None
    breadth: float | None = None
    name: str = "own stock"


@dataclass(frozen=True)
class Bar:
    """One bar as sold: length, m; price in the brief's currency; number at hand (None: any)."""

    length: float
    price: float | None = None
    quantity: int | None = None


@dataclass(frozen=True)
class Struts:
    """Stock (catalogue id or own table), bars as sold (empty: the catalogue's), saw: m."""

    stock: str | StockTable = "emt-1"
    bars: tuple[Bar, ...] = ()
    kerf: float = 0.002
    end_trim: float = 0.005
    step: float = 0.001


@dataclass(frozen=True)
class ConnectorTable:
    """A connector that no catalogue holds; what is None has still to be tested.

    Parameters
    ----------
    allowance : float, m
        Half the difference of node length and cut length, per strut end.
    eccentricity : float, m, optional
        Offset of the strut's axis from the hub's.
    stiffness : float, Nm/rad, optional
        Rotational, of one strut end.
    axial_stiffness : float, N/m, optional
    strength : float, N, optional
        Characteristic, of one strut end, in tension and compression.
    fasteners : int
        Per strut end.
    mass : float, kg
        Of one hub.
    price : float, optional
        Of one hub, in the brief's currency.
    """

    allowance: float
    eccentricity: float | None = None
    stiffness: float | None = None
    axial_stiffness: float | None = None
    strength: float | None = None
    fasteners: int = 1
    mass: float | None = None
    price: float | None = None
    name: str = "own connector"


@dataclass(frozen=True)
class HubTest:
    """The workshop's own tests of strut ends: one reading a sample, empty where none was made.

    Parameters
    ----------
    pull, push : tuple of float, N
        Largest axial force of one strut end in its hub, away from it and into it.
    bend : tuple of float, Nm/rad
        Rotational stiffness of one strut end.
    slip : tuple of float, m
        Play of one strut end along the strut.
    offset : tuple of float, m
        Strut axis to hub centre, across the strut.
    coupler : tuple of float, Nm/rad
        Rotational stiffness of a coupler.
    coupler_bend : tuple of float, Nm
        Largest bending moment on a coupler.
    coupler_pull : tuple of float, N
        Largest pull on a coupler.
    """

    pull: tuple[float, ...] = ()
    push: tuple[float, ...] = ()
    bend: tuple[float, ...] = ()
    slip: tuple[float, ...] = ()
    offset: tuple[float, ...] = ()
    coupler: tuple[float, ...] = ()
    coupler_bend: tuple[float, ...] = ()
    coupler_pull: tuple[float, ...] = ()


@dataclass(frozen=True)
class Hubs:
    """How struts are joined: a catalogue id or an own table, and the workshop's own tests.

    Parameters
    ----------
    connector : str or ConnectorTable
    tests : tuple of HubTest
        Those written in the brief; `end_tests_of` adds those of the file.
    test_file : str, optional
        Name of the file of more of them, beside the brief.
    """

    connector: str | ConnectorTable = "flattened-bolt"
    tests: tuple[HubTest, ...] = ()
    test_file: str | None = None


@dataclass(frozen=True)
class Wind:
    """Basic wind speed, m/s, and its averaging basis: ``10 min mean`` or ``3 s gust``."""

    value: float
    basis: str


@dataclass(frozen=True)
class Site:
    """Standard, climate loads and ground.

    Parameters
    ----------
    ground_snow : float, Pa, optional
    basic_wind : Wind, optional
    temperature : (float, float), degrees C
        Coldest and warmest, of the frame.
    north : float, rad
        Azimuth of +y, clockwise from north.
    levels : str, optional
        Name of the file of height readings, beside the brief.
    dome_table : str, optional
        Name of the file of wind coefficients of domes, beside the brief.
    altitude, frost, riser : float, m
    ballast : float, kg, optional
        On every hub on the ground.
    pull_test : float, N, optional
    """

    standard: str = "en"
    ground_snow: float | None = None
    basic_wind: Wind | None = None
    exposure: str = "II"
    consequence: str = "CC1"
    topography: float = 1.0
    dome_table: str | None = None
    altitude: float = 0.0
    temperature: tuple[float, float] = (-10.0, 45.0)
    base: str = "staked"
    ballast: float | None = None
    soil: str | None = None
    north: float = 0.0
    frost: float | None = None
    levels: str | None = None
    pull_test: float | None = None
    riser: float = 0.0


@dataclass(frozen=True)
class Loads:
    """Load hung at any one hub, N; crop or equipment hung evenly, Pa of floor."""

    hung: float = 445.0
    crop: float = 0.0


@dataclass(frozen=True)
class Cover:
    """Cover material (None: bare frame), layers, roll width or sheet, m; film barrier.

    `strips` is the way the shell is parted, `nest` how pieces are laid on the roll, `standoff`
    how far an inner film hangs below the struts, m; `machine` is the widest piece that can be
    worked, m, `fixing` what one fixing held, N; `sheet_load` what the maker of a
    sheet allows on it, Pa; `price` is that of a square metre.
    """

    material: str | None = None
    layers: int = 1
    roll: float | None = None
    sheet: tuple[float, float] | None = None
    barrier: str = "none"
    strips: str = "auto"
    nest: str = "rows"
    standoff: float = 0.0
    machine: float | None = None
    fixing: float | None = None
    sheet_load: float | None = None
    price: float | None = None


@dataclass(frozen=True)
class Climate:
    """Design temperatures, degrees C; air changes per hour through gaps.

    `degree_days` of the site in K d, `fuel_price` for a kWh of heat, `sun` on the level in
    W/m2, `shade` the share of it kept out.
    """

    inside: float | None = None
    outside: float | None = None
    air_changes: float = 1.0
    degree_days: float | None = None
    fuel_price: float | None = None
    sun: float = 800.0
    shade: float = 0.0


@dataclass(frozen=True)
class Opening:
    """Door, vent or slot: size, m; facing, rad, bearing clockwise from north.

    A vent may give `share` of the floor and `place` low or high in place of a size.
    """

    kind: str
    width: float | None = None
    height: float | None = None
    facing: float | None = None
    share: float | None = None
    place: str | None = None


@dataclass(frozen=True)
class Crew:
    """Who builds: people, reach from the ground, m; platform height, m (0: none); way."""

    people: int = 2
    reach: float = 2.0
    platform: float = 0.0
    way: str = "auto"


@dataclass(frozen=True)
class Survey:
    """Standard deviations, m: one tape reading, sawing, play of a strut end in its hub."""

    tape: float = 0.003
    cut: float = 0.001
    play: float = 0.001


@dataclass(frozen=True)
class Price:
    """Currency, price of an hour's work and of a parcel's freight, margin and tax as shares."""

    currency: str = "EUR"
    hour: float | None = None
    margin: float = 0.0
    tax: float = 0.0
    freight: float | None = None


@dataclass(frozen=True)
class Delivery:
    """Carrier profile, and whether the full kit or the hubs alone are sent."""

    carrier: str = "parcel-175"
    kit: str = "full"


SOUTH = math.pi
"""rad, bearing clockwise from north; our choice for a door or slot that says nothing: the sun."""
