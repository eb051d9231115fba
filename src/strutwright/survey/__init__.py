"""The tape on the built shell: shape as built, what is wrong with it, where to pull it."""

from strutwright.survey.built import base_spread, survey_shell
from strutwright.survey.calibrate import Calibration, Sunk, calibrate
from strutwright.survey.diagnose import Diagnosis, diagnose
from strutwright.survey.elastic import Elastic, make_elastic, settle
from strutwright.survey.joints import JointRange, Joints, joint_range, sinks, with_joints
from strutwright.survey.observe import Measure, Measured, reduce_readings, taped_offset
from strutwright.survey.plan import PlannedReading, SurveyPlan, plan_survey
from strutwright.survey.proof import ProofLoad, plan_proof
from strutwright.survey.settings import CLOSING_FORCE, REFERENCE, Spread, spreads
from strutwright.survey.values import Checked, Correction, NextReading, SurveyResult, Suspect

__all__ = [
    "CLOSING_FORCE",
    "REFERENCE",
    "Calibration",
    "Checked",
    "Correction",
    "Diagnosis",
    "Elastic",
    "JointRange",
    "Joints",
    "Measure",
    "Measured",
    "NextReading",
    "PlannedReading",
    "ProofLoad",
    "Spread",
    "Sunk",
    "SurveyPlan",
    "SurveyResult",
    "Suspect",
    "base_spread",
    "calibrate",
    "diagnose",
    "joint_range",
    "make_elastic",
    "plan_proof",
    "plan_survey",
    "reduce_readings",
    "settle",
    "sinks",
    "spreads",
    "survey_shell",
    "taped_offset",
    "with_joints",
]
