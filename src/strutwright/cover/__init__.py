"""The skin of a shell: film in strips, rigid panels, two layers, how they are cut and held."""

from strutwright.cover.checks import cover_checks
from strutwright.cover.dense import pack_densely, pack_sheets
from strutwright.cover.film import FilmWish, film_layer
from strutwright.cover.fit import fit_on_sheets
from strutwright.cover.map import SIDES, film_map, panel_map
from strutwright.cover.nest import laid, nest_in_rows
from strutwright.cover.panels import PanelWish, edges_of, panel_plan
from strutwright.cover.pieces import patterns
from strutwright.cover.plan import BARRIERS, plan_cover
from strutwright.cover.sheets import (
    film_sheet,
    layout_sheet,
    panel_card,
    panel_layout,
    panels_sheet,
    pattern_card,
    skirt_sheet,
)
from strutwright.cover.surface import offset_points
from strutwright.cover.values import (
    CoverPlan,
    Drape,
    FilmLayer,
    Fixing,
    LayerFitting,
    LayerGap,
    Nest,
    PanelPlan,
    PanelType,
    Piece,
    Placed,
    Seam,
    Skirt,
    SkirtPart,
    StockUse,
    WayTried,
)

__all__ = [
    "BARRIERS",
    "SIDES",
    "CoverPlan",
    "Drape",
    "FilmLayer",
    "FilmWish",
    "Fixing",
    "LayerFitting",
    "LayerGap",
    "Nest",
    "PanelPlan",
    "PanelType",
    "PanelWish",
    "Piece",
    "Placed",
    "Seam",
    "Skirt",
    "SkirtPart",
    "StockUse",
    "WayTried",
    "cover_checks",
    "edges_of",
    "film_layer",
    "film_map",
    "film_sheet",
    "fit_on_sheets",
    "laid",
    "layout_sheet",
    "nest_in_rows",
    "offset_points",
    "pack_densely",
    "pack_sheets",
    "panel_card",
    "panel_layout",
    "panel_map",
    "panel_plan",
    "panels_sheet",
    "pattern_card",
    "patterns",
    "plan_cover",
    "skirt_sheet",
]
