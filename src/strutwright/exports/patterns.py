"""Patterns of the cover for a cutter: DXF at 1:1 in mm."""

from __future__ import annotations

from strutwright.cover import CoverPlan, film_sheet, panels_sheet, skirt_sheet
from strutwright.drawing import dxf
from strutwright.shape import Shell

__all__ = ["pattern_files"]


def pattern_files(plan: CoverPlan | None, shell: Shell) -> dict[str, bytes]:
    """Return a DXF file for each layer of film or panels, by their path in the kit.

    Layers: ``CUT``, ``FINISHED-SEAM``, ``FINISHED-HEM``, ``FINISHED-FLAP``, ``STRUTS``, ``HOLES``,
    ``HUBS`` and ``LABELS``.
    """
    if plan is None:
        return {}
    files = {
        f"patterns/film-{film.name}.dxf": dxf(film_sheet(film, shell.faces)) for film in plan.films
    }
    files |= {
        f"patterns/panels-{layer.name}.dxf": dxf(panels_sheet(layer)) for layer in plan.sheets
    }
    if plan.skirt is not None:
        files["patterns/skirt.dxf"] = dxf(skirt_sheet(plan.skirt))
    return files
