"""SI values as a reader sees them: the one place where numbers are rounded.

``system`` is ``metric``, ``imperial`` or ``both`` (metric first, the other in brackets).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import cache
from typing import Final

from strutwright.units.table import FOOT, INCH, UNITS

__all__ = [
    "show_angle",
    "show_area",
    "show_fine_length",
    "show_force",
    "show_length",
    "show_line_load",
    "show_mass",
    "show_moment",
    "show_pressure",
    "show_quantity",
    "show_share",
    "show_speed",
    "show_stress",
    "show_temperature",
    "show_use",
    "show_volume",
]

METRIC_STEP: Final = Fraction(1, 1000)
"""m; our choice: what a tape shows."""
INCH_STEP: Final = INCH / 16
"""m; our choice: what a tape shows."""
_FINEST: Final = Fraction(1, 10_000)  # m: a metric step is a whole number of tenths of a mm
_DIGITS: Final = (
    3  # significant digits of loads, speeds and the like; our choice: one in a thousand
)

# Quantity -> (label, spelling in the table, least SI value shown so), largest unit first.
_METRIC: Final[dict[str, Sequence[tuple[str, str, float]]]] = {
    "area": (("m²", "m2", 0.0),),
    "volume": (("m³", "m3", 0.0),),
    "force": (("kN", "kN", 1000.0), ("N", "N", 0.0)),
    "area load": (("kN/m²", "kN/m2", 100.0), ("Pa", "Pa", 0.0)),
    "stress": (("GPa", "GPa", 1e9), ("MPa", "MPa", 0.0)),
    "speed": (("m/s", "m/s", 0.0),),
    "line load": (("kN/m", "kN/m", 100.0), ("N/m", "N/m", 0.0)),
    "moment": (("kN·m", "kN·m", 1000.0), ("N·m", "N·m", 0.0)),
    "mass": (("kg", "kg", 0.0),),
    "temperature": (("°C", "C", 0.0),),
    "power": (("kW", "kW", 1000.0), ("W", "W", 0.0)),
    "flow": (("m³/s", "m3/s", 0.0),),
    "warming": (("K", "K", 0.0),),
}
_IMPERIAL: Final[dict[str, Sequence[tuple[str, str, float]]]] = {
    "area": (("ft²", "ft2", 0.0),),
    "volume": (("ft³", "ft3", 0.0),),
    "force": (("lbf", "lbf", 0.0),),
    "area load": (("psf", "psf", 0.0),),
    "stress": (("ksi", "ksi", 6.8e6), ("psi", "psi", 0.0)),
    "speed": (("mph", "mph", 0.0),),
    "line load": (("lbf/ft", "lbf/ft", 0.0),),
    "moment": (("lbf·ft", "lbf·ft", 0.0),),
    "mass": (("lb", "lb", 0.0),),
    "temperature": (("°F", "F", 0.0),),
    "power": (("Btu/h", "Btu/h", 0.0),),
    "flow": (("cfm", "cfm", 0.0),),
    "warming": (("°F", "F", 0.0),),
}


def show_length(metres: float, system: str = "metric", *, step: float | None = None) -> str:
    """Return a length in mm, in feet and inches, or in both: ``2400 mm (7' 10 1/2")``.

    Parameters
    ----------
    metres : float, m
    system : str
        ``metric``, ``imperial`` or ``both``.
    step : float, m, optional
        What the workshop saws to. A step of whole tenths of a millimetre rounds the mm, one of
        1/1 to 1/64 inch the inches; the other system keeps 1 mm or 1/16 in.
    """
    mm_step, inch_step = _steps(step)
    return _joined(
        system, lambda: _millimetres(metres, mm_step), lambda: _feet_inches(metres, inch_step)
    )


def show_fine_length(metres: float, system: str = "metric") -> str:
    """Return a play, a gap or a thickness to two digits: ``0.35 mm``, ``0.014 in``."""
    return _joined(
        system, lambda: f"{metres * 1000:.2g} mm", lambda: f"{metres / float(INCH):.2g} in"
    )


def show_quantity(value: float, kind: str, system: str = "metric") -> str:
    """Return an SI `value` of quantity `kind` with its unit, to three significant digits."""
    return _joined(
        system, lambda: _scaled(value, kind, _METRIC), lambda: _scaled(value, kind, _IMPERIAL)
    )


def show_area(square_metres: float, system: str = "metric") -> str:
    """Return an area: ``28.3 m²``, ``304 ft²``."""
    return show_quantity(square_metres, "area", system)


def show_volume(cubic_metres: float, system: str = "metric") -> str:
    """Return a volume: ``49.4 m³``."""
    return show_quantity(cubic_metres, "volume", system)


def show_force(newtons: float, system: str = "metric") -> str:
    """Return a force: ``445 N``, ``1.2 kN``, ``100 lbf``."""
    return show_quantity(newtons, "force", system)


def show_pressure(pascals: float, system: str = "metric") -> str:
    """Return an area load: ``0.7 kN/m²``, ``14.6 psf``."""
    return show_quantity(pascals, "area load", system)


def show_stress(pascals: float, system: str = "metric") -> str:
    """Return a stress or modulus: ``235 MPa``, ``34.1 ksi``."""
    return show_quantity(pascals, "stress", system)


def show_speed(metres_per_second: float, system: str = "metric") -> str:
    """Return a speed: ``24 m/s``, ``53.7 mph``."""
    return show_quantity(metres_per_second, "speed", system)


def show_line_load(newtons_per_metre: float, system: str = "metric") -> str:
    """Return a line load: ``0.5 kN/m``, ``34.3 lbf/ft``."""
    return show_quantity(newtons_per_metre, "line load", system)


def show_moment(newton_metres: float, system: str = "metric") -> str:
    """Return a moment: ``120 N·m``, ``88.5 lbf·ft``."""
    return show_quantity(newton_metres, "moment", system)


def show_mass(kilograms: float, system: str = "metric") -> str:
    """Return a mass: ``0.35 kg``, ``0.772 lb``."""
    return show_quantity(kilograms, "mass", system)


def show_temperature(celsius: float, system: str = "metric") -> str:
    """Return a temperature to the degree: ``-8 °C``, ``18 °F``."""
    return _joined(
        system,
        lambda: f"{_fixed(Fraction(celsius), 0)} °C",
        lambda: f"{_fixed(Fraction(celsius) * 9 / 5 + 32, 0)} °F",
    )


def show_angle(radians: float, *, decimals: int = 1) -> str:
    """Return an angle in degrees: ``18.0°``."""
    return f"{_fixed(Fraction(math.degrees(radians)), decimals)}°"


def show_share(share: float, *, decimals: int = 0) -> str:
    """Return a share in per cent: ``8 %``."""
    return f"{_fixed(Fraction(share) * 100, decimals)} %"


def show_use(use: float | None, *, is_bound: bool = False) -> str:
    """Return a utilisation: ``0.95``, at most so much for a bound, without end where nothing holds.

    An empty text where there is none.
    """
    if use is None:
        return ""
    return "∞" if math.isinf(use) else f"{'≤ ' if is_bound else ''}{use:.2f}"


def _joined(system: str, metric: Callable[[], str], imperial: Callable[[], str]) -> str:
    if system == "metric":
        return metric()
    if system == "imperial":
        return imperial()
    if system == "both":
        return f"{metric()} ({imperial()})"
    msg = f"system is metric, imperial or both, not {system!r}"
    raise ValueError(msg)


@cache
def _steps(step: float | None) -> tuple[Fraction, Fraction]:
    """Return the step of millimetres and the step of inches, both in m."""
    if step is None:
        return METRIC_STEP, INCH_STEP
    if not (math.isfinite(step) and step > 0):
        msg = f"a step is above zero, not {step}"
        raise ValueError(msg)
    exact = Fraction(step).limit_denominator(10**9)
    for part in (1, 2, 4, 8, 16, 32, 64):
        if abs(exact - INCH / part) < Fraction(1, 10**8):
            return METRIC_STEP, INCH / part
    tenths = round(exact / _FINEST)
    if tenths and abs(exact - tenths * _FINEST) < Fraction(1, 10**8):
        return tenths * _FINEST, INCH_STEP
    return METRIC_STEP, INCH_STEP


def _rounded(value: Fraction) -> int:
    """Return the nearest whole number, halves away from zero."""
    whole = math.floor(abs(value) + Fraction(1, 2))
    return -whole if value < 0 else whole


def _fixed(value: Fraction, decimals: int) -> str:
    """Return `value` with so many decimals, never ``-0``."""
    units = _rounded(value * 10**decimals)
    sign = "-" if units < 0 else ""
    if decimals <= 0:
        return f"{units * 10**-decimals}"
    whole, part = divmod(abs(units), 10**decimals)
    return f"{sign}{whole}.{part:0{decimals}d}"


def _millimetres(metres: float, step: Fraction) -> str:
    steps = _rounded(Fraction(metres) / step)
    millimetres = steps * step * 1000
    return f"{_fixed(millimetres, 0 if (step * 1000).denominator == 1 else 1)} mm"


def _feet_inches(metres: float, step: Fraction) -> str:
    steps = _rounded(Fraction(metres) / step)
    inches = abs(steps) * step / INCH
    feet, rest = divmod(inches, FOOT / INCH)
    whole, part = divmod(rest, 1)
    words = [f"{feet}'"] if feet else []
    if part:
        words.append(f'{whole} {part}"' if whole else f'{part}"')
    else:
        words.append(f'{whole}"')
    return ("-" if steps < 0 else "") + " ".join(words)


def _scaled(value: float, kind: str, shown: dict[str, Sequence[tuple[str, str, float]]]) -> str:
    size = abs(value)
    # A value that would be rounded up to the next unit's least is shown in that unit.
    slack = 1 - 0.5 * 10.0**-_DIGITS
    label, spelling, _ = next(
        (row for row in shown[kind] if size >= row[2] * slack and (size or not row[2])),
        shown[kind][-1],
    )
    unit = UNITS[kind][spelling]
    return f"{_significant((Fraction(value) - unit.offset) / unit.factor)} {label}"


def _significant(value: Fraction) -> str:
    """Return `value` to three significant digits, all digits before the point, no idle zeros."""
    if not value:
        return "0"
    exponent = math.floor(math.log10(abs(value)))
    text = _fixed(value, max(_DIGITS - 1 - exponent, 0))
    return text.rstrip("0").rstrip(".") if "." in text else text
