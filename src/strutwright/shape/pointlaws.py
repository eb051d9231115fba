"""Where the hubs of a subdivided seed lie on the sphere: the point laws.

``flat``
    Equal parts of the flat seed face, pushed out to the sphere along the radius (for class I also
    known as method 1).
"""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.shape.subdivide import Net
from strutwright.values import Floats, HubPoints

__all__ = ["POINT_LAWS", "flat_points", "spread_points", "unit"]

POINT_LAWS: Final = ("flat",)


def unit(points: Floats) -> Floats:
    """Return `points` (..., 3) pushed along their radius to the unit sphere."""
    return np.asarray(points / np.linalg.norm(points, axis=-1, keepdims=True))


def spread_points(net: Net, law: str) -> HubPoints:
    """Return the (V, 3) positions of the hubs of `net` on the unit sphere under `law`.

    Raises
    ------
    InputError
        ``shape-point-law``: no law has that name.
    """
    laws = {"flat": flat_points}
    if law not in laws:
        raise InputError(
            "shape-point-law",
            f'there is no point law "{law}"',
            "shape.point_law",
            f"take one of {POINT_LAWS}",
        )
    return laws[law](net)


def flat_points(net: Net) -> HubPoints:
    """Return the (V, 3) hubs at equal parts of the flat seed faces, pushed out to the sphere."""
    corners = net.seed.points[net.corners]
    return unit(np.einsum("vk,vkd->vd", net.weights.astype(np.float64), corners))
