"""What the cover itself is held to."""

from __future__ import annotations

from strutwright.catalogue import cover
from strutwright.cover.values import CoverPlan
from strutwright.structure import Check, Subject

__all__ = ["cover_checks"]


def cover_checks(plan: CoverPlan | None) -> tuple[Check, ...]:
    """Return film tension in the site's wind against the film's design tension.

    Not required for the frame: torn film lets the wind through, and both numbers are recalled.
    """
    if plan is None or plan.fixing is None:
        return ()
    skin = cover(plan.material)
    source = skin.sources.get("tension")
    if skin.tension is None or source is None:
        return ()
    note = (
        "film laid flat without tension, unfactored wind; a film that stretches beyond this stays "
        "slack: retension it after the first storm"
    )
    made = Check.made(
        "film-tension",
        Subject("cover"),
        plan.fixing.tension,
        skin.tension,
        unit="N/m",
        source=source,
        required=False,
        note=note,
    )
    return (made,)
