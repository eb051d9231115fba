"""`survey`: tape readings of the built shell of a brief."""

from __future__ import annotations

from pathlib import Path

from strutwright.brief import Brief, Known, Readings, parse_readings, read_readings
from strutwright.parts import Kit, make_kit
from strutwright.progress import SILENT, Progress, step
from strutwright.shape import make_shell
from strutwright.survey import SurveyPlan, SurveyResult, survey_shell
from strutwright.survey import plan_survey as plan_readings

__all__ = ["known_of", "plan_survey", "reach_of", "survey", "survey_text", "surveyed_kit"]


def survey(brief: Brief, readings: str | Path, progress: Progress = SILENT) -> SurveyResult:
    """Return what the readings in the file `readings` say of the built shell of `brief`.

    Raises
    ------
    InputError
        The brief cannot be built, or the file has problems: all of its problems at once.
    """
    kit = surveyed_kit(brief, progress)
    return _surveyed(brief, kit, read_readings(readings, known_of(kit)), progress)


def survey_text(brief: Brief, text: str, progress: Progress = SILENT) -> SurveyResult:
    """Return what the readings in `text`, as typed into a page, say of the built shell.

    Raises
    ------
    InputError
        As `survey`.
    """
    kit = surveyed_kit(brief, progress)
    return _surveyed(brief, kit, parse_readings(text, "readings", known_of(kit)), progress)


def _surveyed(brief: Brief, kit: Kit, readings: Readings, progress: Progress) -> SurveyResult:
    step(progress, "survey", 0.3)
    return survey_shell(
        kit,
        readings,
        brief.survey,
        reach=reach_of(brief),
        system=brief.project.show,
    )


def plan_survey(brief: Brief, progress: Progress = SILENT) -> SurveyPlan:
    """Return the readings to take on the built shell of `brief`, fewest first."""
    kit = surveyed_kit(brief, progress)
    step(progress, "plan of readings", 0.3)
    return plan_readings(kit, brief.survey, reach_of(brief))


def surveyed_kit(brief: Brief, progress: Progress = SILENT) -> Kit:
    """Return the kit that a survey of `brief` is held against."""
    step(progress, "shape", 0.0)
    return make_kit(make_shell(brief, progress), brief, progress)


def reach_of(brief: Brief) -> float:
    """Return how high a reading may go, m: what the crew reaches from the ground or platform."""
    return brief.crew.reach + brief.crew.platform


def known_of(kit: Kit) -> Known:
    """Return what readings of `kit` may speak of."""
    shell = kit.shell
    struts = frozenset((int(i), int(j)) for i, j in shell.struts)
    return Known(len(shell.hubs), frozenset(int(hub) for hub in shell.base), struts)
