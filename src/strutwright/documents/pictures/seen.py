"""Which camera shows the new parts of a stage best, counted in an identity buffer."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.drawing import Camera, project
from strutwright.shape import Shell
from strutwright.values import Indices

__all__ = ["Scene", "choose_cameras", "share_seen"]

PIXELS: Final = 220
"""Width of the buffer."""
SAMPLES: Final = 48
"""Points drawn along a strut."""
STROKE: Final = 2
"""Width of a strut in the buffer, pixels: about 1 mm on a picture of 110 mm."""
AZIMUTHS: Final = 24
HEIGHTS: Final = (math.radians(30), math.radians(48))
MOST_TURN: Final = math.radians(30)
"""Between the pictures of two stages: a reader keeps their bearings. Source: keep the view of
consecutive steps within 30 degrees (Agrawala and others, SIGGRAPH 2003, recalled)."""


@dataclass(frozen=True)
class Scene:
    """What stands and what is new: indices of struts."""

    standing: Indices
    fresh: Indices


def share_seen(shell: Shell, camera: Camera, scene: Scene) -> float:
    """Return which share of the pixels of the new struts is not covered by a nearer strut."""
    if not len(scene.fresh):
        return 1.0
    drawn = np.concatenate([scene.standing, scene.fresh])
    points = project(camera, shell.hubs)
    low = points[:, :2].min(axis=0)
    size = float(np.ptp(points[:, :2], axis=0).max())
    at = np.linspace(0.04, 0.96, SAMPLES)[None, :, None]
    a, b = points[shell.struts[drawn, 0], None], points[shell.struts[drawn, 1], None]
    dots = (a + (b - a) * at).reshape(-1, 3)
    owner = np.repeat(np.arange(len(drawn)), SAMPLES)
    pixel = np.floor((dots[:, :2] - low) / size * (PIXELS - STROKE)).astype(np.int64)
    order = np.argsort(dots[:, 2], kind="stable")
    buffer = np.full((PIXELS + STROKE, PIXELS + STROKE), -1)
    for right in range(STROKE):
        for up in range(STROKE):
            buffer[pixel[order, 0] + right, pixel[order, 1] + up] = owner[order]
    new = owner >= len(scene.standing)
    found = buffer[pixel[new, 0], pixel[new, 1]]
    return float((found >= len(scene.standing)).mean())


def choose_cameras(shell: Shell, scenes: Sequence[Scene], front: float) -> list[Camera]:
    """Return a camera for each stage: new parts seen best, turned little from stage to stage.

    Parameters
    ----------
    front : float, rad
        Azimuth from which the door is seen; of equal views the one nearest to it is taken.
    """
    azimuths = [front + math.pi / 5 + 2 * math.pi * k / AZIMUTHS for k in range(AZIMUTHS)]
    chosen: list[Camera] = []
    cameras = [Camera("stage", a, h) for h in HEIGHTS for a in azimuths]
    for scene in scenes:
        if chosen:
            near = [c for c in cameras if _turn(c, chosen[-1]) <= MOST_TURN + 1e-9]
        else:
            near = cameras
        scores = [(round(share_seen(shell, c, scene), 2), -_turned(c, front)) for c in near]
        chosen.append(near[max(range(len(near)), key=lambda k: scores[k])])
    return chosen


def _turned(camera: Camera, front: float) -> float:
    away = abs(math.remainder(camera.azimuth - front, 2 * math.pi))
    return round(away + camera.height / 10, 6)


def _turn(one: Camera, two: Camera) -> float:
    return abs(math.remainder(one.azimuth - two.azimuth, 2 * math.pi))
