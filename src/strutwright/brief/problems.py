"""What pydantic found wrong in a brief, told key by key with its line."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from difflib import get_close_matches
from typing import Any, Final

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from strutwright.brief.fields import written
from strutwright.brief.values import locate
from strutwright.errors import Problem

__all__ = ["key_of", "problems_of"]

_WANTED: Final = {
    "bool_type": ("true or false", "write true or false without quotes"),
    "list_type": ("a list", "write [[openings]] tables, or a list in square brackets"),
    "model_type": ("a table", "write a [section], or { key = value } in curly brackets"),
    "model_attributes_type": ("a table", "write a [section], or { key = value }"),
}
"""pydantic's error type -> what was wanted, mend."""

ALSO_CALLED: Final = {
    "frequency": "division",
    "class": "division",
    "diameter": "width",
    "span": "width",
    "radius": "width",
    "height": "rise",
    "pipe": "stock",
    "tube": "stock",
}
"""Word of the trade -> the key that holds it, where the letters do not tell."""

Place = tuple[int | str, ...]


def problems_of(
    error: ValidationError, lines: dict[str, int], table: type[BaseModel]
) -> tuple[Problem, ...]:
    """Return one Problem for each fault that `error` holds."""
    return tuple(_problem(detail, lines, table) for detail in error.errors())


def key_of(place: Iterable[int | str]) -> str:
    """Return the path of a key as it is written: ``struts.bars[1].price``."""
    key = ""
    for part in place:
        if isinstance(part, int):
            key += f"[{part}]"
        elif not part.startswith("@"):  # the tags of an id or an own table
            key += f".{part}" if key else part
    return key


def _problem(detail: ErrorDetails, lines: dict[str, int], table: type[BaseModel]) -> Problem:
    kind, place, value = detail["type"], detail["loc"], detail["input"]
    key = key_of(place)
    where = locate(key, lines)
    if kind == "extra_forbidden":
        return _unknown(place, where, table)
    if kind == "missing":
        mend = f"add {key}: {_described(place, table)}"
        return Problem("brief-missing-key", f"{key} is needed and is not given", where, mend)
    context: dict[str, Any] = detail.get("ctx") or {}
    if "mend" in context:
        return Problem(kind, context["what"], where, context["mend"])
    wanted, mend = _WANTED.get(kind, (detail["msg"], "see docs/reference/brief.md"))
    return Problem("brief-wrong-type", f"{written(value)} where {wanted} is wanted", where, mend)


def _unknown(place: Place, where: str, table: type[BaseModel]) -> Problem:
    """Return the problem of a key that is not known, with the nearest that is."""
    known = list(_keys_of(place[:-1], table))
    name = str(place[-1])
    meant = [ALSO_CALLED[name.lower()]] if name.lower() in ALSO_CALLED else []
    near = [word for word in meant if word in known] or get_close_matches(
        name.lower(), known, n=1, cutoff=0.7
    )
    home = [
        section
        for section, field in _keys_of((), table).items()
        if (inner := _table_in(field)) and name in inner.model_fields
    ]
    if near:
        mend = f'did you mean "{near[0]}"?'
    elif home:
        mend = f"it belongs into [{home[0]}]"
    else:
        mend = "known here: " + ", ".join(sorted(known))
    return Problem("brief-unknown-key", f'"{name}" is no key of a brief here', where, mend)


def _keys_of(place: Sequence[int | str], table: type[BaseModel]) -> dict[str, Any]:
    inner: type[BaseModel] = table
    for part in place:
        if isinstance(part, str) and part in inner.model_fields:
            inner = _table_in(inner.model_fields[part].annotation) or inner
    return {name: field.annotation for name, field in inner.model_fields.items()}


def _table_in(annotation: Any) -> type[BaseModel] | None:  # noqa: ANN401 - any type hint
    """Return the table that a type hint such as ``list[BarTable] | None`` speaks of."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for part in getattr(annotation, "__args__", ()):
        found = _table_in(part)
        if found:
            return found
    return None


def _described(place: Place, table: type[BaseModel]) -> str:
    inner = table
    for part in place[:-1]:
        if isinstance(part, str) and part in inner.model_fields:
            inner = _table_in(inner.model_fields[part].annotation) or inner
    field = inner.model_fields.get(str(place[-1]))
    text = (field.description if field else None) or f"a [{place[-1]}] section"
    return text[0].lower() + text[1:].rstrip(".")
