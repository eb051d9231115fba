"""Wind limits by the state of the kit: all shut, something open, cover off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from strutwright.loads import Combination, LoadCase
from strutwright.structure.first import FirstFailure, first_failure
from strutwright.structure.probe import Probe

__all__ = ["STATES", "StormLimit", "storm_limits", "worst_of_states"]

STATES: Final = ("shut", "open", "bare")
"""Cover on and all shut; cover on and a door or vent open; cover off."""


@dataclass(frozen=True)
class StormLimit:
    """The wind that one state of the kit stands, snow as on the site.

    Parameters
    ----------
    state : str
        One of `STATES`.
    first : FirstFailure
    """

    state: str
    first: FirstFailure


def storm_limits(probe: Probe, combos: Sequence[Combination]) -> tuple[StormLimit, ...]:
    """Return the wind limit of each state that `combos` hold, each from checks made anew."""
    cases = {case.name: case for case in probe.answers.cases}
    of = [{_state(cases[name]) for name, _ in combo.factors} - {""} for combo in combos]
    found = []
    for state in STATES:
        some = [combo for combo, states in zip(combos, of, strict=True) if states <= {state}]
        if not any(state in states for states in of):
            continue
        first = first_failure(probe, some, "wind")
        if first is not None:
            found.append(StormLimit(state, first))
    return tuple(found)


def _state(case: LoadCase) -> str:
    """Return the state that a wind case supposes; empty for other actions."""
    if case.action == "bare wind":
        return "bare"
    if case.action != "wind":
        return ""
    return "shut" if case.state == "shut" else "open"


def worst_of_states(limits: Sequence[StormLimit]) -> FirstFailure | None:
    """Return the first failure of the weakest state; one without a limit counts last."""
    if not limits:
        return None
    return min((one.first for one in limits), key=_factor)


def _factor(first: FirstFailure) -> float:
    return float("inf") if first.factor is None else first.factor
