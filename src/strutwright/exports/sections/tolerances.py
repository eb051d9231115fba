"""kit.json, section tolerances: how well the built shell meets its drawing."""

from __future__ import annotations

from typing import Any

import numpy as np
from pydantic import BaseModel, ConfigDict, Field

from strutwright.design import Design
from strutwright.values import Floats

__all__ = ["TolerancesPart", "tolerances_section"]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid")


class SwapPart(_Part):
    """Two types taken for one another: difference of length, farthest a hub then moves; m."""

    a: str
    b: str
    difference: float
    shift: float


class TolerancesPart(_Part):
    """95 % values, m."""

    closing_gap: float = Field(description="that the last strut at the crown meets")
    ring_misfit: float | None = Field(
        description="of a base hub from its peg, built without pegs; null where lengths let it flex"
    )
    hub_spread: list[float | None] = Field(
        description="of every hub from its place; null for feet and where lengths do not hold it"
    )
    rounding: float = Field(description="farthest that a hub moves because cuts are rounded")
    confusable: list[tuple[str, str]]
    swaps: list[SwapPart]


def tolerances_section(design: Design) -> dict[str, Any] | None:
    """Return the section; None for a kit too large to say."""
    found = design.tolerances
    if found is None:
        return None
    return {
        "closing_gap": found.closing_gap,
        "ring_misfit": found.ring_misfit,
        "hub_spread": _plain(found.hub_spread),
        "rounding": found.rounding,
        "confusable": [list(pair) for pair in design.kit.confusable],
        "swaps": [vars(swap) for swap in found.swaps],
    }


def _plain(values: Floats) -> list[float | None]:
    return [float(value) if np.isfinite(value) else None for value in values]
