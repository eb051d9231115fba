"""What a survey cannot know, in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from strutwright.adjust import Adjustment
from strutwright.survey.diagnose import POOR, Diagnosis
from strutwright.survey.observe import Measured
from strutwright.survey.values import Checked
from strutwright.units import show_length
from strutwright.values import Floats

__all__ = ["cannot_know", "open_questions"]

FEW: Final = 3
"""With fewer readings than this nothing can be located: one notices, two only compare."""
VAGUE: Final = 0.030
"""A hub whose 95 % ellipse is longer than this is said to be vague, m. Our choice: the movement
that a swap of two unlike struts makes."""
DECIDED: Final = 0.9
"""A suspect with less than this probability is one among several. Our choice."""
MOST_NAMED: Final = 12


def cannot_know(
    measured: Measured,
    checked: Sequence[Checked],
    ellipses: Floats,
    struts: tuple[Adjustment, Sequence[int]],
    system: str = "metric",
) -> tuple[str, ...]:
    """Return what the readings leave open.

    Parameters
    ----------
    ellipses : (H, 3) array, m m rad
        At 95 %.
    struts : (Adjustment, rows)
        The adjustment, and the row of every strut that is in it.
    system : str
        How lengths are shown.
    """
    said: list[str] = []
    n = len(measured.used)
    if n < FEW:
        said.append(
            f"{n} usable reading(s) are too few to say anything of single struts: an error may be "
            "noticed, but not located. strutwright survey BRIEF --plan says which to take."
        )
    said += _vague(ellipses, system)
    said += _unseen_struts(*struts, system)
    alone = [one for one in checked if one.detectable is None]
    if alone:
        lines = ", ".join(str(one.measure.reading.line) for one in alone[:MOST_NAMED])
        said.append(f"No other measure checks the reading(s) on line(s) {lines}.")
    if measured.aside:
        said.append(f"{len(measured.aside)} reading(s) were put aside and say nothing.")
    if not any(one.kind == "height" for one in measured.used):
        said.append(
            "No height was read: the base is taken to be level to within the tape's standard "
            "deviation."
        )
    return tuple(said)


def open_questions(diagnosis: Diagnosis) -> tuple[str, ...]:
    """Return what the ranking of suspects leaves open."""
    said = []
    if diagnosis.fits < POOR:
        said.append(
            "No single cause that was thought of explains the readings: a misfit this large has a "
            f"chance of {diagnosis.fits:.1g} under the best. More than one thing may be wrong, or "
            "several readings."
        )
    if not diagnosis.alarm:
        said.append(
            "Nothing stands out; two struts that differ by little, or lie where no reading sees "
            "them, may still be swapped."
        )
    elif diagnosis.best.probability < DECIDED:
        said.append(
            f"The best suspect has a probability of {diagnosis.best.probability:.0%}: look before "
            "taking anything apart."
        )
    return tuple(said)


def _vague(ellipses: Floats, system: str) -> list[str]:
    vague = np.flatnonzero(ellipses[:, 0] > VAGUE)
    if not len(vague):
        return []
    worst = float(ellipses[:, 0].max())
    if len(vague) > MOST_NAMED:
        which = f"{len(vague)} of {len(ellipses)} hubs"
    else:
        which = f"hub(s) {', '.join(map(str, vague))}"
    return [
        f"Where {which} stand is known to no better than {show_length(VAGUE, system)}, the worst "
        f"to {show_length(worst, system)} (95 %)."
    ]


def _unseen_struts(adjustment: Adjustment, rows: Sequence[int], system: str) -> list[str]:
    seen = np.asarray(adjustment.detectable)[list(rows)]
    unseen = int((~np.isfinite(seen)).sum())
    if unseen == len(seen):
        return ["No strut's length is checked by any reading."]
    middle = float(np.median(seen))
    if not np.isfinite(middle):
        return [f"The length of {unseen} of {len(seen)} struts is checked by no reading."]
    return [
        f"Of a single unknown strut error the smallest that would be found (80 % power, 0.1 % "
        f"risk) is {show_length(middle, system)} for the middle strut, "
        f"{show_length(float(seen.min()), system)} for the best placed."
    ]
