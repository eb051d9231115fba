"""What the cover itself is held to."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal

from strutwright.catalogue import Cover, Source, cover, cover_ids
from strutwright.cover.fixing import CLAMP_SOURCE
from strutwright.cover.values import Bending, CoverPlan, Fixing
from strutwright.structure import Check, Subject
from strutwright.structure.standards import en1995

__all__ = ["STRENGTH_FACTOR", "cover_checks"]

STRENGTH_FACTOR: Final = 1.5
"""Film's strength over what is counted on: seams, creases and the sun; our choice."""
PLYWOOD: Final = 1.2
"""Partial factor of plywood. Source: EN 1995-1-1 Table 2.3, recalled."""
SAG_SHARE: Final = 100.0
"""A sheet sags by at most its span over this: our choice."""
_SUBJECT: Final = Subject("cover")
_TESTED: Final = Source("what the brief says one fixing holds", how="tested")
_STRIP: Final = Source(
    "plate held along its edges, no more than a strip", None, "p a^2/8", "computed"
)
_TABLE: Final = Source("the maker's table of loads, as the brief gives it", how="read")
_FORMAT: Final[Literal["factored"]] = "factored"


def cover_checks(plan: CoverPlan | None) -> tuple[Check, ...]:
    """Return the checks of a cover; none for a bare frame.

    ``film-strength`` counts: torn film lets the wind in, and the frame was not judged for that.
    ``film-tension`` does not: film beyond it stretches and sags, and its frame stands as before;
    its note says what would mend it. Nor does ``film-fixing``, whose capacity is recalled or the
    maker's. ``sheet-bending`` counts as torn film does; where neither the catalogue nor the brief
    knows what a sheet carries, it is not checked.
    """
    if plan is None:
        return ()
    skin = cover(plan.material)
    if plan.sheets:
        return tuple(_sheet_checks(skin, plan.bending))
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


def _sheet_checks(skin: Cover, bent: Bending | None) -> Iterator[Check]:
    if bent is None:
        yield Check.not_made(
            "sheet-bending", _SUBJECT, "the brief gives no snow or no wind", _STRIP
        )
        return
    if bent.holds is not None:
        yield Check.made(
            "sheet-bending", _SUBJECT, bent.pressure, bent.holds, unit="Pa", source=_TABLE,
            format="allowable",
            note="the worst of wind or snow with the sheet's weight, in use, against the maker's "
            "table",
        )  # fmt: skip
    elif skin.bending is None:
        why = (
            f"what {skin.name} carries is its maker's figure: read it from the table for the "
            "widest panel, held along all edges, and give it as sheet_load under [cover]"
        )
        yield Check.not_made("sheet-bending", _SUBJECT, why, _STRIP)
    else:
        yield Check.made(
            "sheet-bending", _SUBJECT,
            6 * bent.moment / skin.thickness**2,
            en1995.f_d(skin.bending, "week", 3, PLYWOOD),
            unit="Pa",
            source=skin.sources["bending"],
            format=_FORMAT,
            note=f"over face {bent.face}: a strip as wide as the largest circle in it, across the "
            "face grain, outdoors",
        )  # fmt: skip
    if bent.sag is not None:
        yield Check.made(
            "sheet-deflection", _SUBJECT, bent.sag, bent.span / SAG_SHARE, unit="m",
            source=_STRIP, required=False, note="in use, of the same strip",
        )  # fmt: skip


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
