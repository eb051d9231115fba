"""What a survey found, as plain data."""

from __future__ import annotations

from typing import Any

from strutwright.survey import Checked, SurveyResult
from strutwright.values import plain

__all__ = ["survey_data"]


def survey_data(result: SurveyResult) -> dict[str, Any]:
    """Return `result` as the plain data of ``--json``, SI."""
    return {
        "shape": plain(result.shape),
        "suspects": [plain(one) for one in result.suspects],
        "corrections": [plain(one) for one in result.corrections],
        "spread": plain(result.spread),
        "next_reading": plain(result.next_reading),
        "cannot_know": list(result.cannot_know),
        "chance": plain(result.chance),
        "redundancy": plain(result.redundancy),
        "readings": [_reading_data(one) for one in result.checked],
        "ellipses": plain(result.ellipses),
        "notes": [plain(one) for one in result.notes],
    }


def _reading_data(one: Checked) -> dict[str, Any]:
    measure = one.measure
    return {
        "line": measure.reading.line,
        "kind": measure.reading.kind,
        "hubs": list(measure.hubs),
        "measured": plain(measure.value),
        "design": plain(measure.design),
        "sigma": plain(measure.sigma),
        "residual": plain(one.residual),
        "redundancy": plain(one.redundancy),
        "standardised": plain(one.standardised),
        "detectable": plain(one.detectable),
    }
