"""From an analysis to the list of Checks: one for each rule and strut type, the worst strut."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from strutwright.catalogue import Source
from strutwright.parts import Kit
from strutwright.shape.measure import node_lengths
from strutwright.structure.analyse import Analysis
from strutwright.structure.check import Check, Subject

__all__ = ["serviceability_checks", "strut_checks", "worse_of"]

HUB_SHARE: Final = 200.0
"""A hub moves by at most the span over this.

Source: light covers accept span/150 to span/200 (National Greenhouse Manufacturers, in a trade
journal); reported at 200, our choice.
"""
SAG_SHARE: Final = 200.0
"""A strut sags by at most its length over this: our choice, for covers that must not pond."""
DEFLECTION: Final = Source("deflection limit for light covers, span/200", how="judgement")
SHELL: Final = Subject("shell")


def strut_checks(kit: Kit, analysis: Analysis) -> tuple[Check, ...]:
    """Return the strength checks of struts and their ends, worst strut of each type."""
    checks: list[Check] = []
    for use in analysis.uses:
        for kind in kit.strut_types:
            if use.code == "coupler-strength" and not kind.coupler_at:
                continue
            strut = int(kind.struts[np.argmax(use.worst[kind.struts])])
            combo = analysis.combinations[int(use.combination[strut])]
            checks.append(
                Check.made(
                    use.code,
                    Subject("strut", strut),
                    float(use.worst[strut]),
                    1.0,
                    unit="-",
                    source=use.source,
                    combination=combo.name,
                    format="factored" if combo.format == "factored" else "allowable",
                    note=f"strut type {kind.label}",
                )
            )
    what = Source("a value that has to be tested or confirmed", how="judgement")
    checks.extend(
        Check.not_made(refusal.code, SHELL, refusal.why, what) for refusal in analysis.refusals
    )
    return tuple(checks)


def worse_of(low: tuple[Check, ...], *stiffer: tuple[Check, ...]) -> tuple[Check, ...]:
    """Return the checks `low`, and in their place those of stiffer joints that are used more."""
    told = list(low)
    for checks in stiffer:
        of = {(check.code, check.note): check for check in checks}
        for k, check in enumerate(told):
            other = of.get((check.code, check.note))
            if other is not None and (other.utilisation or 0.0) > (check.utilisation or 0.0):
                told[k] = replace(other, note=f"{other.note}, joints at their stiffest")
    return tuple(told)


def serviceability_checks(kit: Kit, service: Analysis) -> tuple[Check, ...]:
    """Return how far hubs and struts move under loads without factors; not required."""
    span = float(min(np.ptp(kit.shell.hubs[:, 0]), np.ptp(kit.shell.hubs[:, 1])))
    moved = np.linalg.norm(service.displacements, axis=2)
    at, hub = np.unravel_index(int(np.argmax(moved)), moved.shape)
    share = service.sag / (node_lengths(kit.shell) / SAG_SHARE)
    row, strut = np.unravel_index(int(np.argmax(share)), share.shape)
    return (
        Check.made(
            "hub-movement", Subject("hub", int(hub)), float(moved[at, hub]), span / HUB_SHARE,
            unit="m", source=DEFLECTION, combination=service.combinations[int(at)].name,
            required=False,
        ),
        Check.made(
            "strut-sag", Subject("strut", int(strut)), float(service.sag[row, strut]),
            float(node_lengths(kit.shell)[strut]) / SAG_SHARE, unit="m", source=DEFLECTION,
            combination=service.combinations[int(row)].name, required=False,
        ),
        _spread(kit, service, span),
    )  # fmt: skip


def _spread(kit: Kit, service: Analysis, span: float) -> Check:
    """Return how far the base spreads, and what pushes it out where the ground holds it."""
    at = kit.shell.hubs[service.ground, :2] - kit.shell.hubs[:, :2].mean(axis=0)
    if kit.shell.recipe.family != "dome":
        at = at * [0.0, 1.0]
    size = np.linalg.norm(at, axis=1)
    outward = at / np.where(size > 0, size, 1.0)[:, None]
    out = (service.displacements[:, service.ground, :2] * outward).sum(axis=2)
    thrust = -(service.reactions[..., :2] * outward).sum(axis=2)
    row, hub = np.unravel_index(int(np.argmax(out)), out.shape)
    pushed, where = np.unravel_index(int(np.argmax(thrust)), thrust.shape)
    note = (
        f"the ground takes {float(thrust[pushed, where]):.0f} N outward at hub "
        f"{int(service.ground[where])} under {service.combinations[int(pushed)].name}"
    )
    return Check.made(
        "base-spread", Subject("base hub", int(service.ground[hub])),
        max(float(out[row, hub]), 0.0), span / HUB_SHARE, unit="m", source=DEFLECTION,
        combination=service.combinations[int(row)].name, required=False, note=note,
    )  # fmt: skip
