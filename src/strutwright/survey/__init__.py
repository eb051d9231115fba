"""The tape on the built shell: shape as built, what is wrong with it, where to pull it."""

from strutwright.survey.built import base_spread, survey_shell
from strutwright.survey.diagnose import Diagnosis, diagnose
from strutwright.survey.elastic import Elastic, make_elastic, settle
from strutwright.survey.observe import Measure, Measured, reduce_readings, taped_offset
from strutwright.survey.plan import PlannedReading, SurveyPlan, plan_survey
from strutwright.survey.settings import CLOSING_FORCE, REFERENCE, Spread, spreads
from strutwright.survey.values import Checked, Correction, NextReading, SurveyResult, Suspect

__all__ = [
    "CLOSING_FORCE",
    "REFERENCE",
    "Checked",
    "Correction",
    "Diagnosis",
    "Elastic",
    "Measure",
    "Measured",
    "NextReading",
    "PlannedReading",
    "Spread",
    "SurveyPlan",
    "SurveyResult",
    "Suspect",
    "base_spread",
    "diagnose",
    "make_elastic",
    "plan_survey",
    "reduce_readings",
    "settle",
    "spreads",
    "survey_shell",
    "taped_offset",
]
