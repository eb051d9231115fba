"""A network of points and what was observed between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array, csr_array

from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["Network", "Observation", "observed", "residual_jacobian"]

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
        Shapes do not fit, an observation names a point or an axis that is not there, or has no
        positive sigma.
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


def observed(points: Floats, observations: Sequence[Observation]) -> Floats:
    """Return what each of the (n,) `observations` would read at `points` (P, D), m."""
    values = np.empty(len(observations))
    for row, one in enumerate(observations):
        if one.kind == "coordinate":
            values[row] = points[one.ends[0], one.axis]
            continue
        if one.kind == "combination":
            values[row] = (points[list(one.ends)] * np.array(one.factors)).sum()
            continue
        step = points[one.ends[1]] - points[one.ends[0]]
        values[row] = np.linalg.norm(step) if one.kind == "distance" else step[one.axis]
    return values


def residual_jacobian(points: Floats, observations: Sequence[Observation]) -> csr_array:
    """Return the (n, P*D) derivative of `observed` by the coordinates, point by point."""
    n_axes = points.shape[1]
    rows: list[Indices] = []
    columns: list[Indices] = []
    entries: list[Floats] = []

    def put(row: int, point: int, part: Floats) -> None:
        rows.append(np.full(n_axes, row))
        columns.append(point * n_axes + np.arange(n_axes))
        entries.append(part)

    for row, one in enumerate(observations):
        if one.kind == "combination":
            for point, part in zip(one.ends, one.factors, strict=True):
                put(row, point, np.array(part))
            continue
        unit = np.zeros(n_axes)
        if one.kind == "distance":
            step = points[one.ends[1]] - points[one.ends[0]]
            unit = step / np.linalg.norm(step)
        else:
            unit[one.axis] = 1.0
        put(row, one.ends[-1], unit)
        if one.kind != "coordinate":
            put(row, one.ends[0], -unit)
    matrix = coo_array(
        (np.concatenate(entries), (np.concatenate(rows), np.concatenate(columns))),
        shape=(len(observations), points.size),
    )
    return matrix.tocsr()
