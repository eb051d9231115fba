"""Values: a load case, a combination, and the set of loads with what could not be worked out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from strutwright.catalogue import Source
from strutwright.errors import InputError
from strutwright.shape import Shell
from strutwright.values import ArrayValue, Floats, Note

__all__ = [
    "ACTIONS",
    "DURATIONS",
    "Combination",
    "Format",
    "LoadCase",
    "Loads",
    "resultant",
]

DURATIONS: Final = ("permanent", "long", "season", "week", "gust")
"""From the longest to the shortest: always, years, weeks to months, days, seconds."""
ACTIONS: Final = (
    "dead", "cover", "crop", "hung", "snow", "wind", "bare wind", "erection",
)  # fmt: skip
"""Kinds of action. ``dead`` is the frame, ``cover`` the weight of what it carries."""

Format = Literal["factored", "allowable", "-"]


@dataclass(frozen=True, eq=False)
class LoadCase(ArrayValue):
    """Forces of one action on the frame; forces act on the structure, z up.

    Parameters
    ----------
    name : str
        Unique among the cases of a shell.
    action : str
        One of `ACTIONS`.
    hub_forces : (H, 3) array, N
    line_loads : (S, 3) array, N/m
        Uniform along the node length of each strut, in global axes: they bend the struts.
    duration : str
        One of `DURATIONS`.
    source : Source
        Rule that the loads come from.
    direction : float or None, rad
        Towards which wind blows or snow drifts, anticlockwise from +x.
    inside : float or None
        Internal pressure coefficient of a wind case; below 0 the inside sucks the cover in.
    state : str
        ``shut``, or the name of the door that stands open.
    """

    name: str
    action: str
    hub_forces: Floats
    line_loads: Floats
    duration: str
    source: Source
    direction: float | None = None
    inside: float | None = None
    state: str = "shut"

    def __post_init__(self) -> None:
        """Check kind, duration and arrays."""
        super().__post_init__()
        if self.action not in ACTIONS or self.duration not in DURATIONS:
            msg = f"{self.name}: action {self.action!r} or duration {self.duration!r} unknown"
            raise ValueError(msg)
        for array in (self.hub_forces, self.line_loads):
            if array.ndim != 2 or array.shape[1] != 3 or not np.isfinite(array).all():
                msg = f"{self.name}: forces are not finite (n, 3)"
                raise ValueError(msg)


@dataclass(frozen=True)
class Combination:
    """A sum of load cases, each with its factor.

    Parameters
    ----------
    name : str
    format : str
        ``factored``, ``allowable``, or ``-`` for serviceability. Factored actions are never
        held against allowable stresses.
    limit_state : str
        ``STR``, ``EQU``, ``UPL``, ``SLS``, ``LRFD`` or ``ASD``.
    factors : tuple of (str, float)
        Name of a case and its factor.
    source : Source
        Clause of the standard.
    """

    name: str
    format: Format
    limit_state: str
    factors: tuple[tuple[str, float], ...]
    source: Source

    def __post_init__(self) -> None:
        """Refuse an empty combination and a case that stands twice."""
        names = [name for name, _ in self.factors]
        if not names or len(set(names)) != len(names):
            msg = f"{self.name}: no case, or one stands twice"
            raise ValueError(msg)


@dataclass(frozen=True)
class Loads:
    """All load cases of a shell on its site.

    Parameters
    ----------
    cases : tuple of LoadCase
    notes : tuple of Note
        What was assumed, and which numbers are from memory.
    not_checked : tuple of Note
        What could not be worked out: each has to appear as a required check that was not made.
    """

    cases: tuple[LoadCase, ...]
    notes: tuple[Note, ...] = ()
    not_checked: tuple[Note, ...] = ()

    def __post_init__(self) -> None:
        """Refuse two cases of one name."""
        names = [case.name for case in self.cases]
        if len(set(names)) != len(names):
            msg = "two load cases have one name"
            raise ValueError(msg)

    def __add__(self, other: Loads) -> Loads:
        """Return both sets together, each note once."""
        notes = tuple(dict.fromkeys(self.notes + other.notes))
        missing = tuple(dict.fromkeys(self.not_checked + other.not_checked))
        return Loads(self.cases + other.cases, notes, missing)

    def case(self, name: str) -> LoadCase:
        """Return the case called `name`."""
        for case in self.cases:
            if case.name == name:
                return case
        raise InputError("case-unknown", f"load case {name!r}", "", "see the list of cases")


def resultant(shell: Shell, case: LoadCase) -> tuple[Floats, Floats]:
    """Return the sum of all forces (3,), N, and their moment about the origin (3,), Nm."""
    ends = shell.hubs[shell.struts]
    lengths = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    on_struts = case.line_loads * lengths[:, None]
    force = case.hub_forces.sum(axis=0) + on_struts.sum(axis=0)
    moment = np.cross(shell.hubs, case.hub_forces).sum(axis=0)
    moment = moment + np.cross(ends.mean(axis=1), on_struts).sum(axis=0)
    return np.asarray(force), np.asarray(moment)
