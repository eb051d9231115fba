"""Where props go: a hub needs three unlike directions of struts or props."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from strutwright.values import Floats, HubPoints

__all__ = ["feet_for", "held_directions"]

UNLIKE: Final = 0.05
"""Singular value of a hub's strut directions below which they count as lying in one plane or
line: about 3 degrees out of it. Our choice; the deflection check judges what lies above."""
RAKE: Final = 0.6
"""Distance of a raking prop's foot from under its hub, as a share of the hub's height."""
LEAST_RAKE: Final = 0.4
"""The same at least, m."""
BEARINGS: Final = (0.0, 0.5, -0.5, 1.0, -1.0, 1.5, -1.5, 2.0)
"""Bearings of the foot from the hub against straight inwards, quarter turns; inside first, so
that nobody outside runs into a prop."""


def held_directions(hub: Floats, others: HubPoints) -> tuple[int, Floats]:
    """Return along how many unlike directions `others` hold `hub`, and the (k, 3) loose ones."""
    if not len(others):
        return 0, np.eye(3)
    along = others - hub
    along = along / np.linalg.norm(along, axis=1, keepdims=True)
    _, sizes, turned = np.linalg.svd(along)
    held = int((sizes > UNLIKE).sum())
    return held, np.asarray(turned[held:])


def feet_for(hub: Floats, loose: Floats, ground: float) -> list[tuple[float, float, float]]:
    """Return the feet of one prop for each loose direction (k, 3) of `hub`.

    Upright or raking from the ground, whichever resists the loose directions best; of equal
    ones the first: upright, then inside the shell.
    """
    height = float(hub[2]) - ground
    out = max(RAKE * height, LEAST_RAKE)
    inward = math.atan2(-float(hub[1]), -float(hub[0])) if np.hypot(*hub[:2]) > 1e-6 else 0.0
    feet = [(float(hub[0]), float(hub[1]), ground)] if height > LEAST_RAKE else []
    for quarter in BEARINGS:
        bearing = inward + quarter * math.pi / 2
        x, y = hub[0] + out * math.cos(bearing), hub[1] + out * math.sin(bearing)
        feet.append((float(x), float(y), ground))
    along = np.asarray(hub) - np.array(feet)
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    chosen = []
    left = np.array(loose)
    for _ in range(len(loose)):
        grip = np.round(np.linalg.norm(along @ left.T, axis=1), 9)
        best = int(np.argmax(grip))
        chosen.append(feet[best])
        taken = left @ along[best]
        basis = np.linalg.svd(taken[None, :])[2][1:]
        left = basis @ left
    return chosen
