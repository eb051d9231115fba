"""The ways a shell can be parted into strips, as the struts that no strip runs over."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from numpy.typing import NDArray

from strutwright.shape import Shell

__all__ = ["WAYS", "barriers"]

WAYS: Final = ("courses", "slopes", "along", "arches", "ends-and-barrel", "free")
"""Round the shell; up the slopes; along the length; over the arch; ends apart; any."""
LEVEL: Final = 0.25
"""A strut that rises less than this share of its length counts as level."""
ALONG: Final = 0.8
ACROSS: Final = 0.3
"""Share of a strut's length along x from which it runs along, below which over the arch."""


def barriers(shell: Shell) -> Mapping[str, NDArray[np.bool_]]:
    """Return for each way that suits the family the struts (S,) that strips do not run over.

    ``courses``: struts between hubs of one course. ``slopes``: of the struts that rise, those
    that lean one way round the axis, mirrored between sectors, so that strips run up the slope.
    ``along`` and ``arches``: struts along and square to the length. ``ends-and-barrel``: along,
    and nothing runs from an end into the barrel. ``free``: none.
    """
    ends = shell.hubs[shell.struts]
    step = ends[:, 1] - ends[:, 0]
    length = np.linalg.norm(step, axis=1)
    course = shell.course[shell.struts]
    ways = {"courses": course[:, 0] == course[:, 1]}
    lengthwise = np.abs(step[:, 0]) / length
    if shell.recipe.family == "dome":
        ways["slopes"] = _leaning(shell)
    else:
        ways["along"] = lengthwise > ALONG
        ways["arches"] = lengthwise < ACROSS
        if shell.recipe.family == "long-dome":
            half = (np.ptp(shell.hubs[:, 0]) - np.ptp(shell.hubs[shell.base, 1])) / 2
            joint = np.isclose(np.abs(ends[..., 0]), half, atol=0.02 * half + 1e-9).all(axis=1)
            ways["ends-and-barrel"] = ways["along"] | joint
    ways["free"] = np.zeros(len(length), dtype=bool)
    return ways


def _leaning(shell: Shell) -> NDArray[np.bool_]:
    ends = shell.hubs[shell.struts]
    step = ends[:, 1] - ends[:, 0]
    middle = ends.mean(axis=1)
    up = np.sign(step[:, 2])
    round_ = (middle[:, 0] * step[:, 1] - middle[:, 1] * step[:, 0]) * up
    rising = np.abs(step[:, 2]) > LEVEL * np.linalg.norm(step, axis=1)
    top = int(np.argmax(shell.hubs[:, 2]))
    sectors = max(int((shell.struts == top).sum()), 1)
    azimuth = np.mod(np.arctan2(middle[:, 1], middle[:, 0]), 2 * np.pi / sectors)
    first = azimuth < np.pi / sectors
    return np.asarray(rising & np.where(first, round_ > 0, round_ < 0))
