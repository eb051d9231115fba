"""Where the spokes of a hub type point."""

from __future__ import annotations

import numpy as np

from strutwright.parts import HubType
from strutwright.values import HubPoints

__all__ = ["directions"]


def directions(kind: HubType) -> HubPoints:
    """Return the (V, 3) unit directions of the spokes, z outwards, x along the first in plan.

    The dip is below the tangent plane.
    """
    azimuth, dip = kind.spokes.T
    level = np.cos(dip)
    return np.stack([level * np.cos(azimuth), level * np.sin(azimuth), -np.sin(dip)], axis=1)
