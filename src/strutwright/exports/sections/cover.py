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
    layer: str
    quantity: int
    faces: list[int]
    first_hubs: list[int] = Field(description="of each face, the hub where the first edge begins")
    outline: list[Flat] = Field(
        description="m, on the side that lies on the struts, corners on; first edge most level"
    )
    cut: list[Flat] = Field(description="m; the same with its corners cut off")
    corners: list[float] = Field(description="m, cut off along both edges of each corner")
    bevels: list[float] = Field(
        description="rad, against a square cut; above 0 the side to the weather is longer"
    )
    setbacks: list[float] = Field(description="m, from the line between hub centres")
    holes: list[Flat]
    hole_diameter: float
    mirror_of: str
    vent: bool


class PlacedPart(_Part):
    """Where a piece lies on its roll or sheet: turned, set into its box, then moved, m."""

    label: str
    x: float
    y: float
    turned: bool
    angle: float = Field(description="rad, anticlockwise")


class RollPart(_Part):
    """A roll or sheet with what is cut from it, m."""

    layer: str
    width: float
    length: float
    used: float
    placed: list[PlacedPart]


class FittingPart(_Part):
    """Spacers through hubs that hold both layers, m."""

    label: str
    length: float
    above: float = Field(description="from the hub's centre to the outer layer")
    below: float = Field(description="from the hub's centre to the inner layer")
    quantity: int
    hubs: list[int]


class SkirtPiece(_Part):
    """A part of the skirt; `struts` are those of the base ring from which on each one hangs."""

    label: str
    quantity: int
    struts: list[int]
    cut: list[Flat] = Field(description="m")
    wide: float
    high: float
    area: float


class SkirtBand(_Part):
    """What closes the band under a base ring on legs, doors left open: m, m2."""

    parts: list[SkirtPiece]
    around: float
    area: float = Field(description="of the band, without allowances")
    highest: float
    buried: float = Field(description="of film, below the ground")


class DrapePart(_Part):
    """The cover as one sheet of film: m, rad."""

    width: float
    length: float
    pleats: list[float] = Field(description="of each hub, the angle to be folded away")
    folds: list[float] = Field(description="of each hub, the cloth folded at the next hub")


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


class BendingPart(_Part):
    """A sheet under wind and snow, at the worst face: m, Pa, Nm/m."""

    face: int
    span: float = Field(description="of a strip as wide as the largest circle in the face")
    pressure: float = Field(description="across a face, the sheet's own weight in, in use")
    pressure_strength: float = Field(description="factored for strength design")
    moment: float = Field(description="under the factored pressure")
    sag: float | None = Field(description="in use; null where the stiffness is not known")
    holds: float | None = Field(description="what the maker's table allows in use")


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
    air_gap: float | None = Field(description="m between two layers, over struts and faces")
    air_gap_at_hubs: list[float] | None = Field(description="m, of each hub")
    fittings: list[FittingPart]
    skirt: SkirtBand | None
    drape: DrapePart | None
    fixing: FixingPart | None
    bending: BendingPart | None
    screw_pull: float | None = Field(description="N on one screw of a panel in the wind")


def cover_section(plan: CoverPlan | None) -> dict[str, Any] | None:
    """Return the section; None for a bare frame."""
    if plan is None:
        return None
    rolls = [part for film in plan.films for part in _rolls(film)]
    for layer in plan.sheets:
        rolls += _stock(layer.nest, [kind.label for kind in layer.types], f"panels {layer.name}")
    if plan.skirt is not None:
        rolls += _stock(plan.skirt.nest, [part.label for part in plan.skirt.parts], "skirt")
    return {
        "material": plan.material,
        "layers": plan.layers,
        "panels": [
            _without(plain(kind), "area") | {"layer": layer.name}
            for layer in plan.sheets
            for kind in layer.types
        ],
        "strips": [strip for film in plan.films for strip in _strips(film)],
        "seams": [seam for film in plan.films for seam in _seams(film)],
        "rolls": rolls,
        "used": plan.used,
        "bought": plan.bought,
        "mass": plan.mass,
        "air_gap": plan.gap.at_strut if plan.gap else None,
        "air_gap_at_hubs": plan.gap.at_hub.tolist() if plan.gap else None,
        "fittings": [plain(fitting) for fitting in plan.fittings],
        "skirt": _without(plain(plan.skirt), "nest") if plan.skirt else None,
        "drape": plain(plan.drape) if plan.drape else None,
        "fixing": plain(plan.fixing) if plan.fixing else None,
        "bending": plain(plan.bending) if plan.bending else None,
        "screw_pull": plan.screw_pull,
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
                {
                    "label": names[one.item],
                    "x": one.x,
                    "y": one.y,
                    "turned": one.turned,
                    "angle": one.angle,
                }
                for one in nest.placed
                if one.stock == k
            ],
        }
        for k, use in enumerate(nest.stock)
    ]
