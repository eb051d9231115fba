"""What a survey found, as plain data."""

from __future__ import annotations

from typing import Any

from strutwright.design import Recheck, Surveyed
from strutwright.structure import verdict
from strutwright.survey import Calibration, Checked, SurveyResult
from strutwright.values import plain

__all__ = ["surveyed_data"]


def surveyed_data(found: Surveyed) -> dict[str, Any]:
    """Return all that readings said as the plain data of ``--json``, SI.

    Where a proof load was hung, `joints` says how stiff they are and what the checks say then.
    """
    data = _survey_data(found.result)
    if found.joints is not None:
        data["joints"] = _joints_data(found.joints, found.recheck)
    return data


def _survey_data(result: SurveyResult) -> dict[str, Any]:
    """Return `result` as plain data."""
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


def _joints_data(found: Calibration, recheck: Recheck | None) -> dict[str, Any]:
    """Return what a proof load says of the joints, and the checks made again with them."""
    data: dict[str, Any] = {
        "soft": plain(found.soft),
        "best": plain(found.best),
        "stiff": plain(found.stiff),
        "supposed": plain(found.supposed),
        "verdict": found.verdict,
        "chance": plain(found.chance),
        "tells_turning": found.tells_turning,
        "sinks": [
            {
                "line": one.reading.line,
                "hub": one.reading.hubs[0],
                "load": None if one.reading.load is None else plain(one.reading.load[0]),
                "measured": plain(one.value),
                "sigma": plain(one.sigma),
                "fitted": plain(one.fitted),
            }
            for one in found.sunk
        ],
        "notes": [plain(one) for one in found.notes],
    }
    if recheck is not None:
        data["verdict_before"] = verdict(recheck.before)
        data["verdict_after"] = verdict(recheck.after)
        data["checks"] = [
            {"code": code, "before": plain(before), "after": plain(after)}
            for code, before, after in recheck.worst()
        ]
    return data


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
