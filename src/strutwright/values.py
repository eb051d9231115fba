"""The base of all frozen values that hold arrays, and their canonical JSON."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import NDArray

__all__ = [
    "ArrayValue",
    "Faces",
    "Floats",
    "HubPoints",
    "Indices",
    "Note",
    "StrutEnds",
    "Words",
    "canonical_json",
    "finite",
    "plain",
]

HubPoints = NDArray[np.float64]
"""(H, 3) hub positions, m."""
StrutEnds = NDArray[np.int64]
"""(S, 2) hub indices of each strut, i < j."""
Faces = NDArray[np.int64]
"""(F, 3) hub indices of each face, anticlockwise seen from outside."""
Indices = NDArray[np.int64]
Floats = NDArray[np.float64]
Words = NDArray[np.str_]


@dataclass(frozen=True)
class Note:
    """Something assumed, skipped or cut short, told to the reader.

    Parameters
    ----------
    code : str
        Stable name; `strutwright explain CODE` prints its page.
    text : str
        One sentence with its numbers and units.
    """

    code: str
    text: str


def _rebuild(cls: type[ArrayValue], values: tuple[Any, ...]) -> ArrayValue:
    return cls(*values)


def _locked(value: object) -> object:
    if isinstance(value, np.ndarray):
        copy = np.array(value, order="C")
        copy.setflags(write=False)
        return copy
    if isinstance(value, Mapping):
        return MappingProxyType({key: _locked(item) for key, item in value.items()})
    return value


def _equal(a: object, b: object) -> bool:
    if isinstance(a, np.ndarray) or isinstance(b, np.ndarray):
        return (
            isinstance(a, np.ndarray)
            and isinstance(b, np.ndarray)
            and a.dtype == b.dtype
            and np.array_equal(a, b)
        )
    if isinstance(a, Mapping) and isinstance(b, Mapping):
        return a.keys() == b.keys() and all(_equal(a[key], b[key]) for key in a)
    if isinstance(a, tuple) and isinstance(b, tuple):
        return len(a) == len(b) and all(_equal(x, y) for x, y in zip(a, b, strict=True))
    return bool(a == b)


@dataclass(frozen=True, eq=False)
class ArrayValue:
    """Base of frozen dataclasses with array fields.

    Arrays are copied and locked on construction, mappings become read-only; two values are
    equal when all their fields are; a copy or an unpickled value goes through the constructor
    again, so that its arrays are locked too (numpy would give back writable ones).

    A subclass that checks itself calls ``super().__post_init__()`` first.
    """

    def __post_init__(self) -> None:
        """Copy and lock every array and mapping field."""
        for field in fields(self):
            object.__setattr__(self, field.name, _locked(getattr(self, field.name)))

    def __eq__(self, other: object) -> bool:
        """Return True when `other` is of the same class and all fields are equal."""
        if type(other) is not type(self):
            return NotImplemented
        return all(_equal(getattr(self, f.name), getattr(other, f.name)) for f in fields(self))

    __hash__ = None  # type: ignore[assignment]  # arrays inside: a value is compared, never hashed

    def __reduce__(self) -> tuple[Any, ...]:
        """Rebuild through the constructor, so that arrays are locked again."""
        values = tuple(getattr(self, f.name) for f in fields(self))
        values = tuple(dict(v) if isinstance(v, MappingProxyType) else v for v in values)
        return (_rebuild, (type(self), values))


def finite(number: float | None) -> float | None:
    """Return `number` as a file can hold it: None for what has no number or no end."""
    return None if number is None or not np.isfinite(number) else number


def plain(value: object) -> Any:  # noqa: ANN401, PLR0911 - JSON is anything, one return a kind
    """Return `value` as plain JSON data: dataclasses and arrays opened, -0.0 as 0.0.

    Raises
    ------
    ValueError
        A number is not finite.
    TypeError
        Something has no JSON form.
    """
    match value:
        case None | bool() | int() | str():
            return value
        case float():
            if not np.isfinite(value):
                msg = f"{value} has no JSON form"
                raise ValueError(msg)
            return value + 0.0 if value else 0.0
        case np.generic():
            return plain(value.item())
        case np.ndarray():
            return plain(value.tolist())
        case Mapping():
            return {str(key): plain(item) for key, item in value.items()}
        case tuple() | list():
            return [plain(item) for item in value]
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    msg = f"{type(value).__name__} has no JSON form"
    raise TypeError(msg)


def canonical_json(value: object) -> str:
    """Return the one JSON text of `value`: keys sorted, shortest digits, no spaces to spare."""
    return json.dumps(plain(value), sort_keys=True, ensure_ascii=False, separators=(",", ":"))
