"""The brief as frozen values: the keys of the file, SI inside, None where nothing was said."""

from __future__ import annotations

from dataclasses import dataclass, fields, is_dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from strutwright.brief.sections import (
    Climate,
    Cover,
    Crew,
    Delivery,
    Hubs,
    Loads,
    Opening,
    Price,
    Project,
    Shape,
    Site,
    Size,
    Struts,
    Survey,
)
from strutwright.values import Note

__all__ = ["SECTIONS", "Brief", "as_table", "locate"]

SECTIONS = (
    "project",
    "size",
    "shape",
    "struts",
    "hubs",
    "site",
    "loads",
    "cover",
    "climate",
    "openings",
    "crew",
    "survey",
    "price",
    "delivery",
)


@dataclass(frozen=True)
class Brief:
    """The user's wishes, as read from one file.

    Parameters
    ----------
    text : str
        The file as read: the provenance of everything that follows.
    file : str
        Its path as the user gave it; empty when it came as text.
    project, size, struts, hubs, site, loads, cover, climate, crew, survey, price, delivery
        The sections of the file, defaults filled in.
    shape : Shape, optional
        None: to be chosen from size, use and stock.
    openings : tuple of Opening
    notes : tuple of Note
        What was assumed because the file does not say it.
    lines : tuple of (str, int)
        Key and the line it stands on, such as ``("struts.bars[0].length", 31)``.
    """

    text: str
    file: str
    project: Project
    size: Size
    shape: Shape | None
    struts: Struts
    hubs: Hubs
    site: Site
    loads: Loads
    cover: Cover
    climate: Climate
    openings: tuple[Opening, ...]
    crew: Crew
    survey: Survey
    price: Price
    delivery: Delivery
    notes: tuple[Note, ...] = ()
    lines: tuple[tuple[str, int], ...] = ()

    def where(self, key: str) -> str:
        """Return `key` with its line, for messages: ``struts.stock (line 31)``."""
        return locate(key, dict(self.lines))

    def beside(self, name: str) -> Path:
        """Return the path of a file that the brief names, such as `site.levels`."""
        return Path(self.file).parent / name


def locate(key: str, lines: dict[str, int]) -> str:
    """Return `key` with the line it stands on, or the line of the nearest part of it."""
    if key in lines:
        return f"{key} (line {lines[key]})"
    part = key
    while part:
        part = part[: max(part.rfind("."), part.rfind("["), 0)]
        if part in lines:
            return f"{key} (not given; {part} is on line {lines[part]})"
    return f"{key} (not given)"


def as_table(brief: Brief) -> dict[str, Any]:
    """Return the sections of `brief` as plain data in SI, for `kit.json`: no text, no paths."""
    return {name: _plain(getattr(brief, name)) for name in SECTIONS}


def _plain(value: object) -> Any:  # noqa: ANN401 - JSON is anything
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    return value
