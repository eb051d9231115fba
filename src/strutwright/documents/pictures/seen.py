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

__all__ = ["LEAST_JOINED", "LEAST_SEEN", "MOST_TURN", "Scene", "Sights", "choose_cameras", "turned"]

PIXELS: Final = 160
"""Width of the buffer."""
SAMPLES: Final = 24
"""Points drawn along a strut."""
STROKE: Final = 2
"""Width of a strut in the buffer, pixels: about 1 mm on a picture of 110 mm."""
WIDE: Final = PIXELS + STROKE
AZIMUTHS: Final = 12
HEIGHTS: Final = (math.radians(30), math.radians(48), math.radians(62))
LEAST_SEEN: Final = 0.7
"""Share of the new parts that a picture shows. Source: new parts visible (Heiser and others,
2004); the number is our choice."""
EPS: Final = 1e-6
"""m, by which a strut is nearer than a hub that it covers."""
LEAST_JOINED: Final = 0.9
"""Share of the ends of the new parts that a picture shows. Source: mode of attachment visible
(Heiser and others, 2004); the number is our choice."""
TURNS: Final = (0.0, math.radians(15), math.radians(-15), math.radians(30), math.radians(-30))
LOWER: Final = (math.radians(18), *HEIGHTS, math.radians(75))
TRIED: Final = 4
"""Cameras of a stage that are held against each of its steps."""
MOST_TURN: Final = math.radians(30)
"""Between the pictures of two stages: a reader keeps their bearings. Source: keep the view of
consecutive steps within 30 degrees (Agrawala and others, SIGGRAPH 2003, recalled)."""


@dataclass(frozen=True)
class Scene:
    """What stands and what is new: indices of struts."""

    standing: Indices
    fresh: Indices


class _Sight:
    """A shell from one camera: the points along its struts, farthest first, in pixels."""

    def __init__(self, shell: Shell, camera: Camera) -> None:
        points = project(camera, shell.hubs)
        low = points[:, :2].min(axis=0)
        size = float(np.ptp(points[:, :2], axis=0).max())
        at = np.linspace(0.04, 0.96, SAMPLES)[None, :, None]
        a, b = points[shell.struts[:, 0], None], points[shell.struts[:, 1], None]
        dots = (a + (b - a) * at).reshape(-1, 3)
        order = np.argsort(dots[:, 2], kind="stable")
        pixel = np.floor((dots[order, :2] - low) / size * (PIXELS - STROKE)).astype(np.int64)
        self.owner = order // SAMPLES
        self.pixel = pixel[:, 0] * WIDE + pixel[:, 1]
        self.depth = dots[order, 2]
        self.struts = shell.struts
        self.hubs = np.floor((points[:, :2] - low) / size * (PIXELS - STROKE)).astype(np.int64)
        self.hub_depth = points[:, 2]

    def share(self, scene: Scene) -> float:
        """Return which share of the pixels of the new struts no nearer strut covers."""
        if not len(scene.fresh):
            return 1.0
        kind = np.zeros(int(self.owner.max()) + 1, dtype=np.int8)
        kind[scene.standing], kind[scene.fresh] = 1, 2
        dots = kind[self.owner]
        drawn = dots > 0
        pixel, dots = self.pixel[drawn], dots[drawn]
        buffer = np.zeros(WIDE * WIDE, dtype=np.int8)
        for right in range(STROKE):
            for up in range(STROKE):
                buffer[pixel + right * WIDE + up] = dots
        return float((buffer[pixel[dots == 2]] == 2).mean())

    def joints(self, scene: Scene) -> float:
        """Return which share of the ends of the new struts no nearer strut of others covers."""
        if not len(scene.fresh):
            return 1.0
        drawn = np.zeros(len(self.struts), dtype=bool)
        drawn[scene.standing] = drawn[scene.fresh] = True
        dots = drawn[self.owner]
        owner, pixel, depth = self.owner[dots], self.pixel[dots], self.depth[dots]
        clear = {}
        for hub in np.unique(self.struts[scene.fresh]).tolist():
            across, up = divmod(pixel, WIDE)
            off = self.hubs[hub] - np.stack([across, up], axis=1)
            over = ((off >= 0) & (off < STROKE)).all(axis=1) & (depth > self.hub_depth[hub] + EPS)
            clear[hub] = bool((self.struts[owner[over]] == hub).any(axis=1).all())
        return float(np.mean([clear[hub] for hub in self.struts[scene.fresh].ravel().tolist()]))


class Sights:
    """A shell from any camera; what one camera sees is worked out once."""

    def __init__(self, shell: Shell) -> None:
        self._shell = shell
        self._seen: dict[Camera, _Sight] = {}

    def _at(self, camera: Camera) -> _Sight:
        if camera not in self._seen:
            self._seen[camera] = _Sight(self._shell, camera)
        return self._seen[camera]

    def share(self, camera: Camera, scene: Scene) -> float:
        """Return which share of the pixels of the new struts no nearer strut covers."""
        return self._at(camera).share(scene)

    def joints(self, camera: Camera, scene: Scene) -> float:
        """Return which share of the ends of the new struts no nearer strut of others covers."""
        return self._at(camera).joints(scene)

    def coarse(self, camera: Camera, scene: Scene) -> float:
        """Return the share seen, so coarse that chance does not choose."""
        return round(self.share(camera, scene), 2)


def choose_cameras(sights: Sights, stages: Sequence[Sequence[Scene]], front: float) -> list[Camera]:
    """Return a camera for each stage: new parts seen best, turned little from stage to stage.

    The best by what the whole stage adds are held against each of its steps; the one whose
    worst step is seen best is taken, and of equal ones the one nearest to the door.

    Parameters
    ----------
    stages : sequence of sequence of Scene
        The steps of each stage.
    front : float, rad
        Azimuth from which the door is seen.
    """
    azimuths = [front + math.pi / 5 + 2 * math.pi * k / AZIMUTHS for k in range(AZIMUTHS)]
    cameras = [Camera("stage", a, h) for h in HEIGHTS for a in azimuths]
    chosen: list[Camera] = []
    for steps in stages:
        near = cameras
        if chosen:
            near = [c for c in cameras if _turn(c, chosen[-1]) <= MOST_TURN + 1e-9]
        fresh = np.concatenate([scene.fresh for scene in steps])
        whole = Scene(steps[0].standing, fresh)
        first = sorted(near, key=lambda c: (-sights.coarse(c, whole), _away(c, front)))[:TRIED]
        worst = [min(sights.coarse(c, scene) for scene in steps) for c in first]
        chosen.append(first[max(range(len(first)), key=lambda k: (worst[k], -k))])
    return chosen


def turned(sights: Sights, camera: Camera, scene: Scene) -> Camera:
    """Return the `camera` of a stage, turned a little where it shows too little of a step.

    Of the cameras within 30 degrees the first that shows enough of the new parts and of their
    ends, the nearest first; else the one that comes nearest to it.
    """
    near = [Camera("step", camera.azimuth + turn, high) for turn in TURNS for high in LOWER]
    near.sort(key=lambda c: _turn(c, camera) + abs(c.height - camera.height))
    best, most = camera, -1.0
    for one in (camera, *near):
        parts = sights.coarse(one, scene) / LEAST_SEEN
        shown = (
            min(parts, round(sights.joints(one, scene), 2) / LEAST_JOINED)
            if parts > most
            else parts
        )
        if shown >= 1.0:
            return one
        if shown > most:
            best, most = one, shown
    return best


def _away(camera: Camera, front: float) -> float:
    away = abs(math.remainder(camera.azimuth - front, 2 * math.pi))
    return round(away + camera.height / 10, 6)


def _turn(one: Camera, two: Camera) -> float:
    return abs(math.remainder(one.azimuth - two.azimuth, 2 * math.pi))
