"""The tape on the built shell: shape as built, what is wrong with it, where to pull it."""

from strutwright.survey.built import base_spread, survey_shell
from strutwright.survey.observe import Measure, Measured, reduce_readings, taped_offset
from strutwright.survey.settings import CLOSING_FORCE, REFERENCE, Spread, spreads
from strutwright.survey.values import Checked, Correction, NextReading, SurveyResult, Suspect

__all__ = [
    "CLOSING_FORCE",
    "REFERENCE",
    "Checked",
    "Correction",
    "Measure",
    "Measured",
    "NextReading",
    "Spread",
    "SurveyResult",
    "Suspect",
    "base_spread",
    "reduce_readings",
    "spreads",
    "survey_shell",
    "taped_offset",
]
