"""Reads the data files of the catalogue: numbers to SI, each with its Source."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from math import pi
from typing import Any, Final

from strutwright.catalogue.source import Source
from strutwright.errors import InputError

__all__ = ["CATALOGUE_VERSION", "UNITS", "Entry", "entries", "nearest"]

CATALOGUE_VERSION: Final = "2026.11"
"""Changes with every changed number of a data file; kits print it."""

UNITS: Final = {
    "-": 1.0,
    "m": 1.0,
    "mm": 1e-3,
    "cm": 1e-2,
    "in": 0.0254,
    "ft": 0.3048,
    "kg": 1.0,
    "g": 1e-3,
    "lb": 0.45359237,
    "kg/m": 1.0,
    "lb/ft": 0.45359237 / 0.3048,
    "lb/100ft": 0.45359237 / 30.48,
    "kg/m2": 1.0,
    "kg/m3": 1.0,
    "Pa": 1.0,
    "kPa": 1e3,
    "MPa": 1e6,
    "GPa": 1e9,
    "psi": 4.4482216152605 / 0.0254**2,
    "ksi": 4448.2216152605 / 0.0254**2,
    "N": 1.0,
    "kN": 1e3,
    "lbf": 4.4482216152605,
    "N/m": 1.0,
    "kN/m": 1e3,
    "kNm": 1e3,
    "kNm/rad": 1e3,
    "1/K": 1.0,
    "C": 1.0,
    "W/m2K": 1.0,
    "N/m3": 1.0,
    "kN/m3": 1e3,
    "1/m": 1.0,
    "deg": pi / 180,
}
"""Units of the data files in SI; by definition (lb, in, lbf) exact."""


@dataclass(frozen=True)
class Entry:
    """One record of a data file: its numbers in SI, their sources, and its words.

    Parameters
    ----------
    id : str
        Name of the record in its file.
    numbers : mapping of str to number, pair, table or mapping of numbers
        SI.
    sources : mapping of str to Source
        One for each key of `numbers`.
    words : mapping of str to str, bool or list
        Everything that is no number.
    """

    id: str
    numbers: Mapping[str, Any]
    sources: Mapping[str, Source]
    words: Mapping[str, Any]

    def get(self, key: str) -> Any:  # noqa: ANN401 - a number, a pair, a table or nothing
        """Return the number `key` in SI, None where the record has none."""
        return self.numbers.get(key)


@cache
def _document(name: str) -> dict[str, Any]:
    text = files("strutwright.catalogue").joinpath("data", f"{name}.toml").read_text("utf-8")
    return tomllib.loads(text)


def _source(number: Mapping[str, Any]) -> Source:
    known = _document("sources")
    source = Source(**known[number["source"]])
    return replace(source, clause=number["clause"]) if "clause" in number else source


def _scaled(value: Any, factor: float) -> Any:  # noqa: ANN401 - what a data file may hold
    if isinstance(value, Mapping):
        return {key: _scaled(item, factor) for key, item in value.items()}
    if isinstance(value, list):
        return tuple(_scaled(item, factor) for item in value)
    return value * factor


def _entry(name: str, record: Mapping[str, Any]) -> Entry:
    numbers: dict[str, Any] = {}
    sources: dict[str, Source] = {}
    words: dict[str, Any] = {}
    for key, item in record.items():
        if isinstance(item, Mapping) and "value" in item:
            numbers[key] = _scaled(item["value"], UNITS[item["unit"]])
            sources[key] = _source(item)
        else:
            words[key] = item
    return Entry(name, numbers, sources, words)


def entries(name: str) -> dict[str, Entry]:
    """Return all records of the data file `name`, in its order.

    A record named ``default`` is filled into the others where they are silent.
    """
    document = _document(name)
    base = document.get("default", {})
    return {
        key: _entry(key, {**base, **record}) for key, record in document.items() if key != "default"
    }


def nearest(wanted: str, known: Iterable[str], *, what: str, where: str = "") -> InputError:
    """Return the error for an id that the catalogue does not have, with the nearest ones."""
    names = list(known)
    close = get_close_matches(wanted, names, n=3, cutoff=0.4) or names[:8]
    return InputError(
        "catalogue-unknown",
        f"no {what} is called {wanted!r}",
        where,
        "nearest: " + ", ".join(close),
    )
