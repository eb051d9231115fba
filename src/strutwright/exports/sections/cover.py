"""kit.json, section cover: pieces of film, panels, rolls and sheets."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field

from strutwright.cover import CoverPlan, FilmLayer, Nest, patterns
from strutwright.values import plain

__all__ = ["CoverPart", "cover_section"]

Flat = tuple[float, float]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid")


class StripPart(_Part):
    """A piece of film, laid flat along the roll."""

    label: str
    layer: str
    pattern: str = Field(description="label of the first piece that is cut alike")
    faces: list[int]
    corners: list[list[Flat]] = Field(description="of each face, m, in the order of its hubs")
    outline: list[Flat] = Field(description="finished edge, m, anticlockwise")
    cut: list[Flat] = Field(description="edge to be cut, m")
    edges: list[str] = Field(description="seam, hem or flap, from each outline point on")
    length: float
    width: float
    area: float
    vent: bool


class SeamPart(_Part):
    """A strut along which two pieces meet; `over` lies outside."""

    layer: str
    strut: int
    over: str
    under: str
    length: float


class PanelPart(_Part):
    """A type of rigid panel, seen from outside."""

    label: str
    quantity: int
    faces: list[int]
    outline: list[Flat] = Field(description="m; the first edge lies most level")
    bevels: list[float] = Field(description="rad, against a square cut")
    setbacks: list[float] = Field(description="m, from the line between hub centres")
    holes: list[Flat]
    hole_diameter: float
    mirror_of: str
    vent: bool


class PlacedPart(_Part):
    """Where a piece lies on its roll or sheet; turned by half a turn or not."""

    label: str
    x: float
    y: float
    turned: bool


class RollPart(_Part):
    """A roll or sheet with what is cut from it, m."""

    layer: str
    width: float
    length: float
    used: float
    placed: list[PlacedPart]


class FixingPart(_Part):
    """Film under wind and snow, and what holds it: Pa, N/m, m, N."""

    pressure: float = Field(description="largest of the wind across a face, in use")
    snow: float = Field(description="largest of the snow square to a face, in use")
    tension: float = Field(description="of the film, in use")
    tension_strength: float = Field(description="under the factored load of strength design")
    sag: float
    spacing: float = Field(description="of fixings over the shell")
    spacing_edge: float = Field(description="at base, ridge and openings")
    demand: float = Field(description="on one fixing over the shell")
    demand_edge: float
    holds: float = Field(description="what one fixing is taken to hold")
    tested: bool = Field(description="the brief gives what one holds")


class CoverPart(_Part):
    """The cover: m, m2, kg."""

    material: str
    layers: int
    panels: list[PanelPart]
    strips: list[StripPart]
    seams: list[SeamPart]
    rolls: list[RollPart] = Field(description="rolls of film or sheets")
    used: float = Field(description="m2 of pieces, allowances in")
    bought: float = Field(description="m2")
    mass: float
    air_gap: float | None = Field(description="m between two layers of film, over struts")
    fixing: FixingPart | None


def cover_section(plan: CoverPlan | None) -> dict[str, Any] | None:
    """Return the section; None for a bare frame."""
    if plan is None:
        return None
    rolls = [part for film in plan.films for part in _rolls(film)]
    if plan.panels is not None:
        names = [kind.label for kind in plan.panels.types]
        rolls += _stock(plan.panels.nest, names, "panels")
    return {
        "material": plan.material,
        "layers": plan.layers,
        "panels": [_without(plain(kind), "area") for kind in plan.panels.types]
        if plan.panels
        else [],
        "strips": [strip for film in plan.films for strip in _strips(film)],
        "seams": [seam for film in plan.films for seam in _seams(film)],
        "rolls": rolls,
        "used": plan.used,
        "bought": plan.bought,
        "mass": plan.mass,
        "air_gap": plan.gap.at_strut if plan.gap else None,
        "fixing": plain(plan.fixing) if plan.fixing else None,
    }


def _without(data: dict[str, Any], key: str) -> dict[str, Any]:
    return {name: value for name, value in data.items() if name != key}


def _strips(film: FilmLayer) -> list[dict[str, Any]]:
    first = {k: film.pieces[group[0]].label for group in patterns(film.pieces) for k in group}
    return [
        {
            "label": piece.label,
            "layer": film.name,
            "pattern": first[k],
            "faces": piece.faces.tolist(),
            "corners": piece.corners.tolist(),
            "outline": piece.outline.tolist(),
            "cut": piece.cut.tolist(),
            "edges": list(piece.edge_kinds),
            "length": piece.length,
            "width": piece.width,
            "area": piece.area,
            "vent": piece.vent,
        }
        for k, piece in enumerate(film.pieces)
    ]


def _seams(film: FilmLayer) -> list[dict[str, Any]]:
    return [
        {
            "layer": film.name,
            "strut": seam.strut,
            "over": film.pieces[seam.over].label,
            "under": film.pieces[seam.under].label,
            "length": seam.length,
        }
        for seam in film.seams
    ]


def _rolls(film: FilmLayer) -> list[dict[str, Any]]:
    return _stock(film.nest, [piece.label for piece in film.pieces], film.name)


def _stock(nest: Nest, names: list[str], layer: str) -> list[dict[str, Any]]:
    return [
        {
            "layer": layer,
            "width": use.width,
            "length": use.length,
            "used": use.used,
            "placed": [
                {"label": names[one.item], "x": one.x, "y": one.y, "turned": one.turned}
                for one in nest.placed
                if one.stock == k
            ],
        }
        for k, use in enumerate(nest.stock)
    ]
