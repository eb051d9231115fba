"""Cover and climate of a design: what the rooms need, gathered from brief, kit and site."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.brief import Brief
from strutwright.catalogue import cover
from strutwright.climate import ClimateAsked, ClimatePlan, Entrance, climate_plan
from strutwright.cover import CoverPlan, plan_cover
from strutwright.loads.film import film_pressures
from strutwright.parts import Kit
from strutwright.shape import Shell
from strutwright.shape.outer import measures
from strutwright.shape.riser import feet_of
from strutwright.structure.judge import doors_of, load_site

__all__ = ["climate_of", "cover_of", "entrances_of"]

CORNER_CLEAR: Final = 0.005
"""m between a hub and the corners of panels; our choice."""
SILL: Final = 1e-6
"""m by which the feet of a door's frame may differ in height."""


def cover_of(kit: Kit, brief: Brief) -> CoverPlan | None:
    """Return the cover of `kit`; None for a bare frame."""
    if brief.cover.material is None:
        return None
    site = load_site(brief)
    pressure = None if site is None else film_pressures(kit.shell, site, doors_of(kit.shell))
    return plan_cover(kit.shell, kit.stock, brief, pressure, hub=_hub_reach(kit))


def _hub_reach(kit: Kit) -> float:
    """Return how far from a hub's centre panels begin, m: past the hub and the ends of struts."""
    body = kit.connector.outside_from_centre or 0.0
    return max(body, float(np.nanmax(kit.allowances)), 0.0) + CORNER_CLEAR


def climate_of(shell: Shell, brief: Brief) -> ClimatePlan:
    """Return heat, air and use of the house of `brief`."""
    skin = None if brief.cover.material is None else cover(brief.cover.material)
    wish = brief.climate
    asked = ClimateAsked(
        inside=wish.inside,
        outside=wish.outside,
        air_changes=wish.air_changes,
        degree_days=wish.degree_days,
        fuel_price=wish.fuel_price,
        sun=wish.sun,
        shade=wish.shade,
        layers=brief.cover.layers,
        price=brief.cover.price,
        riser=_riser(shell),
        entrances=entrances_of(shell),
    )
    return climate_plan(shell, measures(shell), skin, asked)


def _riser(shell: Shell) -> float:
    """Return the mean height of the base ring above the ground, m: that of its legs."""
    feet = feet_of(shell)
    return float(-shell.hubs[feet, 2].mean()) if len(feet) else 0.0


def entrances_of(shell: Shell) -> tuple[Entrance, ...]:
    """Return the doors of `shell` in plan."""
    found = []
    for door in doors_of(shell):
        frame = shell.hubs[list(door.hubs)]
        sill = frame[frame[:, 2] <= frame[:, 2].min() + SILL]
        x, y = sill[:, :2].mean(axis=0).tolist()
        wide = float(np.linalg.norm(sill[-1, :2] - sill[0, :2]))
        found.append(Entrance((x, y), door.azimuth, wide))
    return tuple(found)
