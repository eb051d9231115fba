"""kit.json, section stability: how far the shell is from losing its shape."""

from __future__ import annotations

from typing import Any

import numpy as np
from pydantic import BaseModel, ConfigDict, Field

from strutwright.design import Design

__all__ = ["StabilityPart", "stability_section"]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid")


class PathPart(_Part):
    """One path of the imperfect shell."""

    combination: str
    joints: str = Field(description="end of the joints' stiffness: low or high")
    shape: str = Field(description="imperfection: shape, sense, and span over what")
    amplitude: float = Field(description="largest move of a hub, m")
    load_factor: float = Field(description="at the first critical point, or the last reached")
    mode: str = Field(description="hub: hubs move; member: struts bow between them")
    required: float
    ended: str


class StabilityPart(_Part):
    """Buckling and snap-through of the whole shell, loads without factors."""

    combination: str = Field(description="the governing one; empty when nothing buckles")
    buckling_factor: float | None = Field(description="lowest, linear; null: nothing buckles")
    hub_buckling_factor: float | None = Field(description="lowest at which hubs move, linear")
    limit_load_factor: float | None = Field(description="lowest of the paths; null: none followed")
    mode: str
    ended: str
    screened: int = Field(description="combinations screened as milder than those searched")
    paths: list[PathPart]


def stability_section(design: Design) -> dict[str, Any] | None:
    """Return the section of `design`; None where the kit cannot stand or has no site."""
    found = design.judgement.stability
    if found is None:
        return None
    worst = found.trials[0] if found.trials else None
    return {
        "combination": "" if worst is None else worst.combination,
        "buckling_factor": _least([b.factor for b in found.buckled]),
        "hub_buckling_factor": _least([b.hubs for b in found.buckled]),
        "limit_load_factor": None if worst is None else worst.factor,
        "mode": "" if worst is None else worst.kind,
        "ended": "no buckling" if worst is None else worst.ended,
        "screened": found.screened,
        "paths": [
            {
                "combination": t.combination,
                "joints": t.end,
                "shape": t.shape,
                "amplitude": t.amplitude,
                "load_factor": t.factor,
                "mode": t.kind,
                "required": t.required,
                "ended": t.ended,
            }
            for t in found.trials
        ],
    }


def _least(factors: list[float]) -> float | None:
    least = min(factors, default=np.inf)
    return float(least) if np.isfinite(least) else None
