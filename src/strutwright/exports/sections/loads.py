"""kit.json, section loads: every load case with its resultant, every combination."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from strutwright.design import Design
from strutwright.loads import resultant

__all__ = ["LoadsPart", "loads_section"]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid")


class CasePart(_Part):
    """One action on the frame."""

    name: str
    action: str
    source: str
    resultant: tuple[float, float, float] = Field(description="sum of all forces, N, z up")
    duration: Literal["permanent", "long", "season", "week", "gust"]


class CombinationPart(_Part):
    """A sum of cases for strength, each with its factor."""

    name: str
    format: Literal["factored", "allowable", "-"]
    factors: dict[str, float]


class LoadsPart(_Part):
    """What acts on the kit."""

    cases: list[CasePart]
    combinations: list[CombinationPart]


def loads_section(design: Design) -> dict[str, Any]:
    """Return the section of `design`; empty lists where the brief gives no site."""
    judged = design.judgement
    cases = () if judged.loads is None else judged.loads.cases
    combos = () if judged.strength is None else judged.strength.combinations
    return {
        "cases": [
            {
                "name": case.name,
                "action": case.action,
                "source": str(case.source),
                "resultant": resultant(design.shell, case)[0].tolist(),
                "duration": case.duration,
            }
            for case in cases
        ],
        "combinations": [
            {"name": combo.name, "format": combo.format, "factors": dict(combo.factors)}
            for combo in combos
        ],
    }
