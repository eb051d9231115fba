"""The bounds that each key of a brief is held to, each with its reason.

They are our choice: wide enough for every shell that a workshop sells, narrow enough that a slip
of the keyboard or a wrong unit is caught.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from strutwright.brief.sections import Loads

__all__ = ["Bound"]


@dataclass(frozen=True)
class Bound:
    """Least and largest value of a key, as a reader writes them, and why.

    Parameters
    ----------
    least, largest : str or float
        With unit where the key has one.
    reason : str
        Why beyond it no sensible value lies.
    """

    least: str | float
    largest: str | float
    reason: str


WIDTH: Final = Bound("0.5 m", "100 m", "smaller is a model, larger is no kit")
LENGTH: Final = Bound("0.5 m", "500 m", "40 bays of a wide long dome end there")
RISE: Final = Bound("0.2 m", "100 m", "flatter is a floor, higher is no kit")
FREEDOM: Final = Bound("0 %", "50 %", "beyond half it is another wish")
FLOOR_AREA: Final = Bound("0.2 m2", "20000 m2", "from a model to the largest long dome")
LONGEST_STRUT: Final = Bound("0.1 m", "20 m", "shorter leaves no room for hubs, longer is no bar")
HEADROOM: Final = Bound("0.3 m", "10 m", "headroom is for people, beds and machines")
COUNT_BAYS: Final = Bound(0, 40, "longer houses are built as two")
COURSES: Final = Bound(1, 72, "a sphere of frequency 24 has no more courses")
LENGTHS: Final = Bound(1, 200, "more would be no saving")
JOIN: Final = Bound("0.01 mm", "200 mm", "finer is rounding, coarser joins hubs that are two")
DRIFT: Final = Bound("0 mm", "2 m", "beyond it another shape is meant")
SIDE_WALLS: Final = Bound("0 m", "5 m", "higher walls are a frame of their own")
BAR: Final = Bound("0.2 m", "24 m", "no shorter bar is sold, no longer one carried")
OUTSIDE: Final = Bound("5 mm", "500 mm", "thinner is wire, thicker is no strut of a kit")
WALL: Final = Bound("0.2 mm", "50 mm", "thinner is foil, thicker is no tube")
KERF: Final = Bound("0 mm", "10 mm", "no saw is thicker")
END_TRIM: Final = Bound("0 mm", "200 mm", "more would be another piece")
STEP: Final = Bound("0.1 mm", "26 mm", "finer is not sawn, coarser does not close")
ALLOWANCE: Final = Bound("-100 mm", "500 mm", "struts overlap or stand off a hub no further")
ECCENTRICITY: Final = Bound("0 mm", "500 mm", "a hub is no wider")
STIFFNESS: Final = Bound("0 Nm/rad", "10000 kNm/rad", "beyond it the joint is rigid")
AXIAL_STIFFNESS: Final = Bound("0 N/m", "10000 kN/mm", "beyond it the joint is rigid")
MOMENT: Final = Bound("0 Nm", "1000 kNm", "beyond it lies no coupler of a kit")
STRENGTH: Final = Bound("0 N", "10000 kN", "beyond it lies no joint of a kit")
FASTENERS: Final = Bound(0, 50, "more do not fit on a strut end")
HUB_MASS: Final = Bound("0 kg", "200 kg", "nobody lifts a heavier hub")
PRICE: Final = Bound(0, 1e6, "a price is not below zero")
QUANTITY: Final = Bound(0, 1_000_000, "no rack holds more")
SNOW: Final = Bound("0 kN/m2", "30 kN/m2", "no inhabited place has more snow on the ground")
WIND: Final = Bound("0 m/s", "120 m/s", "no standard maps a faster wind")
TOPOGRAPHY: Final = Bound(1, 4, "a factor on wind: 1 is level ground, a sharp crest about 3")
ALTITUDE: Final = Bound("-430 m", "6000 m", "from the lowest shore to the highest village")
TEMPERATURE: Final = Bound("-70 C", "90 C", "coldest air on record, hottest frame under the sun")
FROST: Final = Bound("0 m", "5 m", "frost goes no deeper where kits stand")
PULL_TEST: Final = Bound("0 N", "1000 kN", "beyond it lies no anchor of a kit")
BALLAST: Final = Bound("0 kg", "5000 kg", "heavier is a building's footing")
RISER: Final = Bound("0 m", "5 m", "higher is a storey")
NORTH: Final = Bound("-360 deg", "360 deg", "one turn")
HUNG: Final = Bound("0 N", "100 kN", "more is a crane")
CROP: Final = Bound("0 kN/m2", "20 kN/m2", "more is a warehouse floor")
LAYERS: Final = Bound(1, 3, "more layers are not hung on one frame")
ROLL: Final = Bound("0.1 m", "25 m", "no film is rolled wider")
FIXING: Final = Bound("10 N", "20 kN", "more is a hub's own bolt")
SHEET_LOAD: Final = Bound("0.1 kN/m2", "30 kN/m2", "no light sheet carries more")
MACHINE: Final = Bound("0.1 m", "25 m", "no film is rolled wider")
STANDOFF: Final = Bound("0 mm", "500 mm", "lower than that is a ceiling")
DEGREE_DAYS: Final = Bound(0, 15000, "no inhabited place has a colder year")
SUN: Final = Bound(0, 1400, "more sun does not reach the earth")
INDOORS: Final = Bound("-40 C", "60 C", "what plants, stores and people stand")
AIR_CHANGES: Final = Bound(0, 120, "more than two a minute is a fan's work")
OPENING: Final = Bound("0.1 m", "20 m", "smaller is a gap, larger is an open end")
SHARE: Final = Bound("0 %", "100 %", "a share of the floor")
MARGIN: Final = Bound("0 %", "1000 %", "a margin is not below zero")
TAX: Final = Bound("0 %", "100 %", "no tax takes more")
PEOPLE: Final = Bound(1, 50, "a crew")
REACH: Final = Bound("0.5 m", "4 m", "of a person with a tool, from where they stand")
PLATFORM: Final = Bound("0 m", "20 m", "higher is a scaffold of its own design")
DEVIATION: Final = Bound("0.01 mm", "100 mm", "a standard deviation of craft work")
MOST_DIVISION: Final = 24
"""b + c; our choice: beyond it struts of a kit are shorter than their hubs."""
HUNG_DEFAULT: Final = Loads().hung
"""N; one person's half weight on a rope: what any hub is checked for when nothing is said."""
