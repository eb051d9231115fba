"""The whole brief as pydantic reads it, and its JSON Schema."""

from __future__ import annotations

from typing import Any

from pydantic import Field

from strutwright.brief import tables as s
from strutwright.brief import tables_site as t
from strutwright.errors import InputError

__all__ = ["BriefTable", "schema"]

SCHEMA_VERSION = 1


class BriefTable(s.Table):
    """A brief: only project and size are needed."""

    project: s.ProjectTable
    size: s.SizeTable
    shape: s.ShapeTable | None = s.key(s.about(s.ShapeTable))
    struts: s.StrutsTable | None = s.key(s.about(s.StrutsTable))
    hubs: s.HubsTable | None = s.key(s.about(s.HubsTable))
    site: t.SiteTable | None = s.key(s.about(t.SiteTable))
    loads: t.LoadsTable | None = s.key(s.about(t.LoadsTable))
    cover: t.CoverTable | None = s.key(s.about(t.CoverTable))
    climate: t.ClimateTable | None = s.key(s.about(t.ClimateTable))
    openings: list[t.OpeningTable] = Field(
        default_factory=list, description=s.about(t.OpeningTable)
    )
    crew: t.CrewTable | None = s.key(s.about(t.CrewTable))
    survey: t.SurveyTable | None = s.key(s.about(t.SurveyTable))
    price: t.PriceTable | None = s.key(s.about(t.PriceTable))
    delivery: t.DeliveryTable | None = s.key(s.about(t.DeliveryTable))


def schema(name: str = "brief") -> dict[str, Any]:
    """Return the JSON Schema of the file format `name`: ``brief``.

    Beside the standard words each key has ``x-quantity`` and ``x-unit-inside`` (the SI unit that
    it is turned into), ``x-least``, ``x-largest`` and ``x-reason`` (its bound), ``x-default``.

    Raises
    ------
    InputError
        ``schema-unknown``.
    """
    if name != "brief":
        mend = "ask for brief or kit"
        raise InputError("schema-unknown", f'there is no schema "{name}"', "NAME", mend)
    written = _tidied(BriefTable.model_json_schema())
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "x-schema-version": SCHEMA_VERSION,
        **written,
        "title": "strutwright brief",
    }


def _tidied(part: Any) -> Any:  # noqa: ANN401 - any part of a JSON Schema
    """Return a schema without what TOML has not: no null, no default of null; no made-up titles."""
    if isinstance(part, list):
        return [_tidied(item) for item in part if item != {"type": "null"}]
    if not isinstance(part, dict):
        return part
    kept = {key: _tidied(value) for key, value in part.items() if not _is_idle(key, value)}
    if len(kept.get("anyOf", ())) == 1:
        kept = {**kept.pop("anyOf")[0], **kept}
    return kept


def _is_idle(key: str, value: object) -> bool:
    return (key == "default" and value is None) or (key == "title" and isinstance(value, str))
