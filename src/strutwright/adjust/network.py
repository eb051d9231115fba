"""A network of points and what was observed between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array, csr_array

from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["Network", "Observation", "Stencil", "observed", "residual_jacobian"]

_WITHOUT_AXIS: Final = ("distance", "combination")


@dataclass(frozen=True)
class Observation:
    """One observation.

    Parameters
    ----------
    kind : str
        ``distance`` between two points; ``difference`` of the coordinate `axis` from the first
        to the second point (a levelled height difference); ``coordinate`` `axis` of one point;
        ``combination``, the sum of `factors` times the coordinates of `ends`.
    ends : tuple of int
        The two points, the one, or those of a combination.
    value : float, m
    sigma : float, m
        Standard deviation before the adjustment.
    axis : int
        Coordinate that is meant; not used by a distance.
    name : str
        What the reader knows it by.
    factors : tuple of (D,) tuples
        Of a combination, a row for each end.
    """

    kind: str
    ends: tuple[int, ...]
    value: float
    sigma: float
    axis: int = 2
    name: str = ""
    factors: tuple[tuple[float, ...], ...] = ()


@dataclass(frozen=True, eq=False)
class Network(ArrayValue):
    """Points with approximate coordinates and the observations that tie them.

    Parameters
    ----------
    points : (P, D) array, m
        Approximate coordinates, D = 1, 2 or 3.
    held : (P, D) bool array
        Coordinates that are known and stay as they are.
    observations : tuple of Observation

    Raises
    ------
    ValueError
        Shapes do not fit, an observation names a point or an axis that is not there, has no
        positive sigma, or is a distance of points that lie in one place.
    """

    points: Floats
    held: NDArray[np.bool_]
    observations: tuple[Observation, ...]

    def __post_init__(self) -> None:
        """Check shapes and every observation."""
        super().__post_init__()
        if self.points.ndim != 2 or self.held.shape != self.points.shape:
            msg = f"points {self.points.shape} and held {self.held.shape} are not two (P, D) arrays"
            raise ValueError(msg)
        if not np.isfinite(self.points).all():
            msg = "a point is not finite"
            raise ValueError(msg)
        for observation in self.observations:
            _check(observation, *self.points.shape)
            if observation.kind == "distance":
                first, second = self.points[list(observation.ends)]
                if (first == second).all():
                    msg = f"the points of a distance lie in one place: {observation}"
                    raise ValueError(msg)


def _check(observation: Observation, n_points: int, n_axes: int) -> None:
    n_ends = {"distance": 2, "difference": 2, "coordinate": 1}.get(observation.kind)
    if observation.kind == "combination":
        n_ends = len(observation.factors)
    wrong = (
        n_ends != len(observation.ends)
        or len(set(observation.ends)) != n_ends
        or not all(0 <= end < n_points for end in observation.ends)
        or not (observation.kind in _WITHOUT_AXIS or 0 <= observation.axis < n_axes)
        or not all(len(row) == n_axes for row in observation.factors)
        or not (np.isfinite(observation.value) and observation.sigma > 0)
    )
    if wrong:
        msg = f"observation does not fit a network of {n_points} points: {observation}"
        raise ValueError(msg)


class Stencil:
    """Observations sorted for speed: what is linear once and for all, and the distances."""

    def __init__(self, observations: Sequence[Observation], n_points: int, n_axes: int) -> None:
        self.n, self.size = len(observations), n_points * n_axes
        self.axes = np.arange(n_axes)
        is_distance = np.array([one.kind == "distance" for one in observations], dtype=bool)
        self.rows: Indices = np.flatnonzero(is_distance)
        ends = [observations[int(row)].ends for row in self.rows]
        self.ends = np.array(ends, dtype=np.int64).reshape(-1, 2)
        rows: list[int] = []
        columns: list[int] = []
        entries: list[float] = []
        for row, one in enumerate(observations):
            for point, part in _linear_parts(one, n_axes):
                rows += [row] * n_axes
                columns += range(point * n_axes, (point + 1) * n_axes)
                entries += part
        linear = coo_array((entries, (rows, columns)), shape=(self.n, self.size))
        self.linear = linear.tocsr()

    def observed(self, points: Floats) -> Floats:
        """Return what each observation would read at `points` (P, D), m."""
        values: Floats = self.linear @ points.ravel()
        step = points[self.ends[:, 1]] - points[self.ends[:, 0]]
        values[self.rows] = np.linalg.norm(step, axis=1)
        return values

    def jacobian(self, points: Floats) -> csr_array:
        """Return the (n, P*D) derivative of `observed` by the coordinates, point by point."""
        step = points[self.ends[:, 1]] - points[self.ends[:, 0]]
        unit = step / np.linalg.norm(step, axis=1)[:, None]
        columns = (self.ends * len(self.axes))[:, :, None] + self.axes
        rows = np.broadcast_to(self.rows[:, None, None], columns.shape)
        entries = np.stack([-unit, unit], axis=1)
        distances = coo_array(
            (entries.ravel(), (rows.ravel(), columns.ravel())), shape=(self.n, self.size)
        )
        return csr_array(distances.tocsr() + self.linear)


def _linear_parts(one: Observation, n_axes: int) -> list[tuple[int, list[float]]]:
    """Return point and factors of every part of an observation that is linear."""
    if one.kind == "distance":
        return []
    if one.kind == "combination":
        return [(point, list(part)) for point, part in zip(one.ends, one.factors, strict=True)]
    unit = [float(axis == one.axis) for axis in range(n_axes)]
    if one.kind == "coordinate":
        return [(one.ends[0], unit)]
    return [(one.ends[1], unit), (one.ends[0], [-part for part in unit])]


def observed(points: Floats, observations: Sequence[Observation]) -> Floats:
    """Return what each of the (n,) `observations` would read at `points` (P, D), m."""
    return Stencil(observations, *points.shape).observed(points)


def residual_jacobian(points: Floats, observations: Sequence[Observation]) -> csr_array:
    """Return the (n, P*D) derivative of `observed` by the coordinates, point by point."""
    return Stencil(observations, *points.shape).jacobian(points)
