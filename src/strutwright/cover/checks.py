"""What the cover itself is held to."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal

from strutwright.catalogue import Cover, Source, cover, cover_ids
from strutwright.cover.fixing import CLAMP_SOURCE
from strutwright.cover.values import CoverPlan, Fixing
from strutwright.structure import Check, Subject

__all__ = ["STRENGTH_FACTOR", "cover_checks"]

STRENGTH_FACTOR: Final = 1.5
"""Film's strength over what is counted on: seams, creases and the sun; our choice."""
_SUBJECT: Final = Subject("cover")
_TESTED: Final = Source("what the brief says one fixing holds", how="tested")
_FORMAT: Final[Literal["factored"]] = "factored"


def cover_checks(plan: CoverPlan | None) -> tuple[Check, ...]:
    """Return the checks of a cover of film; none for sheets and a bare frame.

    ``film-strength`` counts: torn film lets the wind in, and the frame was not judged for that.
    ``film-tension`` does not: film beyond it stretches and sags, and its frame stands as before;
    its note says what would mend it. Nor does ``film-fixing``, whose capacity is recalled or the
    maker's.
    """
    if plan is None or not plan.films:
        return ()
    skin = cover(plan.material)
    strength, tension = skin.sources.get("strength"), skin.sources.get("tension")
    if skin.strength is None or skin.tension is None or strength is None or tension is None:
        return ()
    if plan.fixing is None:
        why = "the brief gives no snow or no wind"
        return (Check.not_made("film-strength", _SUBJECT, why, strength),)
    return tuple(_checks(skin, plan.fixing, strength, tension))


def _checks(skin: Cover, held: Fixing, strength: Source, tension: Source) -> Iterator[Check]:
    yield Check.made(
        "film-strength",
        _SUBJECT,
        held.tension_strength,
        (skin.strength or 0.0) / STRENGTH_FACTOR,
        unit="N/m",
        source=strength,
        format=_FORMAT,
        note=f"tensile strength over {STRENGTH_FACTOR:g} for seams, creases and age (our choice)",
    )
    limit = skin.tension or 0.0
    yield Check.made(
        "film-tension",
        _SUBJECT,
        held.tension,
        limit,
        unit="N/m",
        source=tension,
        required=False,
        note=_slack(skin, held.tension / limit) if limit else "",
    )
    yield Check.made(
        "film-fixing",
        _SUBJECT,
        held.demand_edge,
        held.holds,
        unit="N",
        source=_TESTED if held.tested else CLAMP_SOURCE,
        required=False,
        note="not counted: what a fixing holds is its maker's figure; pull one out with a spring "
        "balance and give it as fixing under [cover]. Where clamps side by side do not hold, a "
        "channel with a spring wire may",
    )


def _slack(skin: Cover, share: float) -> str:
    """Return why film beyond its design tension is not counted, and what would mend it.

    Tension grows with the cube root of the thickness and with the two-third power of the face.
    """
    first = (
        "not counted for the verdict, since the film stretches and sags rather than tears, and "
        "the frame stands as before"
    )
    if share <= 1:
        return first
    needed = skin.thickness * share**1.5
    thicker = [cover(name) for name in cover_ids()]
    fit = sorted(
        (one.thickness, one.id) for one in thicker if one.kind == "film" and one.thickness >= needed
    )
    film = f", such as {fit[0][1]}" if fit else ", more than any film listed"
    return (
        f"{first}: retension it after the first storm. It would stay taut as film of "
        f"{1e6 * needed:.0f} µm{film}, or on struts {1 - share**-1.5:.0%} shorter"
    )
