"""Uses that a kit must not serve, and those that an engineer has to sign."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.brief import Brief
from strutwright.catalogue import Source
from strutwright.parts import Kit
from strutwright.structure.capacity import Capacity
from strutwright.structure.check import Check, Subject
from strutwright.structure.first import FirstFailure
from strutwright.units import show_force, show_pressure

__all__ = ["CLIMBING", "SIGNED", "use_checks"]

CLIMBING: Final = "use-climbing"
"""Code of the refusal of climbing."""
SIGNED: Final = "engineer-to-sign"
"""Code of what only an engineer may let pass."""
MOST_SNOW: Final = 3e3
"""Pa on the ground; where more falls an engineer signs. Our choice: about what the heaviest tube
of the catalogue carries over 6 m; the mistake of one winter is then a collapse."""
CROWDS: Final = ("hall",)
"""Uses in which many people meet."""
GRAVE: Final = ("CC3", "III", "IV")
"""Consequence classes and risk categories beyond a kit. Source: EN 1990 B.3, ASCE 7 1.5."""
OURS: Final = Source("what kits of this program are for", how="judgement")
SHELL: Final = Subject("shell")


def use_checks(kit: Kit, brief: Brief, found: Capacity | None) -> tuple[Check, ...]:
    """Return the refusal of a use, or that an engineer has to sign; empty where a kit may serve.

    Parameters
    ----------
    found : Capacity or None
        What may hang and what fails first, for the numbers; None where the kit cannot stand.
    """
    if brief.project.use == "climbing":
        return (_climbing(brief, found),)
    reasons = _reasons(kit, brief)
    if not reasons:
        return ()
    why = f"{'; '.join(reasons)}: beyond a kit. {_nearest(brief, found)}"
    return (Check.not_made(SIGNED, SHELL, why, OURS),)


def _climbing(brief: Brief, found: Capacity | None) -> Check:
    asked, system = brief.loads.hung, brief.project.show
    carried, least = "what the weakest carries is not known", ""
    if found is not None and not found.hung.unknown:
        force = float(found.hung.with_dead_load.min())
        carried = f"the weakest carries {show_force(force, system)}, hanging still and alone"
        least = f", with at most {show_force(0.5 * force, system)} hung from a hub"
    note = (
        "people who climb load every hub and strut at once and with impact, which no check of "
        f"this program covers. {show_force(asked, system)} is asked of any hub; {carried}. "
        "Nearest that can be served: the same frame as a shelter or plant frame that nobody "
        f"climbs{least}; for climbing, equipment tested and certified for playgrounds"
    )
    return Check.made(CLIMBING, SHELL, asked, 0.0, unit="N", source=OURS, note=note)


def _reasons(kit: Kit, brief: Brief) -> list[str]:
    site, system = brief.site, brief.project.show
    found = []
    if brief.project.use in CROWDS:
        found.append("many people meet in it")
    if site.consequence in GRAVE:
        found.append(f"its class is {site.consequence}")
    if site.ground_snow is not None and site.ground_snow > MOST_SNOW:
        found.append(
            f"{show_pressure(site.ground_snow, system)} of snow on the ground, more than "
            f"{show_pressure(MOST_SNOW, system)}"
        )
    if kit.stock.material.kind == "bamboo":
        found.append("bamboo culms differ from one another and have no complete rule here")
    return found


def _first_to_fail(found: Capacity) -> FirstFailure | None:
    """Return what fails first; an action without which the kit fails says nothing itself."""
    known = [one for one in found.first if one.factor is not None]
    said = [one for one in known if one.factor]
    return min(said or known, key=lambda one: float(one.factor or 0.0), default=None)


def _nearest(brief: Brief, found: Capacity | None) -> str:
    """Return what governs, with its number, and what could be served instead."""
    system, site = brief.project.show, brief.site
    if found is None:
        return "It cannot stand as it is drawn; an engineer has to design it."
    snow = found.ground_snow
    said = []
    governs = _first_to_fail(found)
    if governs is not None:
        at = (
            f"at {governs.factor:.2f} times the {governs.action} of the site"
            if governs.factor
            else f"without any {governs.action}"
        )
        by = "By the rules that could be used, " if found.hung.unknown else ""
        said.append(
            f"{by}{governs.code} of strut {governs.strut} governs: it fails {at} "
            f"({governs.combination})."
        )
    least = min(np.inf if snow is None else snow, MOST_SNOW, site.ground_snow or np.inf)
    if np.isfinite(least) and least > 0.0:
        said.append(
            f"Nearest that a kit may serve: the same shell as a store or plant house for few "
            f"people where at most {show_pressure(float(least), system)} of snow lies on the "
            "ground, all its checks passing there."
        )
    else:
        said.append("Nearest that a kit may serve: a smaller shell in steel or timber.")
    return " ".join(said)
