"""Changing keys of a brief's text: comments, order and units as typed stay."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any, Final

import tomlkit
from tomlkit.container import Container
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AbstractTable, AoT, InlineTable, Item

from strutwright.errors import InputError

__all__ = ["changed", "values_of"]

_PART: Final = re.compile(r"([A-Za-z0-9_-]+)(?:\[(\d{1,3})\])?")
MOST_ROWS: Final = 100
"""Tables in one list, such as openings; our choice."""


def values_of(text: str) -> dict[str, Any]:
    """Return the tables of the TOML `text` as typed: no unit is touched.

    Raises
    ------
    InputError
        ``brief-not-toml``.
    """
    try:
        return tomllib.loads(text)  # many times faster than the reader that keeps comments
    except (ValueError, RecursionError):
        plain: dict[str, Any] = _document(text).unwrap()
        return plain


def changed(text: str, changes: Sequence[tuple[str, Any]]) -> str:
    """Return `text` with each (key, value) of `changes` set; None takes the key out.

    Keys are written as problems name them: ``size.width``, ``openings[1].kind``. A list of tables
    grows by the row one after its last; a row set to None is taken out.

    Raises
    ------
    InputError
        ``brief-not-toml``, or ``edit-key``: no such place can be in a brief.
    """
    document = _document(text)
    for key, value in changes:
        _change(document, _parts(key), key, value)
    return tomlkit.dumps(document)


def _document(text: str) -> tomlkit.TOMLDocument:
    try:
        return tomlkit.parse(text)
    except (TOMLKitError, ValueError, RecursionError) as error:
        mend = "mend the line in the text"
        raise InputError("brief-not-toml", f"not TOML: {error}", "the brief", mend) from None


def _parts(key: str) -> list[str | int]:
    parts: list[str | int] = []
    for piece in key.split("."):
        match = _PART.fullmatch(piece)
        if match is None:
            raise _no_place(key)
        parts.append(match[1])
        if match[2] is not None:
            parts.append(int(match[2]))
    if not 1 <= len(parts) <= 6 or isinstance(parts[0], int):
        raise _no_place(key)
    return parts


def _change(place: Any, parts: list[str | int], key: str, value: object) -> None:  # noqa: ANN401
    """Walk down to the last part, making tables on the way, and set or take out the value."""
    for part, following in pairwise(parts):
        if value is None and not _is_there(place, part):
            return
        place = _down(place, part, following, key)
    last = parts[-1]
    if value is None:
        _take_out(place, last)
    elif isinstance(last, int):
        _set_row(place, last, value, key)
    elif isinstance(place, Mapping):
        place[last] = tomlkit.item(value)  # type: ignore[index]
    else:
        raise _no_place(key)


def _is_there(place: Any, part: str | int) -> bool:  # noqa: ANN401
    if isinstance(part, int):
        return isinstance(place, list) and part < len(place)
    return isinstance(place, Mapping) and part in place


def _down(place: Any, part: str | int, following: str | int, key: str) -> Any:  # noqa: ANN401
    if isinstance(part, int):
        if not isinstance(place, list) or part > len(place) or part >= MOST_ROWS:
            raise _no_place(key)
        if part == len(place):
            place.append(tomlkit.table() if isinstance(place, AoT) else tomlkit.inline_table())
        return place[part]
    if not isinstance(place, Mapping):
        raise _no_place(key)
    if part not in place:
        in_line = not isinstance(place, Container | AbstractTable) or isinstance(place, InlineTable)
        fresh: Item = tomlkit.inline_table() if in_line else tomlkit.table()
        if isinstance(following, int):
            fresh = tomlkit.aot()
        place[part] = fresh  # type: ignore[index]
    return place[part]


def _take_out(place: Any, last: str | int) -> None:  # noqa: ANN401
    if _is_there(place, last):
        del place[last]


def _set_row(place: Any, row: int, value: object, key: str) -> None:  # noqa: ANN401
    if not isinstance(place, list) or row > len(place) or row >= MOST_ROWS:
        raise _no_place(key)
    if isinstance(place, AoT):
        if not isinstance(value, Mapping):
            raise _no_place(key)
        table = tomlkit.table()
        table.update(dict(value))
        if row == len(place):
            place.append(table)
        else:
            place[row] = table
    elif row == len(place):
        place.append(value)
    else:
        place[row] = value


def _no_place(key: str) -> InputError:
    mend = "name a key of the brief, such as size.width or openings[0].kind"
    return InputError("edit-key", f"{key[:80]!r} is no place in this brief", "changes", mend)
