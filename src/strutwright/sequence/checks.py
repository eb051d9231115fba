"""Whether the crew of the brief can build the shell as it asks."""

from __future__ import annotations

from typing import Final

from strutwright.brief import Crew
from strutwright.catalogue import Source
from strutwright.sequence.values import BuildSequence
from strutwright.structure import Check, Subject

__all__ = ["crew_checks"]

_SUBJECT: Final = Subject("crew")
_HEIGHT: Final = Source("highest hub that is worked on in the way asked for", how="computed")
_PEOPLE: Final = Source(
    "two thirds of the sum of single lifts for two people, half for more (Network Rail page on "
    "lifting in teams, citing the HSE rule); one person cannot hold a high hub and fasten it too "
    "(common practice, no source)",
    how="recalled",
)


def crew_checks(plan: BuildSequence, crew: Crew) -> tuple[Check, ...]:
    """Return the checks of the crew: its reach and its number in the way that it asks for.

    They say nothing of the shell that stands, so its verdict does not hang on them. One that
    fails names the nearest way that works, which is the one that is planned.
    """
    near = ""
    if plan.refused:
        props = f"a platform of {plan.platform:.1f} m" if plan.platform else "no platform"
        near = (
            f"{plan.refused}. The nearest way that works is planned: {plan.way} with "
            f"{plan.people} people and {props}"
        )
    rows = (
        ("crew-reach", plan.asked_height, crew.reach + crew.platform, "m", _HEIGHT),
        ("crew-people", float(plan.asked_people), float(crew.people), "-", _PEOPLE),
    )
    return tuple(
        Check.made(
            code, _SUBJECT, demand, capacity, unit=unit, source=source, required=False,
            note=near if demand > capacity else "",
        )
        for code, demand, capacity, unit, source in rows
    )  # fmt: skip
