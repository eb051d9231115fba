"""From a brief to a Design; only glue, no formulae."""

from strutwright.design.design import Design
from strutwright.design.fixings import fixings_of
from strutwright.design.limits import limit_sentences
from strutwright.design.mend import mended
from strutwright.design.number import kit_number
from strutwright.design.pool import PooledPlan, pool_cuts
from strutwright.design.proof import Recheck
from strutwright.design.run import run
from strutwright.design.surveyed import (
    Surveyed,
    plan_proof,
    plan_survey,
    survey,
    survey_text,
    survey_whole,
    surveyed_kit,
)
from strutwright.design.verdict import building_sentence, verdict_sentence

__all__ = [
    "Design",
    "PooledPlan",
    "Recheck",
    "Surveyed",
    "building_sentence",
    "fixings_of",
    "kit_number",
    "limit_sentences",
    "mended",
    "plan_proof",
    "plan_survey",
    "pool_cuts",
    "run",
    "survey",
    "survey_text",
    "survey_whole",
    "surveyed_kit",
    "verdict_sentence",
]
