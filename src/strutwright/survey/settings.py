"""How well things are measured, sawn and held: the standard deviations of a survey."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.brief import Survey

__all__ = ["CLOSING_FORCE", "REFERENCE", "Spread", "spreads"]

REFERENCE: Final = 20.0
"""Frame temperature at which struts have their sawn length, C. Our choice: a workshop's."""
CLOSING_FORCE: Final = 300.0
"""A person closes a joint with this force, N, without a tool. Our choice."""
HUB_ANGLE: Final = 0.3
"""How far a spoke may leave the dip that its hub was made with, rad; our choice, some 17 degrees:
so much weaker than the struts that it decides only what nothing else holds, as beside a door."""


@dataclass(frozen=True)
class Spread:
    """Standard deviations of what a built shell is adjusted with.

    Parameters
    ----------
    strut : float, m
        Distance between two hubs: sawing, and the play of both ends.
    tape : float, m
        One tape reading.
    level : float, m
        Height of one base hub against the mean of all.
    cut : float, m
        A cut length measured in place, and the play of both ends.
    angle : float, rad
        Dip of a spoke at its hub.
    """

    strut: float
    tape: float
    level: float
    cut: float
    angle: float = HUB_ANGLE


def spreads(survey: Survey) -> Spread:
    """Return the standard deviations that the brief's `survey` section asks for.

    The base is levelled as well as the tape reads.
    """
    play = np.sqrt(2.0) * survey.play
    return Spread(
        strut=float(np.hypot(survey.cut, play)),
        tape=survey.tape,
        level=survey.tape,
        cut=float(np.hypot(survey.tape, play)),
    )
