"""Kinds of value in a brief: quantities with units, numbers, choices of words.

Each is an annotation for pydantic: it reads the value as written, holds it to its bound and
describes itself in the JSON Schema.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from difflib import get_close_matches
from typing import Any, NoReturn

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from strutwright.brief.bounds import Bound
from strutwright.errors import InputError
from strutwright.units import parse_exact
from strutwright.units.table import EXAMPLES

__all__ = [
    "Amount",
    "Choice",
    "Name",
    "Quantity",
    "Read",
    "Text",
    "fail",
    "refuse_bound",
    "written",
]

_NAME = re.compile(r"[a-z0-9]+(?:[-./][a-z0-9.]+)*")

_SI = {
    "length": "m",
    "area": "m2",
    "force": "N",
    "area load": "Pa",
    "speed": "m/s",
    "stiffness": "N/m",
    "moment": "Nm",
    "rotational stiffness": "Nm/rad",
    "mass": "kg",
    "temperature": "C",
    "angle": "rad",
    "share": "1",
}


def fail(code: str, what: str, mend: str) -> NoReturn:
    """Raise the error that pydantic gathers with the others."""
    raise PydanticCustomError(code, "{what}", {"what": what, "mend": mend})


class Read:
    """A value read by `reader`, any function from the written value to the meant one.

    Parameters
    ----------
    reader : function
        Raises through `fail` or an `InputError`.
    shown : mapping
        Its JSON Schema.
    """

    def __init__(self, reader: Callable[[Any], Any], shown: Mapping[str, Any]) -> None:
        self.reader, self.shown = reader, dict(shown)

    def read(self, value: object) -> Any:  # noqa: ANN401 - what the reader gives
        """Return what `value` means; an InputError becomes one of pydantic's."""
        try:
            return self.reader(value)
        except InputError as error:
            fail(error.code, error.what, error.mend)

    def __get_pydantic_core_schema__(
        self, source: object, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return dict(self.shown)


class Quantity(Read):
    """A quantity written with its unit, held to a bound, returned in SI."""

    def __init__(self, kind: str, bound: Bound) -> None:
        signed = kind in ("temperature", "angle") or str(bound.least).startswith("-")
        least = parse_exact(bound.least, kind, signed=True)
        largest = parse_exact(bound.largest, kind, signed=True)

        def read(value: object) -> float:
            exact = parse_exact(value, kind, signed=signed)
            if not least <= exact <= largest:
                refuse_bound(value, exact < least, bound)
            return math.radians(float(exact)) if kind == "angle" else float(exact)

        shown = {
            "type": "string",
            "examples": EXAMPLES[kind].split('"')[1::2],
            "x-quantity": kind,
            "x-unit-inside": _SI[kind],
            "x-least": bound.least,
            "x-largest": bound.largest,
            "x-reason": bound.reason,
        }
        super().__init__(read, shown)


class Amount(Read):
    """A number without a unit, whole or not, held to a bound."""

    def __init__(self, bound: Bound, *, whole: bool = False) -> None:
        name = "whole number" if whole else "number"

        def read(value: object) -> float | int:
            if isinstance(value, bool) or not isinstance(value, int if whole else int | float):
                mend = f"write a {name} without quotes, such as {bound.least}"
                fail("brief-wrong-type", f"{written(value)} where a {name} is wanted", mend)
            if not float(bound.least) <= value <= float(bound.largest):
                refuse_bound(value, value < float(bound.least), bound)
            return value if whole else float(value)

        shown = {
            "type": "integer" if whole else "number",
            "minimum": bound.least,
            "maximum": bound.largest,
            "x-reason": bound.reason,
        }
        super().__init__(read, shown)


class Choice(Read):
    """One of a few words."""

    def __init__(self, *words: str | int) -> None:
        def read(value: object) -> str | int:
            for word in words:
                if type(value) is type(word) and value == word:
                    return word
            near = get_close_matches(str(value).lower(), [str(w).lower() for w in words], n=1)
            meant = next((word for word in words if [str(word).lower()] == near), None)
            mend = f"did you mean {written(meant)}? " if meant is not None else ""
            mend += "write one of " + ", ".join(written(word) for word in words)
            fail("brief-unknown-word", f"{written(value)} is none of the choices here", mend)

        super().__init__(read, {"enum": list(words)})


class Text(Read):
    """One line of text."""

    def __init__(self, longest: int) -> None:
        def read(value: object) -> str:
            mend = f"write 1 to {longest} printable characters in quotes"
            if not isinstance(value, str):
                fail("brief-wrong-type", f"{written(value)} where text is wanted", mend)
            text = value.strip()
            if not text or len(text) > longest or not text.isprintable():
                fail("brief-text", f"{written(value)} has {len(text)} characters", mend)
            return text

        super().__init__(read, {"type": "string", "minLength": 1, "maxLength": longest})


class Name(Read):
    """The id of a catalogue entry or of a law: small letters, figures, points, dashes, slashes."""

    def __init__(self, example: str) -> None:
        def read(value: object) -> str:
            mend = f'write an id such as "{example}"'
            if not isinstance(value, str):
                fail("brief-wrong-type", f"{written(value)} where an id is wanted", mend)
            if not _NAME.fullmatch(value):
                fail("brief-text", f"{written(value)} is not written like an id", mend)
            return value

        shown = {"type": "string", "pattern": _NAME.pattern, "examples": [example]}
        super().__init__(read, shown)


def written(value: object) -> str:
    """Return `value` as it stands in the file, cut short."""
    if isinstance(value, bool):
        return "true" if value else "false"
    text = f'"{value}"' if isinstance(value, str) else str(value)
    return text if len(text) <= 60 else text[:57] + "..."


def refuse_bound(value: object, is_below: bool, bound: Bound) -> NoReturn:
    """Refuse `value` for lying outside `bound`."""
    side = f"below the least, {bound.least}" if is_below else f"above the largest, {bound.largest}"
    mend = f"write {bound.least} to {bound.largest}: {bound.reason}"
    if isinstance(value, float) and math.isnan(value):
        side = "no number"
    fail("brief-out-of-bounds", f"{written(value)} is {side}", mend)
