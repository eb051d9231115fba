"""The reference page of the brief, made from its schema: ``docs/reference/brief.md``."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from strutwright.brief.schema_file import schema

__all__ = ["brief_reference"]

_HEAD: Final = """\
# The brief

One TOML file from which the whole kit follows. This page is made from its schema (`strutwright
schema brief`).

Lengths, loads, speeds, angles and shares are texts with their unit; a bare number where a unit is
needed is an error, and so is a key that is not on this page. Only `[project]` and `[size]` are
needed: what is left out gets the default below, and the kit names in its notes those that matter.
All problems of a file are reported at once, each with its key and line.

Lengths: `5.2 m`, `118 cm`, `1181 mm`, `7 ft 10 1/2 in`, `7'-10 1/2"`, `94-1/2"`, `7 ft 10.5 in`.
Area loads: `0.7 kN/m2`, `700 Pa`, `25 psf`. Forces: `445 N`, `1.2 kN`, `100 lbf` (a mass is no
force: 1 kg pulls with 9.81 N). Speeds: `24 m/s`, `90 km/h`, `115 mph`, `47 kn`. Angles: `20 deg`.
Temperatures: `-8 C`, `18 F`. Shares: `8 %`. Decimals take a point.
"""


def brief_reference() -> str:
    """Return the page as Markdown: one table a section, one row a key."""
    whole = schema("brief")
    parts = [_HEAD]
    for name, field in whole["properties"].items():
        table, is_list = _table_of(field, whole)
        header = f"[[{name}]]" if is_list else f"[{name}]"
        parts.append(f"## `{header}`\n\n{table['description']}\n")
        parts.append(_rows(table, whole))
        for key, inner in _inner_tables(table, whole):
            parts.append(f"### `{name}.{key}` as a table\n\n{inner['description']}\n")
            parts.append(_rows(inner, whole))
    return "\n".join(parts)


def _rows(table: dict[str, Any], whole: dict[str, Any]) -> str:
    needed = table.get("required", ())
    lines = ["| key | meaning | written | bounds | default |", "|---|---|---|---|---|"]
    for key, field in table["properties"].items():
        default = "needed" if key in needed else _code(field.get("x-default"))
        cells = [f"`{key}`", field.get("description", ""), _written(field, whole), _bounds(field)]
        lines.append("| " + " | ".join([*cells, default]) + " |")
    return "\n".join(lines) + "\n"


def _written(field: dict[str, Any], whole: dict[str, Any]) -> str:
    """Return how a value is written: its words, its quantity, or its kind."""
    if "$ref" in field:
        return "a table"
    for many in ("anyOf", "oneOf"):
        if many in field:
            return ", or ".join(_written(one, whole) for one in field[many])
    if field.get("type") == "array":
        count = field.get("maxItems", "any number")
        return f"a list of {count}: {_written(field['items'], whole)}"
    if "x-quantity" in field:
        return f'{field["x-quantity"]} with unit: `"{field["examples"][0]}"`'
    words = [f"`{word}`" for word in field.get("enum", ())]
    words += [f'`"{example}"`' for example in field.get("examples", ())]
    if words:
        return ", ".join(words)
    return {"integer": "whole number", "number": "number", "boolean": "`true` or `false`"}.get(
        field.get("type", ""), "text"
    )


def _bounds(field: dict[str, Any]) -> str:
    inner: dict[str, Any] = next(
        (part for part in _parts(field) if "x-least" in part or "minimum" in part), {}
    )
    least = inner.get("x-least", inner.get("minimum"))
    if least is None:
        return ""
    reason = inner.get("x-reason")
    largest = inner.get("x-largest", inner.get("maximum"))
    largest = f"{largest:.0f}" if isinstance(largest, float) else largest
    return f"{least} to {largest}" + (f": {reason}" if reason else "")


def _parts(field: dict[str, Any]) -> Iterator[dict[str, Any]]:
    yield field
    for inner in [*field.get("anyOf", ()), field.get("items")]:
        if isinstance(inner, dict):
            yield from _parts(inner)


def _inner_tables(
    table: dict[str, Any], whole: dict[str, Any]
) -> Iterator[tuple[str, dict[str, Any]]]:
    for key, field in table["properties"].items():
        for inner in [field, *field.get("oneOf", ()), field.get("items", {})]:
            if "$ref" in inner:
                yield key, _resolved(inner, whole)


def _table_of(field: dict[str, Any], whole: dict[str, Any]) -> tuple[dict[str, Any], bool]:
    is_list = field.get("type") == "array"
    return _resolved(field["items"] if is_list else field, whole), is_list


def _resolved(field: dict[str, Any], whole: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = whole["$defs"][field["$ref"].rsplit("/", 1)[-1]]
    return found


def _code(value: object) -> str:
    if value is None:
        return ""
    text = str(value)
    return text if ";" in text or "," in text else f"`{text}`"
