"""Quantities as people write them, read on exact fractions.

A quantity is one number with its unit, or feet with inches after them. A number is a decimal
(``10.5``), a fraction (``1/2``) or a whole with a fraction (``10 1/2``, ``10-1/2``). Nothing is
guessed: what could be read in two ways is refused with what to write instead.
"""

from __future__ import annotations

import math
import re
import unicodedata
from difflib import get_close_matches
from fractions import Fraction
from typing import Final, NoReturn

from strutwright.errors import InputError
from strutwright.units.table import EXAMPLES, FOOT, INCH, UNITS, find_unit, kinds_of

__all__ = [
    "parse_angle",
    "parse_area",
    "parse_exact",
    "parse_force",
    "parse_length",
    "parse_line_load",
    "parse_mass",
    "parse_pressure",
    "parse_quantity",
    "parse_share",
    "parse_speed",
    "parse_temperature",
]

LONGEST_TEXT: Final = 60
"""Characters; our choice: no quantity needs more, and digits without end cost time."""
LARGEST: Final = Fraction(10**12)
"""Largest number before its unit; our choice: beyond it lies a slip of the keyboard."""

_SIGNS: Final = str.maketrans(
    {"′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "−": "-", "–": "-", "⁄": "/"}
    | {"⋅": "·", "º": "°"}
)
_NUMBER: Final = (
    r"(?P<whole>\d+)(?:\s+|\s*-\s*)(?P<n1>\d+)\s*/\s*(?P<d1>\d+)"
    r"|(?P<n2>\d+)\s*/\s*(?P<d2>\d+)"
    r"|(?P<decimal>(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?(?![\d.]))"
)
_UNIT: Final = r"""'|"|%|°\s?[CF]?|[A-Za-z][A-Za-z0-9·*^/.]*(?:\s[A-Za-z][A-Za-z0-9·/^]*)*"""
_TERM: Final = re.compile(rf"\s*(?:{_NUMBER})\s*(?P<unit>{_UNIT})?\s*")
_NOT_FINITE: Final = re.compile(r"\s*[+-]?\s*(nan|inf|infinity)\b", re.IGNORECASE)

Term = tuple[Fraction, str]


class _Reader:
    """What is being read: the text as written, the quantity wanted, where it stands."""

    def __init__(self, text: str, kind: str, where: str) -> None:
        self.text, self.kind, self.where = text, kind, where

    def refuse(self, code: str, why: str, mend: str = "") -> NoReturn:
        """Raise the InputError of this text."""
        shown = self.text if len(self.text) <= LONGEST_TEXT else self.text[:LONGEST_TEXT] + "..."
        what = f"'{shown}' {why}"
        raise InputError(code, what, self.where, mend or f"write {EXAMPLES[self.kind]}")


def parse_exact(value: object, kind: str, *, signed: bool = False, where: str = "") -> Fraction:
    """Return the exact SI value of a quantity written with its unit.

    Parameters
    ----------
    value : object
        The text; anything else is refused (a bare number has no unit).
    kind : str
        The quantity wanted, one of `KINDS`.
    signed : bool
        Whether a value below zero makes sense.
    where : str
        Key, line or cell, for the message.

    Returns
    -------
    Fraction
        In m, m2, m3, N, Pa, m/s, N/m, Nm, Nm/rad, kg, degrees C, degrees, s; shares as part of 1.

    Raises
    ------
    InputError
        ``number-ambiguous``, ``number-missing``, ``number-negative``, ``number-not-finite``,
        ``number-too-large``, ``number-unreadable``, ``number-zero-denominator``,
        ``unit-mixed``, ``unit-missing``, ``unit-order``, ``unit-unknown``, ``unit-wrong-kind``.
    """
    if not isinstance(value, str):
        return _refuse_bare(value, kind, where)
    reader = _Reader(value, kind, where)
    text = _plain_signs(value)
    if not text:
        reader.refuse("number-missing", "holds no number")
    if len(value) > LONGEST_TEXT:
        reader.refuse("number-unreadable", f"is longer than {LONGEST_TEXT} characters")
    if _NOT_FINITE.match(text):
        reader.refuse("number-not-finite", "is not a finite number")
    sign = -1 if text.startswith("-") else 1
    terms = _terms(text[1:] if text[0] in "+-" else text, reader)
    if sign < 0 and not signed and any(number for number, _ in terms):
        reader.refuse("number-negative", f"is below zero, which no {kind} here can be")
    return _value(terms, sign, reader)


def parse_quantity(value: object, kind: str, *, signed: bool = False, where: str = "") -> float:
    """Return the SI value of a quantity written with its unit; see `parse_exact`."""
    exact = parse_exact(value, kind, signed=signed, where=where)
    return math.radians(float(exact)) if kind == "angle" else float(exact)


def parse_length(value: object, where: str = "") -> float:
    """Return a length, m: "5.2 m", "1181 mm", ``7'-10 1/2"``, "18 ft 4 in"."""
    return parse_quantity(value, "length", where=where)


def parse_area(value: object, where: str = "") -> float:
    """Return an area, m2: "28 m2", "300 ft2"."""
    return parse_quantity(value, "area", where=where)


def parse_force(value: object, where: str = "") -> float:
    """Return a force, N: "445 N", "1.2 kN", "100 lbf"."""
    return parse_quantity(value, "force", where=where)


def parse_pressure(value: object, where: str = "") -> float:
    """Return an area load, Pa: "0.7 kN/m2", "25 psf"."""
    return parse_quantity(value, "area load", where=where)


def parse_line_load(value: object, where: str = "") -> float:
    """Return a line load, N/m: "0.5 kN/m", "35 lbf/ft"."""
    return parse_quantity(value, "line load", where=where)


def parse_speed(value: object, where: str = "") -> float:
    """Return a speed, m/s: "24 m/s", "115 mph"."""
    return parse_quantity(value, "speed", where=where)


def parse_mass(value: object, where: str = "") -> float:
    """Return a mass, kg: "0.35 kg", "12 lb"."""
    return parse_quantity(value, "mass", where=where)


def parse_temperature(value: object, where: str = "") -> float:
    """Return a temperature, degrees C: "-8 C", "18 F"."""
    return parse_quantity(value, "temperature", signed=True, where=where)


def parse_angle(value: object, where: str = "") -> float:
    """Return an angle, rad: "20 deg", "-7.5 deg"."""
    return parse_quantity(value, "angle", signed=True, where=where)


def parse_share(value: object, where: str = "") -> float:
    """Return a share as part of 1: "8 %" is 0.08."""
    return parse_quantity(value, "share", where=where)


def _a(kind: str) -> str:
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"


def _refuse_bare(value: object, kind: str, where: str) -> NoReturn:
    mend = f"write it as text with its unit: {EXAMPLES[kind]}"
    if isinstance(value, int | float) and not isinstance(value, bool):
        if isinstance(value, float) and not math.isfinite(value):
            raise InputError("number-not-finite", f"{value} is not a finite number", where, mend)
        raise InputError("unit-missing", f"{value} is {_a(kind)} without a unit", where, mend)
    what = f"{type(value).__name__} where {_a(kind)} is wanted"
    raise InputError("number-unreadable", what, where, mend)


def _plain_signs(text: str) -> str:
    """Return `text` with primes, dashes, powers and fractions in plain characters."""
    spread = []
    for char in text:
        if unicodedata.category(char) == "No" and "⁄" in unicodedata.normalize("NFKC", char):
            spread.append(" " + unicodedata.normalize("NFKC", char))
        else:
            spread.append(" " if char.isspace() else char)
    plain = "".join(spread).translate(_SIGNS).replace("''", '"').strip()
    plain = re.sub(r"(?<=[A-Za-z])[²³]", lambda power: "2" if power[0] == "²" else "3", plain)
    return re.sub(r"(?<=[A-Za-z0-9])\s*/\s*(?=[A-Za-z])", "/", plain)


def _terms(text: str, reader: _Reader) -> list[Term]:
    """Return the (number, unit spelling) pairs that make up `text`."""
    terms: list[Term] = []
    at = 0
    while at < len(text):
        if terms and text[at] == "-" and terms[-1][1]:
            at += 1  # the dash between feet and inches
        match = _TERM.match(text, at)
        if match is None:
            _refuse_rest(text, at, terms, reader)
        terms.append((_number(match, reader), match["unit"] or ""))
        at = match.end()
    return terms


def _refuse_rest(text: str, at: int, terms: list[Term], reader: _Reader) -> NoReturn:
    rest = text[at:].strip() or text
    if "," in rest and any(char.isdigit() for char in text):
        mend = "write a point for decimals and nothing between thousands"
        reader.refuse("number-unreadable", "holds a comma", mend)
    if terms and not terms[-1][1] and re.match(r"[^\W\d]", rest):
        reader.refuse("unit-unknown", f'has the unknown unit "{rest}"')
    reader.refuse("number-unreadable", f'cannot be read from "{rest}" on')


def _number(match: re.Match[str], reader: _Reader) -> Fraction:
    whole, top, bottom = match["whole"] or "0", match["n1"] or match["n2"], match["d1"]
    bottom = bottom or match["d2"]
    if bottom is not None:
        if int(bottom) == 0:
            reader.refuse("number-zero-denominator", "divides by zero")
        part = Fraction(int(top), int(bottom))
        if match["whole"] and part >= 1:
            mend = "write the whole number and a fraction below 1"
            reader.refuse("number-ambiguous", "has a fraction of 1 or more after a whole", mend)
        return int(whole) + part
    text = match["decimal"]
    exponent = re.search(r"[eE]([+-]?\d+)$", text)
    if exponent and abs(int(exponent[1])) > math.log10(LARGEST):
        reader.refuse("number-too-large", f"lies outside 1e-12 to {float(LARGEST):.0e}")
    return Fraction(text)


def _value(terms: list[Term], sign: int, reader: _Reader) -> Fraction:
    if len(terms) == 1:
        number, spelling = terms[0]
        if number > LARGEST:
            reader.refuse("number-too-large", f"is above {float(LARGEST):.0e}")
        return _in_si(sign * number, spelling, reader)
    if any(not spelling for _, spelling in terms):
        mend = f"give each number its unit: {EXAMPLES[reader.kind]}"
        reader.refuse("number-ambiguous", "has a number without a unit beside another", mend)
    if reader.kind != "length":
        for number, spelling in terms:
            _in_si(number, spelling, reader)
        reader.refuse("unit-mixed", f"has more than one {reader.kind}")
    return sign * _feet_and_inches(terms, reader)


def _feet_and_inches(terms: list[Term], reader: _Reader) -> Fraction:
    factors = []
    for number, spelling in terms:
        _in_si(number, spelling, reader)
        unit = find_unit(spelling, "length")
        factors.append(unit.factor if unit else None)
    if factors == [INCH, FOOT]:
        reader.refuse("unit-order", "has inches before feet", 'write feet first: "2 ft 3 in"')
    if factors != [FOOT, INCH]:
        mend = 'write one unit ("2.35 m"), or feet and then inches ("7 ft 10 1/2 in")'
        reader.refuse("unit-mixed", "has units that do not belong together", mend)
    feet, inches = terms[0][0], terms[1][0]
    if feet.denominator != 1:
        reader.refuse("number-ambiguous", "has a part of a foot and inches as well")
    if inches >= 12:
        reader.refuse("number-ambiguous", "has 12 inches or more beside feet")
    return feet * FOOT + inches * INCH


def _in_si(number: Fraction, spelling: str, reader: _Reader) -> Fraction:
    kind = reader.kind
    if not spelling:
        reader.refuse("unit-missing", f"has no unit, and {_a(kind)} needs one")
    if kind == "angle" and spelling == "rad":
        return Fraction(math.degrees(float(number)))
    unit = find_unit(spelling, kind)
    if unit is None:
        _refuse_unit(spelling, reader)
    return number * unit.factor + unit.offset


def _refuse_unit(spelling: str, reader: _Reader) -> NoReturn:
    kind = reader.kind
    others = kinds_of(spelling)
    if kind in ("force", "area load", "line load") and re.match(r"(kg|t|g)(/|$)", spelling):
        weight = f"a mass is no {kind}; by its weight, 1 kg pulls with 9.81 N"
        reader.refuse("unit-wrong-kind", f"is a mass where {_a(kind)} is wanted", weight)
    if others:
        reader.refuse("unit-wrong-kind", f"is {_a(others[0])} where {_a(kind)} is wanted")
    near = get_close_matches(spelling, UNITS[kind], n=1)
    mend = f'did you mean "{near[0]}"? ' if near else ""
    mend += f"write {EXAMPLES[kind]}"
    reader.refuse("unit-unknown", f'has the unknown unit "{spelling}"', mend)
