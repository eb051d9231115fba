"""kit.json, section packing: the parcels."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field

from strutwright.packing import PackingPlan

__all__ = ["PackingPart", "packing_section"]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid")


class ParcelPart(_Part):
    """One parcel: outside sizes m, mass kg with its wrapping."""

    contents: dict[str, int] = Field(description="pieces by label: struts, then hubs")
    length: float
    width: float
    height: float
    mass: float
    stages: list[int] = Field(description="build stages that need it, from 0")
    lightest: float = Field(description="mass of its lightest piece, kg")


class PackingPart(_Part):
    """The parcels in the order of building; `bound`: no plan has fewer."""

    carrier: str
    parcels: list[ParcelPart]
    proven: bool
    bound: int


def packing_section(plan: PackingPlan) -> dict[str, Any]:
    """Return the section."""
    return {
        "carrier": plan.carrier,
        "parcels": [
            {
                "contents": one.counts,
                "length": one.length,
                "width": one.width,
                "height": one.height,
                "mass": one.mass,
                "stages": list(one.stages),
                "lightest": one.lightest,
            }
            for one in plan.parcels
        ],
        "proven": plan.proven,
        "bound": plan.bound,
    }
