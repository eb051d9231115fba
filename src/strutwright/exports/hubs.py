"""Hubs for the workshop: DXF of every type, and solids where hubs have a body."""

from __future__ import annotations

from strutwright.drawing import dxf
from strutwright.making import Fixings, foot_strap, hub_form, hub_plates, hub_solids
from strutwright.parts import Kit

__all__ = ["hub_files"]


def hub_files(kit: Kit, fixings: Fixings | None = None) -> dict[str, bytes]:
    """Return the files of ``hubs/`` by path, all in mm: DXF at 1:1, STL and 3MF of each body."""
    files = {}
    forms = [hub_form(kit, kind, fixings) for kind in kit.hub_types]
    staked = next((form for form in forms if form.stake), None)
    if staked is not None and staked.stake and staked.kind == "flattened":
        files["hubs/foot-strap.dxf"] = dxf(foot_strap(staked.stake, staked.hole).sheet)
    for kind in kit.hub_types:
        for plate in hub_plates(kit, kind, fixings):
            files[f"hubs/{plate.label}.dxf"] = dxf(plate.sheet)
        for solid in hub_solids(kit, kind, fixings):
            files[f"hubs/{solid.label}.stl"] = solid.stl()
            files[f"hubs/{solid.label}.3mf"] = solid.three_mf()
    return files
