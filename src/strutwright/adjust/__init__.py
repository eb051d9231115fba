"""Least squares of observations: network adjustment, blunders, ellipses, plane fit.

It knows nothing of shells. Start with `Network`, `Observation` and `adjust`; `docs/adjust.md` is
a worked example.
"""

from strutwright.adjust.network import Network, Observation, observed, residual_jacobian
from strutwright.adjust.plane import Plane, detectable_height, fit_plane, readings_needed
from strutwright.adjust.solve import (
    CRITICAL,
    DETECTABLE,
    Adjustment,
    adjust,
    ellipse,
    snoop,
    suspects,
)

__all__ = [
    "CRITICAL",
    "DETECTABLE",
    "Adjustment",
    "Network",
    "Observation",
    "Plane",
    "adjust",
    "detectable_height",
    "ellipse",
    "fit_plane",
    "observed",
    "readings_needed",
    "residual_jacobian",
    "snoop",
    "suspects",
]
