"""What a step asks of people: how many, how high, how heavy, how long."""

from __future__ import annotations

import math
from typing import Final

from strutwright.parts import Kit

__all__ = [
    "END_MINUTES",
    "HOLD_HEIGHT",
    "OTHER_END",
    "PART_MINUTES",
    "PROP_MINUTES",
    "lift_limit",
    "minutes_of",
    "people_for",
]

ONE_PERSON: Final = 25.0
"""kg that one person lifts. Source: HSE lifting and lowering guideline figure, recalled."""
TEAM: Final = {1: 1.0, 2: 2.0 / 3.0, 3: 0.5, 4: 0.5}
"""Share of the sum of single limits that a team lifts; no team above four.
Source: Network Rail, 'Lifting and handling in teams', citing the HSE rule."""
HOLD_HEIGHT: Final = 1.2
"""m; higher than this one person cannot hold a hub and fasten it too. Our choice."""
PART_MINUTES: Final = 0.1
"""To bring a part that lies sorted at hand, person-minutes. Common practice, no source."""
END_MINUTES: Final = {"socket": 0.25, "flattened": 0.4, "plate": 0.8}
"""To fasten one strut end, person-minutes, by kind of connector. Common practice, no source."""
OTHER_END: Final = 0.5
"""The same for other kinds."""
PROP_MINUTES: Final = 2.0
"""To place a prop, person-minutes; half of it to take it away. Common practice, no source."""


def lift_limit(people: int) -> float:
    """Return the mass, kg, that `people` may lift together (at most four lift as a team)."""
    team = min(people, 4)
    return ONE_PERSON * team * TEAM[team]


def people_for(mass: float, height: float) -> int:
    """Return how many people lift `mass`, kg, to `height`, m; 5 where no team may."""
    least = 2 if height > HOLD_HEIGHT else 1
    return next((n for n in range(least, 5) if lift_limit(n) >= mass), 5)


def minutes_of(kit: Kit, struts: int, hubs: int, props: float, people: int) -> float:
    """Return the time of a step for a crew of `people`, minutes; estimated, not measured.

    More people than parts, or than four round one spot, do not make it faster.
    """
    each = END_MINUTES.get(kit.connector.kind, OTHER_END)
    work = PART_MINUTES * (struts + hubs) + 2 * each * struts + PROP_MINUTES * props
    return work / max(1, min(people, 4, struts + hubs + math.ceil(props)))
