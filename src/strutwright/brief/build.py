"""From the tables of a brief to its values: defaults filled in, each that matters noted."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any, Final, TypeVar

from pydantic import BaseModel

from strutwright.brief import sections as s
from strutwright.brief.assumed import assumptions
from strutwright.brief.cross import family_of
from strutwright.brief.schema_file import BriefTable
from strutwright.brief.tables import ConnectorInline, HubsTable, StockInline, StrutsTable
from strutwright.brief.tables_site import SiteTable
from strutwright.brief.values import Brief
from strutwright.units import parse_length

__all__ = ["brief_of"]

INCH_STEP: Final = parse_length("1/16 in")
"""m; our choice: what a saw is set to where the workshop works in inches."""
LIGHT_USES: Final = ("greenhouse", "store", "stall")
"""Few people, little loss: CC1, risk category I. Source: EN 1990, table B1; ASCE 7, table 1.5-1
(agricultural and minor storage buildings); a stall by our choice."""

Section = TypeVar("Section")


def brief_of(table: BriefTable, text: str, file: str, lines: dict[str, int]) -> Brief:
    """Return the Brief that `table` asks for."""
    project = _section(s.Project, table.project)
    brief = Brief(
        text=text,
        file=file,
        project=project,
        size=_section(s.Size, table.size),
        shape=_shape(table),
        struts=_struts(table.struts, project),
        hubs=_hubs(table.hubs),
        site=_site(table.site, project),
        loads=_section(s.Loads, table.loads),
        cover=_section(s.Cover, table.cover),
        climate=_section(s.Climate, table.climate),
        openings=tuple(_section(s.Opening, opening) for opening in table.openings),
        crew=_section(s.Crew, table.crew),
        survey=_section(s.Survey, table.survey),
        price=_section(s.Price, table.price),
        delivery=_section(s.Delivery, table.delivery),
        lines=tuple(lines.items()),
    )
    notes = assumptions(brief, _given(table))
    return replace(brief, openings=_facing(brief.openings), notes=notes)


def _section(kind: type[Section], table: BaseModel | None, **changed: object) -> Section:
    """Return the value of a table: what it does not give keeps the default of `kind`."""
    values: dict[str, Any] = {}
    for field in fields(kind):  # type: ignore[arg-type]
        value = getattr(table, field.name, None)
        if value is not None:
            values[field.name] = value
    values.update(changed)
    return kind(**values)


def _shape(table: BriefTable) -> s.Shape | None:
    if table.shape is None:
        return None
    return _section(s.Shape, table.shape, family=family_of(table.shape, table.size))


def _struts(table: StrutsTable | None, project: s.Project) -> s.Struts:
    changed: dict[str, object] = {}
    if table and isinstance(table.stock, StockInline):
        changed["stock"] = _section(s.StockTable, table.stock)
    if table and table.bars:
        changed["bars"] = tuple(_section(s.Bar, bar) for bar in table.bars)
    if project.show == "imperial" and (table is None or table.step is None):
        changed["step"] = INCH_STEP
    return _section(s.Struts, table, **changed)


def _hubs(table: HubsTable | None) -> s.Hubs:
    changed: dict[str, object] = {}
    if table and isinstance(table.connector, ConnectorInline):
        changed["connector"] = _section(s.ConnectorTable, table.connector)
    if table and table.tests:
        changed["tests"] = tuple(
            s.HubTest(**{name: tuple(readings) for name, readings in test if readings})
            for test in table.tests
        )
    return _section(s.Hubs, table, **changed)


def _site(table: SiteTable | None, project: s.Project) -> s.Site:
    changed: dict[str, object] = {}
    is_en = table is None or table.standard in (None, "en")
    if table and table.basic_wind:
        changed["basic_wind"] = _section(s.Wind, table.basic_wind)
    if table is None or table.exposure is None:
        changed["exposure"] = "II" if is_en else "C"
    if table is None or table.consequence is None:
        is_light = project.use in LIGHT_USES
        light, other = ("CC1", "CC2") if is_en else ("I", "II")
        changed["consequence"] = light if is_light else other
    return _section(s.Site, table, **changed)


def _facing(openings: tuple[s.Opening, ...]) -> tuple[s.Opening, ...]:
    return tuple(
        replace(opening, facing=s.SOUTH)
        if opening.facing is None and opening.kind != "vent"
        else opening
        for opening in openings
    )


def _given(table: BriefTable) -> frozenset[str]:
    """Return the keys that the file gives, as ``section.key``."""
    found = set()
    for name in table.model_fields_set:
        section = getattr(table, name)
        if isinstance(section, BaseModel):
            found |= {f"{name}.{key}" for key in section.model_fields_set}
    return frozenset(found)
