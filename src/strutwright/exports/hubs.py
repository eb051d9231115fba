"""Hubs for the workshop: DXF of every type, and solids where hubs have a body."""

from __future__ import annotations

from strutwright.drawing import dxf
from strutwright.making import hub_plate, hub_solid
from strutwright.parts import Kit

__all__ = ["hub_files"]


def hub_files(kit: Kit) -> dict[str, bytes]:
    """Return the files of ``hubs/`` by path, all in mm: DXF at 1:1, STL and 3MF of socket hubs."""
    files = {}
    for kind in kit.hub_types:
        name = f"hubs/{kind.label}"
        files[f"{name}.dxf"] = dxf(hub_plate(kit, kind).sheet)
        solid = hub_solid(kit, kind)
        if solid is not None:
            files[f"{name}.stl"] = solid.stl()
            files[f"{name}.3mf"] = solid.three_mf()
    return files
