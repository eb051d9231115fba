"""Keys that may be written in more than one way."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from strutwright.brief import bounds as b
from strutwright.brief.bounds import Bound
from strutwright.brief.fields import Quantity, Read, fail, refuse_bound, written
from strutwright.brief.sections import Freedom
from strutwright.units import parse_angle, parse_exact

__all__ = [
    "CURRENCY",
    "DIVISION",
    "FACING",
    "FREEDOM",
    "PLATFORM",
    "SHEET",
    "TEMPERATURES",
    "TRUNCATION",
]

_BEARINGS: Final = (
    "north",
    "north-east",
    "east",
    "south-east",
    "south",
    "south-west",
    "west",
    "north-west",
)


def _is_whole(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def _pair(value: object, like: str) -> Sequence[object]:
    if not isinstance(value, list) or len(value) != 2:
        what = f"{written(value)} where a pair is wanted"
        fail("brief-wrong-type", what, f"write two values: {like}")
    return value


def _division(value: object) -> tuple[int, int]:
    first, second = _pair(value, "[4, 0]")
    mend = f"write [b, c] with b at least 1, c at least 0, b + c at most {b.MOST_DIVISION}"
    if not (isinstance(first, int) and _is_whole(first)):
        fail("brief-wrong-type", f"{written(first)} in a division", mend)
    if not (isinstance(second, int) and _is_whole(second)):
        fail("brief-wrong-type", f"{written(second)} in a division", mend)
    if first < 1 or second < 0 or first + second > b.MOST_DIVISION:
        what = f"[{written(first)}, {written(second)}] has frequency {written(first + second)}"
        fail("brief-out-of-bounds", what, mend)
    return first, second


def _truncation(value: object) -> Fraction | int:
    mend = 'write a share such as "1/2" or "55 %", or the courses to keep as a whole number'
    if isinstance(value, int) and _is_whole(value):
        if not float(b.COURSES.least) <= value <= float(b.COURSES.largest):
            refuse_bound(value, value < float(b.COURSES.least), b.COURSES)
        return value
    if not isinstance(value, str):
        fail("brief-wrong-type", f"{written(value)} where a share or a count is wanted", mend)
    share = parse_exact(value if "%" in value else f"{value} %", "share")
    share *= 1 if "%" in value else 100
    if not 0 < share < 1:
        fail("brief-out-of-bounds", f"{written(value)} is not between 0 and 1", mend)
    return share


def _freedom(value: object) -> Freedom:
    if not isinstance(value, list):
        return Freedom(share=Quantity("share", b.FREEDOM).read(value))
    least, largest = _lengths(value, '["5.0 m", "6.4 m"]', b.WIDTH)
    if least > largest:
        what = f"[{written(value[0])}, {written(value[1])}] falls"
        fail("brief-out-of-bounds", what, "write the least width first")
    return Freedom(least=least, largest=largest)


def _lengths(value: object, like: str, bound: Bound) -> tuple[float, float]:
    first, second = _pair(value, like)
    length = Quantity("length", bound)
    return length.read(first), length.read(second)


def _sheet(value: object) -> tuple[float, float]:
    return _lengths(value, '["2.1 m", "6.0 m"]', b.ROLL)


def _temperatures(value: object) -> tuple[float, float]:
    first, second = _pair(value, '["-10 C", "45 C"]')
    degrees = Quantity("temperature", b.TEMPERATURE)
    coldest, warmest = degrees.read(first), degrees.read(second)
    if coldest > warmest:
        what = f"[{written(first)}, {written(second)}] falls"
        fail("brief-out-of-bounds", what, "write the coldest first")
    return coldest, warmest


def _facing(value: object) -> float:
    if isinstance(value, str) and value.strip().lower() in _BEARINGS:
        return math.radians(45 * _BEARINGS.index(value.strip().lower()))
    if isinstance(value, str) and value.strip()[:1].isalpha():
        mend = f'write one of {", ".join(_BEARINGS)}, or a bearing such as "135 deg"'
        fail("brief-unknown-word", f"{written(value)} is no direction", mend)
    return parse_angle(value) % (2 * math.pi)


def _currency(value: object) -> str:
    if not (isinstance(value, str) and len(value) == 3 and value.isascii() and value.isupper()):
        mend = 'write its three capital letters, such as "EUR"'
        fail("brief-text", f"{written(value)} is no currency", mend)
    return value


def _platform(value: object) -> float:
    if value == "none":
        return 0.0
    if isinstance(value, str) and value.strip()[:1].isalpha():
        mend = 'write "none" or the height of the platform, such as "1.2 m"'
        fail("brief-unknown-word", f"{written(value)} is no platform", mend)
    return float(Quantity("length", b.PLATFORM).read(value))


def _pair_of(item: dict[str, object]) -> dict[str, object]:
    return {"type": "array", "items": item, "minItems": 2, "maxItems": 2}


_TEXT: Final[dict[str, object]] = {"type": "string"}
CURRENCY: Final = Read(_currency, {**_TEXT, "pattern": "^[A-Z]{3}$"})
DIVISION: Final = Read(
    _division, _pair_of({"type": "integer", "minimum": 0, "maximum": b.MOST_DIVISION})
)
TRUNCATION: Final = Read(
    _truncation,
    {
        "anyOf": [
            {"type": "string", "examples": ["1/2", "55 %"]},
            {"type": "integer", "minimum": b.COURSES.least, "maximum": b.COURSES.largest},
        ]
    },
)
FREEDOM: Final = Read(
    _freedom,
    {"anyOf": [Quantity("share", b.FREEDOM).shown, _pair_of(Quantity("length", b.WIDTH).shown)]},
)
SHEET: Final = Read(_sheet, _pair_of(Quantity("length", b.ROLL).shown))
TEMPERATURES: Final = Read(_temperatures, _pair_of(Quantity("temperature", b.TEMPERATURE).shown))
FACING: Final = Read(
    _facing, {**_TEXT, "examples": [*_BEARINGS, "135 deg"], "x-unit-inside": "rad"}
)
PLATFORM: Final = Read(_platform, {**_TEXT, "examples": ["none", "1.2 m"], "x-unit-inside": "m"})
