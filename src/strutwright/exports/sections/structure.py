"""kit.json, section structure: what governs, reactions, what may hang, what fails first."""

from __future__ import annotations

from typing import Any, Literal

import numpy as np
from pydantic import BaseModel, ConfigDict, Field

from strutwright.design import Design
from strutwright.sentences import told
from strutwright.structure import governing
from strutwright.structure.analyse import Analysis
from strutwright.structure.first import snow_depths
from strutwright.values import finite

__all__ = ["StructurePart", "structure_section"]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid")


class GoverningPart(_Part):
    """The required check that decides."""

    code: str
    subject: str
    utilisation: float | None
    combination: str


class ReactionPart(_Part):
    """Force of the ground on a base hub under one combination, N, global axes."""

    hub: int
    combination: str
    x: float
    y: float
    z: float


class HungPart(_Part):
    """Largest load hung at each hub before a required check fails, N, without factors."""

    with_dead_load: list[float] = Field(description="N per hub, in the order of the hubs")
    with_design_snow: list[float] = Field(description="N per hub, in the order of the hubs")
    followed: list[int] = Field(description="hubs where the nonlinear path was followed")


class FirstFailurePart(_Part):
    """Snow and wind at which a strut or an end first fails, the other actions as on the site."""

    snow: float | None = Field(description="on the ground, Pa; null: snow is not what fails it")
    snow_depth: dict[str, float] = Field(description="m on the ground, by density in kg/m3")
    wind: float | None = Field(description="basic wind speed, m/s; null: wind does not fail it")
    snow_fails: str = Field(default="", description="what fails, and under which combination")
    wind_fails: str = Field(default="", description="what fails, and under which combination")


class StormPart(_Part):
    """The wind at which the kit first fails in one state, snow as on the site."""

    state: Literal["shut", "open", "bare"] = Field(
        description="all shut; a door or vent open; cover off"
    )
    wind: float | None = Field(description="basic wind speed, m/s; null: wind does not fail it")
    fails: str


class StrutLossPart(_Part):
    """A strut whose loss brings the kit down under accidental combinations."""

    strut: int
    code: str = Field(description="rule that fails then, or mechanism")
    utilisation: float | None = Field(description="null: the kit can then move freely")
    carried: float = Field(description="axial force under weight alone, N, tension positive")


class MendPart(_Part):
    """A change that was tried on a kit that fails."""

    change: str
    passes: bool
    verdict: str = Field(
        description="passes; fails; not checked where what decides could not be checked"
    )
    mass: float | None = Field(description="of the kit then, kg; null where it cannot be built")
    price: float | None = Field(description="of the kit then; null where prices are not known")
    price_says: str = Field(
        default="", description="what an estimated price rests on, or what has no price"
    )
    governs: str = Field(description="what is used most then, or why it cannot be built")


class StructurePart(_Part):
    """Does it stand."""

    governing: GoverningPart | None
    reactions: list[ReactionPart] = Field(
        description="all base hubs, for each combination that is the worst for one of them"
    )
    hung_capacity: HungPart | None
    spread: float | None = Field(
        description="largest outward movement of a base hub under loads without factors, m"
    )
    first_failure: FirstFailurePart | None
    storm: list[StormPart] = Field(description="wind that each state of the kit stands")
    strut_loss: list[StrutLossPart] = Field(
        description="struts whose single loss brings the kit down, the worst first"
    )
    mend: list[MendPart] = Field(description="the least change that passes first")


def structure_section(design: Design) -> dict[str, Any]:
    """Return the section of `design`."""
    judged = design.judgement
    check = governing(design.checks)
    return {
        "governing": None
        if check is None
        else {
            "code": check.code,
            "subject": str(check.subject),
            "utilisation": finite(check.utilisation),
            "combination": check.combination,
        },
        "reactions": [] if judged.strength is None else _reactions(judged.strength),
        "hung_capacity": _hung(design),
        "spread": None if judged.service is None else _spread(design, judged.service),
        "first_failure": _first(design),
        "storm": _storm(design),
        "strut_loss": _lost(design),
        "mend": [
            {
                "change": told(mend.change, system=design.brief.project.show),
                "passes": mend.passes,
                "verdict": mend.verdict,
                "mass": mend.mass,
                "price": mend.price,
                "price_says": told(mend.price_says, system=design.brief.project.show),
                "governs": told(mend.governs, system=design.brief.project.show),
            }
            for mend in design.mends
        ],
    }


def _reactions(strength: Analysis) -> list[dict[str, Any]]:
    sideways = np.linalg.norm(strength.reactions[..., :2], axis=2)
    upward = strength.reactions[..., 2]
    rows = {*upward.argmin(axis=0), *upward.argmax(axis=0), *sideways.argmax(axis=0)}
    return [
        {
            "hub": int(hub),
            "combination": strength.combinations[row].name,
            **dict(zip("xyz", strength.reactions[row, k].tolist(), strict=True)),
        }
        for row in sorted(int(row) for row in rows)
        for k, hub in enumerate(strength.ground)
    ]


def _hung(design: Design) -> dict[str, Any] | None:
    found = design.judgement.limits
    if found is None:
        return None
    return {
        "with_dead_load": found.hung.with_dead_load.tolist(),
        "with_design_snow": found.hung.with_design_snow.tolist(),
        "followed": found.hung.followed.tolist(),
    }


def _storm(design: Design) -> list[dict[str, Any]]:
    found, wind = design.judgement.limits, design.brief.site.basic_wind
    if found is None or wind is None:
        return []
    return [
        {
            "state": one.state,
            "wind": None if one.first.factor is None else wind.value * one.first.factor**0.5,
            "fails": f"{one.first.code} of strut {one.first.strut} under {one.first.combination}",
        }
        for one in found.storm
    ]


def _lost(design: Design) -> list[dict[str, Any]]:
    found = None if design.judgement.limits is None else design.judgement.limits.loss
    if found is None:
        return []
    return [
        {
            "strut": int(strut),
            "code": found.code[strut],
            "utilisation": finite(float(found.utilisation[strut])),
            "carried": float(found.carried[strut]),
        }
        for strut in found.fatal
    ]


def _spread(design: Design, service: Analysis) -> float:
    """Return how far a base hub moves outward: across the length, or from a dome's middle."""
    at = design.shell.hubs[service.ground, :2].copy()
    if design.shell.recipe.family != "dome":
        at[:, 0] = 0.0
    size = np.linalg.norm(at, axis=1)
    outward = at / np.where(size > 0, size, 1.0)[:, None]
    moved = service.displacements[:, service.ground, :2]
    return float(max(0.0, (moved * outward).sum(axis=2).max()))


def _first(design: Design) -> dict[str, Any] | None:
    found = design.judgement.limits
    if found is None:
        return None
    fails = {
        f"{one.action}_fails": f"{one.code} of strut {one.strut} under {one.combination}"
        for one in found.first
        if one.factor is not None
    }
    snow = found.ground_snow
    depths = {} if snow is None else snow_depths(snow)
    return {
        "snow": snow,
        "snow_depth": {str(density): depth for density, depth in depths.items()},
        "wind": found.wind_speed,
        **fails,
    }
