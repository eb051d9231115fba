"""Units by quantity, each an exact fraction of its SI unit.

Sources: inch 25.4 mm and pound 0.45359237 kg exactly (international yard and pound agreement,
1959); standard gravity 9.80665 m/s2 exactly (3rd CGPM, 1901); nautical mile 1852 m exactly
(International Hydrographic Conference, 1929).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Final

__all__ = ["EXAMPLES", "FOOT", "INCH", "KINDS", "UNITS", "Unit", "find_unit", "kinds_of"]

INCH: Final = Fraction(254, 10_000)
"""m"""
FOOT: Final = 12 * INCH
"""m"""
_POUND: Final = Fraction(45_359_237, 100_000_000)  # kg
_GRAVITY: Final = Fraction(980_665, 100_000)  # m/s2
_LBF: Final = _POUND * _GRAVITY  # N
_MILE: Final = 5280 * FOOT  # m
_HOUR: Final = 3600  # s
_BTU: Final = Fraction(105_505_585_262, 100_000_000)  # J, international table


@dataclass(frozen=True)
class Unit:
    """One unit: value in SI = number x `factor` + `offset`.

    Parameters
    ----------
    factor : Fraction
        SI units in one of this unit; exact.
    offset : Fraction
        SI value at a number of 0: for temperatures alone.
    """

    factor: Fraction
    offset: Fraction = Fraction(0)


def _units(**groups: object) -> dict[str, Unit]:
    """Return spelling -> Unit from ``"spelling spelling"=factor`` pairs."""
    return {
        spelling: factor if isinstance(factor, Unit) else Unit(Fraction(str(factor)))
        for spellings, factor in groups.items()
        for spelling in spellings.split("|")
    }


_LENGTH: Final = _units(
    **{
        "mm|millimetre|millimetres|millimeter|millimeters": "1/1000",
        "cm|centimetre|centimetres|centimeter|centimeters": "1/100",
        "m|metre|metres|meter|meters": 1,
        "km": 1000,
        '"|in|inch|inches': INCH,
        "'|ft|foot|feet": FOOT,
        "yd|yard|yards": 3 * FOOT,
    }
)
_AREA: Final = _units(
    **{
        "mm2": "1/1000000",
        "cm2": "1/10000",
        "m2|sq m": 1,
        "in2|sq in": INCH**2,
        "ft2|sq ft": FOOT**2,
    }
)
_VOLUME: Final = _units(**{"l": "1/1000", "m3": 1, "ft3|cu ft": FOOT**3})
_FORCE: Final = _units(
    # lb: where a force is wanted, it can only be the weight of a pound
    **{"N": 1, "kN": 1000, "kgf": _GRAVITY, "lbf|lb|lbs": _LBF, "kip|kips": 1000 * _LBF}
)
_PRESSURE: Final = _units(
    **{
        "Pa|N/m2": 1,
        "kPa|kN/m2": 1000,
        "hPa|mbar": 100,
        "kgf/m2": _GRAVITY,
        "psf|lbf/ft2|lb/ft2": _LBF / FOOT**2,
    }
)
_STRESS: Final = _units(
    **{
        "Pa|N/m2": 1,
        "kPa|kN/m2": 1000,
        "MPa|N/mm2|MN/m2": 10**6,
        "GPa|kN/mm2": 10**9,
        "psi|lbf/in2": _LBF / INCH**2,
        "ksi": 1000 * _LBF / INCH**2,
    }
)
_SPEED: Final = _units(
    **{
        "m/s": 1,
        "km/h|kmh|kph": Fraction(1000, _HOUR),
        "mph|mi/h": _MILE / _HOUR,
        "kn|kt|kts|knot|knots": Fraction(1852, _HOUR),
        "ft/s": FOOT,
    }
)
_LINE_LOAD: Final = _units(
    **{"N/m": 1, "kN/m|N/mm": 1000, "kgf/m": _GRAVITY, "plf|lbf/ft|lb/ft": _LBF / FOOT}
)
_MASS: Final = _units(**{"g": "1/1000", "kg": 1, "t": 1000, "lb|lbs": _POUND, "oz": _POUND / 16})
_TEMPERATURE: Final = {
    **_units(**{"C|degC|deg C": 1}),
    **{s: Unit(Fraction(5, 9), Fraction(-160, 9)) for s in ("F", "degF", "deg F")},
    "K": Unit(Fraction(1), Fraction(-27315, 100)),
}

UNITS: Final = MappingProxyType(
    {
        "length": _LENGTH,
        "area": _AREA,
        "volume": _VOLUME,
        "force": _FORCE,
        "area load": _PRESSURE,
        "stress": _STRESS,
        "speed": _SPEED,
        "line load": _LINE_LOAD,
        "power": _units(**{"W": 1, "kW": 1000, "Btu/h": _BTU / _HOUR}),
        "flow": _units(**{"m3/s": 1, "m3/h": Fraction(1, _HOUR), "cfm|ft3/min": FOOT**3 / 60}),
        "warming": _units(**{"K": 1, "F": Fraction(5, 9)}),
        "stiffness": _units(
            **{"N/m": 1, "kN/m|N/mm": 1000, "kN/mm|MN/m": 10**6, "lbf/in|lb/in": _LBF / INCH}
        ),
        "moment": _units(
            **{
                "Nm|N·m": 1,
                "kNm|kN·m": 1000,
                "lbf·ft|lbf ft|lb ft|ft lbf|ft lb": _LBF * FOOT,
            }
        ),
        "rotational stiffness": _units(
            **{"Nm/rad|N·m/rad": 1, "kNm/rad|kN·m/rad": 1000, "lbf·ft/rad|lbf ft/rad": _LBF * FOOT}
        ),
        "mass": _MASS,
        "temperature": _TEMPERATURE,
        "angle": _units(**{"deg|°|degree|degrees": 1}),
        "share": _units(**{"%|percent": "1/100"}),
        "time": _units(**{"s": 1, "min|minutes": 60, "h|hours": _HOUR, "d|day|days": 24 * _HOUR}),
    }
)
"""Quantity -> spelling -> Unit. Angles stay in degrees here: a radian is no fraction of them."""

KINDS: Final = tuple(UNITS)

EXAMPLES: Final = MappingProxyType(
    {
        "length": '"5.2 m", "1181 mm" or "7 ft 10 1/2 in"',
        "area": '"28 m2" or "300 ft2"',
        "volume": '"50 m3"',
        "force": '"445 N", "1.2 kN" or "100 lbf"',
        "area load": '"0.7 kN/m2" or "25 psf"',
        "stress": '"235 MPa" or "36 ksi"',
        "speed": '"24 m/s" or "115 mph"',
        "line load": '"0.5 kN/m" or "35 lbf/ft"',
        "stiffness": '"5 kN/mm"',
        "moment": '"120 Nm"',
        "rotational stiffness": '"2 kNm/rad"',
        "mass": '"0.35 kg" or "12 lb"',
        "temperature": '"-8 C" or "18 F"',
        "power": '"4.2 kW" or "14000 Btu/h"',
        "flow": '"1.2 m3/s" or "2500 cfm"',
        "warming": '"10 K" or "18 F"',
        "angle": '"20 deg"',
        "share": '"8 %"',
        "time": '"10 min"',
    }
)
"""How each quantity is written, for messages and the reference."""


def find_unit(spelling: str, kind: str) -> Unit | None:
    """Return the unit of quantity `kind` that is spelt so, or None.

    Capitals are forgiven where they tell nothing apart: in text of one case that is not a prefix
    ("MM", "PSF"), never in ``mpa``, which could be a thousandth or a million.
    """
    units = UNITS[kind]
    spelling = spelling.replace("°C", "C").replace("°F", "F").replace("^", "").strip()
    for form in (spelling, spelling.rstrip(".")):
        if form in units:
            return units[form]
    if spelling in (spelling.lower(), spelling.upper()) and spelling.lower()[:2] != "mp":
        folded = {name.lower(): unit for name, unit in units.items()}
        return folded.get(spelling.lower())
    return None


def kinds_of(spelling: str) -> tuple[str, ...]:
    """Return every quantity that has a unit spelt so."""
    return tuple(kind for kind in KINDS if find_unit(spelling, kind) is not None)
