"""From a shell and its site to load cases and combinations."""

from strutwright.loads import standards
from strutwright.loads.accident import accidents
from strutwright.loads.basis import (
    SiteFactor,
    ZoneRow,
    site_factors,
    snow_zones,
    wind_zones,
)
from strutwright.loads.case import ACTIONS, DURATIONS, Combination, LoadCase, Loads, resultant
from strutwright.loads.cases import load_cases
from strutwright.loads.combine import (
    combinations,
    combined,
    duration_of,
    factor_table,
    one_format,
)
from strutwright.loads.form import Form, form_of
from strutwright.loads.hung import hung_case
from strutwright.loads.site import STANDARDS, Door, LoadSite
from strutwright.loads.weight import GRAVITY, Masses

__all__ = [
    "ACTIONS",
    "DURATIONS",
    "GRAVITY",
    "STANDARDS",
    "Combination",
    "Door",
    "Form",
    "LoadCase",
    "LoadSite",
    "Loads",
    "Masses",
    "SiteFactor",
    "ZoneRow",
    "accidents",
    "combinations",
    "combined",
    "duration_of",
    "factor_table",
    "form_of",
    "hung_case",
    "load_cases",
    "one_format",
    "resultant",
    "site_factors",
    "snow_zones",
    "standards",
    "wind_zones",
]
