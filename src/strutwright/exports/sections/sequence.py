"""The build sequence in kit.json."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field

from strutwright.design import Design
from strutwright.sequence import BuildSequence, Step

__all__ = ["SequencePart", "sequence_section"]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid")


class StateCheckPart(_Part):
    """How the state at the end of a step stands; buckling is a lower bound where it says so."""

    deflection: float | None = Field(description="m; null where the state cannot stand")
    limit: float
    buckling: float
    buckling_is_bound: bool
    wind: float = Field(description="m/s, most in which this step is built")
    passes: bool


class StepPart(_Part):
    """One action."""

    number: int
    action: str = Field(description="place, flat, raise, lift, brace or unprop")
    repeats: int
    picks: dict[str, int] = Field(description="parts taken from the pack, by label")
    hubs: list[int]
    struts: list[int]
    props: list[str] = Field(description="names of the props that stand at the end of the step")
    props_placed: list[str]
    props_removed: list[str]
    people: int
    reach: float = Field(description="m, height of the highest hub worked on")
    platform: float = Field(description="m, platform needed; 0 for none")
    lift: float = Field(description="kg, the most that one person lifts")
    mechanisms: int = Field(description="free movements without the props, hubs as pins")
    check: StateCheckPart | None = Field(description="null where the parts lie on the ground")
    last_strut: int | None = Field(description="strut to fasten last")
    slack: float = Field(description="m, what a pull of 100 N gives at the last strut")
    minutes: float


class StagePart(_Part):
    """A named run of steps."""

    name: str
    kind: str
    course: int
    half: str
    wind: float
    steps: list[StepPart]


class PropPart(_Part):
    """A temporary support: holds its hub along the line to its foot."""

    name: str
    hub: int
    foot: list[float]
    why: str


class LayDownPart(_Part):
    """Level ground for a course laid out flat, m, in one or more parts."""

    course: int
    parts: int
    length: float
    width: float


class SequencePart(_Part):
    """The build sequence."""

    way: str
    people: int
    platform: float
    as_asked: bool
    refused: str = Field(description="why the crew cannot build as asked; empty where it can")
    minutes: float
    stages: list[StagePart]
    props: list[PropPart]
    lay_down: list[LayDownPart]


def sequence_section(design: Design) -> dict[str, Any]:
    """Return the build sequence of `design` as plain data."""
    plan: BuildSequence = design.sequence
    return {
        "way": plan.way,
        "people": plan.people,
        "platform": plan.platform,
        "as_asked": plan.as_asked,
        "refused": plan.refused,
        "minutes": plan.minutes,
        "stages": [
            {
                "name": stage.name,
                "kind": stage.kind,
                "course": stage.course,
                "half": stage.half,
                "wind": stage.wind,
                "steps": [_step(step) for step in stage.steps],
            }
            for stage in plan.stages
        ],
        "props": [
            {"name": p.name, "hub": p.hub, "foot": list(p.foot), "why": p.why} for p in plan.props
        ],
        "lay_down": [
            {"course": s.course, "parts": s.parts, "length": s.length, "width": s.width}
            for s in plan.laydown
        ],
    }


def _step(step: Step) -> dict[str, Any]:
    check = step.check
    return {
        "number": step.number,
        "action": step.action,
        "repeats": step.repeats,
        "picks": dict(step.picks),
        "hubs": step.hubs.tolist(),
        "struts": step.struts.tolist(),
        "props": list(step.standing),
        "props_placed": list(step.props),
        "props_removed": list(step.removed),
        "people": step.people,
        "reach": step.reach,
        "platform": step.platform,
        "lift": step.lift,
        "mechanisms": step.mechanisms,
        "check": None
        if check is None
        else {
            "deflection": check.deflection if check.deflection < float("inf") else None,
            "limit": check.limit,
            "buckling": check.buckling,
            "buckling_is_bound": check.is_bound,
            "wind": check.wind,
            "passes": check.passes,
        },
        "last_strut": None if step.last_strut < 0 else step.last_strut,
        "slack": step.slack,
        "minutes": step.minutes,
    }
