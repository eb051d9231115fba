"""What hangs from the frame or leans against it: crops, hung loads, a ladder."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.bounds import within
from strutwright.catalogue import Source
from strutwright.loads.case import LoadCase
from strutwright.loads.cover import onto_struts
from strutwright.loads.form import Form
from strutwright.loads.standards import ngma
from strutwright.shape import Shell
from strutwright.shape.surface import is_round
from strutwright.values import Indices

__all__ = ["LADDER", "crop_case", "erection_case", "hung_case", "hung_hubs"]

LADDER: Final = 200.0
"""Push of a ladder with a person on it, N: 1 kN at three quarters of a ladder at 75 degrees."""


def hung_hubs(shell: Shell) -> Indices:
    """Return the hubs that a hung load is tried at: the crown, then one of each course above 0.

    The search for the hung capacity tries every hub; these stand in the combinations.
    """
    crown = int(np.lexsort((np.arange(len(shell.hubs)), -shell.hubs[:, 2]))[0])
    chosen = [crown]
    for course in range(int(shell.course.max()), 0, -1):
        hubs = np.flatnonzero(shell.course == course)
        if hubs.size and crown not in hubs:
            chosen.append(int(hubs[0]))
    return np.array(chosen)


def hung_case(shell: Shell, hub: int, force: float) -> LoadCase:
    """Return a load of `force` N hung at `hub`."""
    within("hung load", force, 0, 50e3, "N")
    hubs = np.zeros((len(shell.hubs), 3))
    hubs[hub, 2] = -force
    source = ngma.SOURCES["CONCENTRATED"]
    lines = np.zeros((len(shell.struts), 3))
    return LoadCase(f"hung at hub {hub}", "hung", hubs, lines, "long", source)


def crop_case(shell: Shell, form: Form, pressure: float) -> LoadCase:
    """Return a crop or equipment of `pressure` Pa of floor, hung evenly under the shell."""
    within("crop load", pressure, 0, 5e3, "Pa")
    forces = np.zeros((len(shell.faces), 3))
    forces[:, 2] = -pressure * form.areas * np.maximum(form.normals[:, 2], 0)
    hubs, lines = onto_struts(shell, forces)
    return LoadCase("crop", "crop", hubs, lines, "long", ngma.SOURCES["CROP"])


def erection_case(shell: Shell) -> LoadCase:
    """Return the push of a ladder, inward and level, at a hub of the middle course."""
    middle = (int(shell.course.max()) + 1) // 2
    hub = int(np.flatnonzero(shell.course == middle)[0])
    away = shell.hubs[hub, :2]
    if not is_round(shell):
        away = np.array([0.0, away[1]])
    reach = float(np.hypot(*away))
    inward = -away / reach if reach > 1e-9 else np.array([1.0, 0.0])
    hubs = np.zeros((len(shell.hubs), 3))
    hubs[hub, :2] = LADDER * inward
    source = Source("ladder leant against the frame, statics", None, "", "judgement")
    lines = np.zeros((len(shell.struts), 3))
    return LoadCase(f"ladder at hub {hub}", "erection", hubs, lines, "gust", source)
