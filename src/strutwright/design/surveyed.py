"""`survey`: tape readings of the built shell of a brief."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from strutwright.brief import Brief, Known, Readings, parse_readings, read_readings
from strutwright.design.proof import Recheck, proof_of, rechecked
from strutwright.parts import Kit, make_kit
from strutwright.progress import SILENT, Progress, step
from strutwright.shape import make_shell
from strutwright.survey import (
    Calibration,
    ProofLoad,
    SurveyPlan,
    SurveyResult,
    calibrate,
    survey_shell,
)
from strutwright.survey import plan_survey as plan_readings

__all__ = [
    "Surveyed",
    "known_of",
    "plan_proof",
    "plan_survey",
    "reach_of",
    "survey",
    "survey_text",
    "survey_whole",
    "surveyed_kit",
]


@dataclass(frozen=True)
class Surveyed:
    """A built shell as its readings say: its kit, the survey, and its joints where it was loaded.

    Parameters
    ----------
    kit : Kit
    result : SurveyResult
    joints : Calibration or None
        None where no sink was read.
    recheck : Recheck or None
        The design checked again with these joints; None where the brief gives no loads.
    """

    kit: Kit
    result: SurveyResult
    joints: Calibration | None = None
    recheck: Recheck | None = None


def survey_whole(brief: Brief, readings: str | Path, progress: Progress = SILENT) -> Surveyed:
    """Return all that the readings in the file `readings` say of the built shell of `brief`.

    Raises
    ------
    InputError
        As `survey`.
    """
    kit = surveyed_kit(brief, progress)
    return _whole(brief, kit, read_readings(readings, known_of(kit)), progress)


def survey_text(brief: Brief, text: str, progress: Progress = SILENT) -> Surveyed:
    """Return all that the readings in `text`, as typed into a page, say of the built shell.

    Raises
    ------
    InputError
        As `survey`.
    """
    kit = surveyed_kit(brief, progress)
    return _whole(brief, kit, parse_readings(text, "readings", known_of(kit)), progress)


def _whole(brief: Brief, kit: Kit, found: Readings, progress: Progress) -> Surveyed:
    result = _surveyed(brief, kit, found, progress)
    joints = calibrate(kit, found.readings)
    loaded = brief.site.ground_snow is not None and brief.site.basic_wind is not None
    recheck = rechecked(brief, kit, joints, progress) if joints and loaded else None
    return Surveyed(kit, result, joints, recheck)


def survey(brief: Brief, readings: str | Path, progress: Progress = SILENT) -> SurveyResult:
    """Return what the readings in the file `readings` say of the built shell of `brief`.

    Raises
    ------
    InputError
        The brief cannot be built, or the file has problems: all of its problems at once.
    """
    kit = surveyed_kit(brief, progress)
    return _surveyed(brief, kit, read_readings(readings, known_of(kit)), progress)


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


def plan_proof(brief: Brief, progress: Progress = SILENT) -> ProofLoad:
    """Return the load to hang on the built shell of `brief`, and the sink to expect.

    Raises
    ------
    InputError
        ``proof-unjudged``, ``proof-none``.
    """
    return proof_of(brief, surveyed_kit(brief, progress), reach_of(brief), progress)


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
