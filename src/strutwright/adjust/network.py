"""A network of points and what was observed between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array, csr_array

from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["ANGULAR", "Network", "Observation", "Stencil", "observed", "residual_jacobian"]

_WITHOUT_AXIS: Final = ("distance", "combination", "bearing", "direction", "angle")
_ENDS: Final = {
    "distance": 2, "difference": 2, "coordinate": 1, "bearing": 2, "direction": 2, "angle": 3,
}  # fmt: skip
ANGULAR: Final = ("bearing", "direction", "angle")


@dataclass(frozen=True)
class Observation:
    """One observation.

    Parameters
    ----------
    kind : str
        ``distance`` between two points; ``difference`` of the coordinate `axis` from the first
        to the second point (a levelled height difference); ``coordinate`` `axis` of one point;
        ``combination``, the sum of `factors` times the coordinates of `ends`; on the plan of the
        first two axes ``bearing`` from the first to the second point, ``direction`` the same less
        the unknown zero of its setup, ``angle`` at the first point from the second to the third.
    ends : tuple of int
        The two points, the one, those of a combination, or the three of an angle.
    value : float, m or rad
        Bearings and angles turn from axis 0 to axis 1: clockwise from north where points are
        (north, east), counterclockwise from east where they are (east, north).
    sigma : float, m or rad
        Standard deviation before the adjustment; of a weight w it is 1 / sqrt(w).
    axis : int
        Coordinate that is meant; of a coordinate and a difference alone.
    name : str
        What the reader knows it by.
    factors : tuple of (D,) tuples
        Of a combination, a row for each end.
    setup : str
        Directions from one point with the same setup were read with one zero.
    """

    kind: str
    ends: tuple[int, ...]
    value: float
    sigma: float
    axis: int = 2
    name: str = ""
    factors: tuple[tuple[float, ...], ...] = ()
    setup: str = ""


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
        positive sigma, or is a distance, bearing or angle of points that lie in one place.
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
            _check_apart(observation, self.points)


def _check_apart(observation: Observation, points: Floats) -> None:
    angular = observation.kind in ANGULAR
    if not angular and observation.kind != "distance":
        return
    at = points[list(observation.ends)][:, : 2 if angular else None]
    if (at[1:] == at[0]).all(axis=1).any():
        what = "an" if observation.kind == "angle" else "a"
        msg = f"the points of {what} {observation.kind} lie in one place: {observation}"
        raise ValueError(msg)


def _check(observation: Observation, n_points: int, n_axes: int) -> None:
    n_ends = _ENDS.get(observation.kind)
    if observation.kind == "combination":
        n_ends = len(observation.factors)
    wrong = (
        n_ends != len(observation.ends)
        or len(set(observation.ends)) != n_ends
        or not all(0 <= end < n_points for end in observation.ends)
        or not (observation.kind in _WITHOUT_AXIS or 0 <= observation.axis < n_axes)
        or not all(len(row) == n_axes for row in observation.factors)
        or (observation.kind in ANGULAR and n_axes < 2)
        or not (np.isfinite(observation.value) and observation.sigma > 0)
    )
    if wrong:
        msg = f"observation does not fit a network of {n_points} points: {observation}"
        raise ValueError(msg)


class Stencil:
    """Observations sorted for speed: what is linear once and for all, distances, bearings."""

    def __init__(self, observations: Sequence[Observation], n_points: int, n_axes: int) -> None:
        self.n, self.size = len(observations), n_points * n_axes
        self.axes = np.arange(n_axes)
        is_distance = np.array([one.kind == "distance" for one in observations], dtype=bool)
        self.rows: Indices = np.flatnonzero(is_distance)
        ends = [observations[int(row)].ends for row in self.rows]
        self.ends = np.array(ends, dtype=np.int64).reshape(-1, 2)
        self.angular = np.array([one.kind in ANGULAR for one in observations], dtype=bool)
        sights = [(row, *sight) for row, one in enumerate(observations) for sight in _sights(one)]
        table = np.array(sights, dtype=np.int64).reshape(-1, 4)
        self.sight_rows, self.sight_ends, self.signs = table[:, 0], table[:, 1:3], table[:, 3]
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
        """Return what each observation would read at `points` (P, D), m or rad.

        Of a direction it is the bearing; angles and bearings lie in [0, 2 pi).
        """
        values: Floats = self.linear @ points.ravel()
        step = points[self.ends[:, 1]] - points[self.ends[:, 0]]
        values[self.rows] = np.linalg.norm(step, axis=1)
        along = points[self.sight_ends[:, 1], :2] - points[self.sight_ends[:, 0], :2]
        turns = self.signs * np.arctan2(along[:, 1], along[:, 0]) if len(along) else self.signs
        turned = np.bincount(self.sight_rows, turns, self.n)
        values[self.angular] = turned[self.angular] % (2 * np.pi)
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
        return csr_array(distances.tocsr() + self.linear + self._turns(points))

    def _turns(self, points: Floats) -> csr_array:
        """Return the (n, P*D) derivative of bearings and angles."""
        along = points[self.sight_ends[:, 1], :2] - points[self.sight_ends[:, 0], :2]
        if not len(along):
            return csr_array((self.n, self.size))
        across = np.column_stack([-along[:, 1], along[:, 0]]) / (along**2).sum(axis=1)[:, None]
        across *= self.signs[:, None]
        columns = (self.sight_ends * len(self.axes))[:, :, None] + np.arange(2)
        rows = np.broadcast_to(self.sight_rows[:, None, None], columns.shape)
        entries = np.stack([-across, across], axis=1)
        found = (entries.ravel(), (rows.ravel(), columns.ravel()))
        return coo_array(found, shape=(self.n, self.size)).tocsr()


def _sights(one: Observation) -> list[tuple[int, int, int]]:
    """Return from, to and sign of every bearing in an observation."""
    if one.kind == "angle":
        at, back, fore = one.ends
        return [(at, fore, 1), (at, back, -1)]
    return [(one.ends[0], one.ends[1], 1)] if one.kind in ANGULAR else []


def _linear_parts(one: Observation, n_axes: int) -> list[tuple[int, list[float]]]:
    """Return point and factors of every part of an observation that is linear."""
    if one.kind == "distance" or one.kind in ANGULAR:
        return []
    if one.kind == "combination":
        return [(point, list(part)) for point, part in zip(one.ends, one.factors, strict=True)]
    unit = [float(axis == one.axis) for axis in range(n_axes)]
    if one.kind == "coordinate":
        return [(one.ends[0], unit)]
    return [(one.ends[1], unit), (one.ends[0], [-part for part in unit])]


def observed(points: Floats, observations: Sequence[Observation]) -> Floats:
    """Return what each of the (n,) `observations` would read at `points` (P, D), m or rad.

    Of a direction it is the bearing, without the zero of its setup.
    """
    return Stencil(observations, *points.shape).observed(points)


def residual_jacobian(points: Floats, observations: Sequence[Observation]) -> csr_array:
    """Return the (n, P*D) derivative of `observed` by the coordinates, point by point."""
    return Stencil(observations, *points.shape).jacobian(points)
