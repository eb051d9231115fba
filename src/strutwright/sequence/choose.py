"""Which way to build: what height, weight and crew allow, and the nearest way where none does."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from strutwright.brief import Crew
from strutwright.parts import Kit
from strutwright.sentences import note, sentence
from strutwright.sequence.effort import HOLD_HEIGHT, lift_limit
from strutwright.sequence.values import Way
from strutwright.shape.riser import feet_of
from strutwright.values import Note

__all__ = ["Choice", "Needs", "choose_way", "needs_of"]

LONG: Final = 1.5
"""Length over width from which a shell goes up in halves by itself. Our choice."""
HALVES_PEOPLE: Final = 3
PLATFORM_STEP: Final = 0.1
"""m; platforms are asked for in such steps."""
MARGIN: Final = 1e-6


@dataclass(frozen=True)
class Needs:
    """What a way asks for: height to work at, m; mass to lift at once, kg; least people."""

    way: Way
    height: float
    mass: float
    people: int


@dataclass(frozen=True)
class Choice:
    """The way, the crew and platform that it counts on, and what was asked of it.

    Parameters
    ----------
    way : str
    people : int
    platform : float, m
    asked : Needs
        What the way takes that the crew asks for; for ``auto`` the plainest that it can build,
        or the plainest of all.
    refused : str
        Why the crew cannot build so; empty where it can.
    notes : tuple of Note
    """

    way: Way
    people: int
    platform: float
    asked: Needs
    refused: str
    notes: tuple[Note, ...]

    @property
    def as_asked(self) -> bool:
        """Return whether the shell is built as the crew asks."""
        return not self.refused


def needs_of(kit: Kit) -> dict[str, Needs]:
    """Return what each way asks for, by its name.

    In place and in halves every hub is worked at where it stays. Flat courses are raised by
    their own mass and worked at their lower hubs. Crown first lifts all but the last course and
    is worked at the height of one course.
    """
    shell = kit.shell
    floor = float(shell.hubs[feet_of(shell), 2].min())
    rows = [c for c in np.unique(shell.course).tolist() if c >= 0]
    tops = {c: float(shell.hubs[shell.course == c, 2].max()) - floor for c in rows}
    lows = {c: float(shell.hubs[shell.course == c, 2].min()) - floor for c in rows}
    per_strut = kit.mass / len(shell.struts)
    of_strut = shell.course[shell.struts].max(axis=1)
    masses = {c: per_strut * int((of_strut == c).sum()) for c in rows}
    top = max(tops.values())
    two = 2 if top > HOLD_HEIGHT else 1
    below = max((tops[a] for a, _ in pairwise(rows)), default=top)
    raised = max((masses[c] for c in rows[1:]), default=kit.mass)
    steps = max((tops[b] - lows[a] for a, b in pairwise(rows)), default=top)
    lifted = kit.mass - masses.get(1, 0.0) - masses[rows[0]]
    return {
        "in-place": Needs("in-place", top, 0.0, two),
        "halves": Needs("halves", top, 0.0, two),
        "flat-courses": Needs("flat-courses", below, raised, _team(raised)),
        "crown-first": Needs("crown-first", steps, lifted, _team(lifted)),
    }


def _team(mass: float) -> int:
    """Return the people who lift `mass` together, four as two teams of two, and so on."""
    if mass <= lift_limit(2):
        return 2
    return max(3, math.ceil(mass / lift_limit(2)) * 2)


def choose_way(kit: Kit, crew: Crew) -> Choice:
    """Return the way that `crew` asks for or, for ``auto``, the plainest that it can build.

    Where the crew cannot build as asked, the nearest way that works: the plainest one, with the
    people and the platform that it takes, and a note that says why.
    """
    needs = needs_of(kit)
    asked = [crew.way] if crew.way != "auto" else _preferred(kit, crew)
    for way in asked:
        if not _lacks(needs[way], crew):
            return Choice(needs[way].way, crew.people, crew.platform, needs[way], "", ())
    wished = needs[asked[0]]
    reason = _lacks(wished, crew)
    others = [way for way in _preferred(kit, crew) if not _lacks(needs[way], crew)]
    if others:
        said = note(
            "sequence-not-as-asked.other",
            way=f"way.{asked[0]}",
            why=reason,
            other=f"way.{others[0]}",
        )
        return Choice(
            needs[others[0]].way, crew.people, crew.platform, wished, reason,
            (said,),
        )  # fmt: skip
    near = needs[asked[0] if crew.way != "auto" else min(needs, key=lambda w: _far(needs[w], crew))]
    people = max(crew.people, near.people)
    platform = crew.platform
    if near.height > crew.reach + platform + MARGIN:
        platform = PLATFORM_STEP * math.ceil((near.height - crew.reach) / PLATFORM_STEP - MARGIN)
    values = {"why": _lacks(near, crew), "way": f"way.{near.way}", "people": people}
    said = (
        note("sequence-not-as-asked.near", **values, platform=platform)
        if platform
        else note("sequence-not-as-asked.ground", **values)
    )
    return Choice(near.way, people, platform, wished, reason, (said,))


def _preferred(kit: Kit, crew: Crew) -> list[str]:
    """Return the ways from the plainest on."""
    plan = np.ptp(kit.shell.hubs[:, :2], axis=0)
    is_long = plan.max() > LONG * plan.min() and crew.people >= HALVES_PEOPLE
    first = ["halves"] if is_long else []
    return [*first, "in-place", "flat-courses", "crown-first"]


def _lacks(needs: Needs, crew: Crew) -> str:
    """Return in words what `crew` lacks for a way; empty when nothing."""
    words = []
    if needs.height > crew.reach + crew.platform + MARGIN:
        reach = crew.reach + crew.platform
        words.append(sentence("crew-lacks.reach", height=needs.height, reach=reach))
    said = {"needed": needs.people, "people": crew.people}
    if needs.mass and needs.people > crew.people:
        words.append(sentence("crew-lacks.lift", mass=needs.mass, **said))
    elif needs.people > crew.people:
        words.append(sentence("crew-lacks.hold", height=HOLD_HEIGHT, **said))
    return sentence("joined", all=tuple(words)) if words else ""


def _far(needs: Needs, crew: Crew) -> tuple[float, float]:
    """Return how far a crew is from a way: people to call in, then metres of platform."""
    metres = max(0.0, needs.height - crew.reach - crew.platform)
    return (max(0, needs.people - crew.people) + metres / 0.5, metres)
