"""The reference page of kit.json, made from its schema: ``docs/reference/kit.md``."""

from __future__ import annotations

from typing import Any, Final

from strutwright.exports.kit_schema import kit_schema

__all__ = ["kit_reference"]

_HEAD: Final = """\
# kit.json

The whole design as data. This page is made from its schema (`strutwright schema kit`).

SI throughout: m, N, Pa, kg, rad. Keys may be added; none changes its meaning without a step of
`schema_version`. What was not worked out is null or an empty list.
"""


def kit_reference() -> str:
    """Return the page as Markdown: the whole file, then one table a part."""
    whole = kit_schema()
    parts = [_HEAD, "## The file\n", _rows(whole)]
    for name, table in whole["$defs"].items():
        parts += [f"## `{name}`\n", f"{table.get('description', '').strip()}\n", _rows(table)]
    return "\n".join(parts)


def _rows(table: dict[str, Any]) -> str:
    lines = ["| key | kind | meaning |", "|---|---|---|"]
    for key, field in table.get("properties", {}).items():
        meaning = " ".join(field.get("description", "").split()).replace("|", "\\|")
        lines.append(f"| `{key}` | {_kind(field)} | {meaning} |")
    return "\n".join(lines) + "\n"


def _kind(field: dict[str, Any]) -> str:
    """Return what kind of value a key has, in words."""
    if "$ref" in field:
        return f"`{field['$ref'].rsplit('/', 1)[-1]}`"
    for many in ("anyOf", "oneOf"):
        if many in field:
            return " or ".join(_kind(one) for one in field[many])
    if "enum" in field or "const" in field:
        words = field.get("enum", [field.get("const")])
        return ", ".join(f"`{word}`" for word in words)
    if field.get("type") == "array":
        inner = field.get("prefixItems") or [field.get("items", {})]
        count = f"{len(inner)} of " if "prefixItems" in field else ""
        return f"list of {count}{_kind(inner[0])}"
    if isinstance(field.get("additionalProperties"), dict):
        return f"table of {_kind(field['additionalProperties'])} by name"
    kind = str(field.get("type", "any"))
    return {"object": "table", "string": "text"}.get(kind, kind)
