"""What the loading rules ask of a shell: slopes, span, rise, and the spine of its section."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from strutwright.shape import Shell
from strutwright.shape.surface import is_round
from strutwright.values import ArrayValue, Floats

__all__ = ["Form", "form_of"]

ROUND: Final = 1.05
"""A base at most this much longer than wide is a dome's (our choice)."""
UPRIGHT: Final = 0.02
"""A face whose normal rises less than this is a wall (1 degree): finer arcs have steeper faces."""


SPLIT: Final = 8
"""Parts of each side of a face when what varies over it is averaged."""


def _weights(n: int) -> Floats:
    """Return the (n^2, 3) barycentric centres of a triangle cut into n^2 equal ones."""
    i, j = np.meshgrid(np.arange(n), np.arange(n), indexing="ij")
    up, down = i + j < n, i + j < n - 1
    a = np.concatenate([i[up] + 1 / 3, i[down] + 2 / 3]) / n
    b = np.concatenate([j[up] + 1 / 3, j[down] + 2 / 3]) / n
    return np.stack([1 - a - b, a, b], axis=1)


_WEIGHTS: Final = _weights(SPLIT)


@dataclass(frozen=True, eq=False)
class Form(ArrayValue):
    """A shell as the loading rules see it.

    Parameters
    ----------
    normals : (F, 3) array
        Outward unit normals of the faces.
    areas : (F,) array, m2
    corners : (F, 3, 3) array, m
    kind : str
        ``dome``, ``long-dome`` or ``vault``.
    span, rise, length : float, m
        Across y (of a dome: diameter through the base hubs); of the curved part; along x.
    spring : float, m
        Height above ground at which the curve springs: riser and upright walls.
    spine : float, m
        Half the length of the line on the x axis round which the section turns: 0 for a dome,
        half the length for a vault.
    base : float, m
        Height of the base ring above ground.
    """

    normals: Floats
    areas: Floats
    corners: Floats
    kind: str
    span: float
    rise: float
    length: float
    spring: float
    spine: float
    base: float

    @property
    def top(self) -> float:
        """Height of the crown above ground, m."""
        return self.spring + self.rise

    @property
    def centres(self) -> Floats:
        """Centre of each face, (F, 3), m."""
        return np.asarray(self.corners.mean(axis=1))

    @property
    def samples(self) -> Floats:
        """Points spread evenly over each face, (F, P, 3), m, each for one P-th of its area."""
        return np.asarray(_WEIGHTS @ self.corners)

    @property
    def slopes(self) -> Floats:
        """Slope of each face, (F,), rad: 0 flat, above pi/2 overhanging."""
        return np.arccos(np.clip(self.normals[:, 2], -1, 1))

    @property
    def radius(self) -> float:
        """Radius of the circle through both springings and the crown, m."""
        return (self.span**2 / 4 + self.rise**2) / (2 * self.rise)

    @property
    def eave(self) -> float:
        """Slope at the springing, rad."""
        edge = float(np.arcsin(min(1.0, self.span / 2 / self.radius)))
        return edge if self.rise <= self.radius else np.pi - edge

    @property
    def walls(self) -> NDArray[np.bool_]:
        """True (F,) for upright faces of a vault: gables and side walls."""
        return (np.abs(self.normals[:, 2]) < UPRIGHT) & (self.kind == "vault")

    def outward(self) -> Floats:
        """Return the plan vectors (F, P, 2) from the spine to the samples of each face, m."""
        points = self.samples[..., :2]
        nearest = np.clip(points[..., 0], -self.spine, self.spine)
        return points - np.stack([nearest, np.zeros_like(nearest)], axis=-1)


def form_of(shell: Shell, riser: float = 0.0) -> Form:
    """Return the form of `shell`, whose base ring stands `riser` (m) above the ground."""
    corners = shell.hubs[shell.faces]
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) / 2
    areas = np.linalg.norm(cross, axis=1)
    normals = cross / areas[:, None]
    base = shell.hubs[shell.base]
    length, width = (float(np.ptp(base[:, k])) for k in (0, 1))
    low, crown = float(base[:, 2].mean()), float(shell.hubs[:, 2].max())
    kind, wall = _kind(shell, length, width), 0.0
    if kind == "dome":
        # the plan is centred on the origin; a door's feet would shift the mean of the base hubs
        width = length = 2 * float(np.hypot(base[:, 0], base[:, 1]).max())
    if kind == "vault":
        upright = (np.abs(normals[:, 2]) < UPRIGHT) & (np.abs(normals[:, 1]) > 0.5)
        wall = float(corners[upright][:, :, 2].max(initial=low)) - low
    spine = {"dome": 0.0, "vault": length / 2}.get(kind, max(0.0, (length - width) / 2))
    return Form(
        normals, areas, corners, kind, width, crown - low - wall, length,
        riser + wall, spine, riser,
    )  # fmt: skip


def _kind(shell: Shell, length: float, width: float) -> str:
    if shell.recipe.family == "vault":
        return "vault"
    if is_round(shell):
        return "dome"
    return "dome" if max(length, width) <= ROUND * min(length, width) else "long-dome"
