"""Least-squares adjustment of a network: Gauss-Newton, redundancy, blunders, ellipses."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np
from scipy.sparse import csr_array

from strutwright.adjust.decompose import decompose, rigid_motions
from strutwright.adjust.network import Network, Stencil
from strutwright.adjust.setups import Weighed
from strutwright.errors import ResultError
from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["CRITICAL", "DETECTABLE", "Adjustment", "adjust", "ellipse", "snoop", "suspects"]

CRITICAL: Final = 3.2905
"""Two-sided normal quantile of 0.1 %: a larger standardised residual is a suspected blunder."""
DETECTABLE: Final = 3.2905 + 0.8416
"""Non-centrality found with 80 % power at 0.1 %.

Source: Baarda, A testing procedure for use in geodetic networks, 1968 (recalled).
"""
CLOSED: Final = 1e-11
"""Iteration ends when no coordinate moves by more than this share of the network's size."""
UNCONTROLLED: Final = 1e-9
"""A redundancy number below this is none: the observation is not checked by any other."""
ALIKE: Final = 1e-6
"""Standardised residuals that differ by a smaller share cannot be told from each other."""
MOST_STEPS: Final = 100
MOST_HALVINGS: Final = 30


@dataclass(frozen=True, eq=False)
class Adjustment(ArrayValue):
    """An adjusted network.

    Parameters
    ----------
    points : (P, D) array, m
        Adjusted coordinates.
    residuals : (n,) array, m or rad
        Adjusted minus observed.
    redundancy : (n,) array
        Redundancy numbers r, between 0 and 1; their sum is `freedom`.
    standardised : (n,) array
        v / (sigma sqrt r); nan where r is 0: such an observation is not checked by any other.
    detectable : (n,) array, m or rad
        Smallest blunder that would be found (0.1 %, power 80 %); inf where r is 0.
    cofactor : (P*D, P*D) array, m2
        Covariance of the coordinates for the sigmas given before the adjustment.
    freedom : int
        Observations minus unknowns, zeros of setups among them, plus datum defect.
    defect : int
        Motions that no observation and no held coordinate fixes; they are left at the least
        change from the approximate coordinates.
    s0 : float
        Square root of the weighted residual sum over `freedom`; nan without redundancy.
    steps : int
        Iterations taken.
    orientations : (k,) array, rad
        Bearing of the zero of every setup of directions, in the order of their first direction.
    """

    points: Floats
    residuals: Floats
    redundancy: Floats
    standardised: Floats
    detectable: Floats
    cofactor: Floats
    freedom: int
    defect: int
    s0: float
    steps: int
    orientations: Floats

    def deviations(self, *, scaled: bool = False) -> Floats:
        """Return the (P, D) standard deviations of the coordinates, m.

        For the sigmas given before the adjustment, or `scaled` by `s0`, as most textbooks print
        them.
        """
        factor = self.s0 if scaled else 1.0
        found: Floats = factor * np.sqrt(np.diag(self.cofactor)).reshape(self.points.shape)
        return found

    def covariance(self, point: int, *, scaled: bool = False) -> Floats:
        """Return the (D, D) covariance of `point`, m2, for `ellipse`."""
        n_axes = self.points.shape[1]
        rows = slice(n_axes * point, n_axes * (point + 1))
        factor = self.s0**2 if scaled else 1.0
        found: Floats = factor * self.cofactor[rows, rows]
        return found


def adjust(network: Network) -> Adjustment:
    """Return the least-squares adjustment of `network`.

    Unknowns that nothing fixes (a free network's own motions) get the least-norm correction, so
    a network without held points is adjusted as a free one.

    Raises
    ------
    ResultError
        ``adjustment-open``: the iteration does not settle (grossly wrong approximate points).
    """
    free = np.flatnonzero(~network.held.ravel())
    points = np.array(network.points)
    stencil = Stencil(network.observations, *points.shape)
    weighed = Weighed(network.observations, stencil)
    lengths = weighed.values[~stencil.angular]
    size = float(max(np.ptp(points, axis=0).max(), np.abs(lengths).max(initial=0.0)))
    steps = 0
    for _ in range(MOST_STEPS):
        steps += 1
        design = csr_array(weighed.design(points)[:, free])
        misclosure = weighed.misclosure(points) * weighed.weight
        step = decompose(design, rigid_motions(points, free)).step(misclosure)
        moved = _damped(weighed, points, free, step)
        if moved <= CLOSED * size:
            break
    else:
        raise ResultError(
            "adjustment-open",
            f"the points still move by {moved:.3g} m after {MOST_STEPS} steps",
            "network adjustment",
            "look for a reading with the wrong unit or the wrong hub",
        )
    return _result(network, weighed, (points, free), steps)


def _damped(weighed: Weighed, points: Floats, free: Indices, step: Floats) -> float:
    """Move `points` by `step`, halved until the weighted sum falls; return the largest move, m."""

    def total() -> float:
        return float(((weighed.misclosure(points) * weighed.weight) ** 2).sum())

    before = total()
    start = points.ravel()[free].copy()
    share = 1.0
    for _ in range(MOST_HALVINGS):
        points.ravel()[free] = start + share * step
        if total() <= before * (1 + 1e-9) + 1e-9:
            break
        share /= 2
    return float(share * np.abs(step).max(initial=0.0))


def _result(
    network: Network, weighed: Weighed, at: tuple[Floats, Indices], steps: int
) -> Adjustment:
    (points, free), observations = at, network.observations
    sigma = 1.0 / weighed.weight
    residuals = -weighed.misclosure(points)
    design = csr_array(weighed.design(points)[:, free])
    parts = decompose(design, rigid_motions(points, free))
    redundancy = np.clip(1.0 - parts.leverage() - weighed.leverage(), 0.0, 1.0)
    redundancy[redundancy < UNCONTROLLED] = 0.0
    cofactor = np.zeros((points.size, points.size))
    cofactor[np.ix_(free, free)] = parts.cofactor()
    freedom = len(observations) - parts.rank - weighed.n_setups
    with np.errstate(divide="ignore", invalid="ignore"):
        standardised = np.where(redundancy > 0, residuals / (sigma * np.sqrt(redundancy)), np.nan)
        detectable = np.where(redundancy > 0, DETECTABLE * sigma / np.sqrt(redundancy), np.inf)
    weighted = float(((residuals / sigma) ** 2).sum())
    return Adjustment(
        points=points,
        residuals=residuals,
        redundancy=redundancy,
        standardised=standardised,
        detectable=detectable,
        cofactor=cofactor,
        freedom=freedom,
        defect=len(free) - parts.rank,
        s0=float(np.sqrt(weighted / freedom)) if freedom else float("nan"),
        steps=steps,
        orientations=weighed.orientations(points),
    )


def snoop(network: Network) -> tuple[Adjustment, tuple[int, ...]]:
    """Return the adjustment without blunders, and the observations put aside, worst first.

    Data snooping: the observation with the largest standardised residual is put aside while it
    passes `CRITICAL` and stands alone. Where several share the worst value a blunder is there
    and cannot be located: nothing more is put aside.
    """
    kept = list(range(len(network.observations)))
    aside: list[int] = []
    while True:
        rest = replace(network, observations=tuple(network.observations[k] for k in kept))
        found = adjust(rest)
        order = suspects(found)
        w = np.abs(np.nan_to_num(found.standardised))
        alike = (w > w.max(initial=0.0) * (1 - ALIKE)).sum()
        if not order or alike > 1:
            return found, tuple(aside)
        aside.append(kept.pop(order[0]))


def suspects(adjustment: Adjustment) -> list[int]:
    """Return the observations whose standardised residual passes `CRITICAL`, worst first.

    Observations that share the worst value cannot be told from each other: with one
    redundancy all are equal, a blunder is noticed but not located.
    """
    w = np.abs(np.nan_to_num(adjustment.standardised))
    order = np.lexsort((np.arange(len(w)), -w))
    return [int(k) for k in order if w[k] > CRITICAL]


def ellipse(
    covariance: Floats, *, kind: Literal["standard", "95"] = "standard"
) -> tuple[float, float, float]:
    """Return semi-major axis, semi-minor axis (m) and direction of the major axis (rad).

    Parameters
    ----------
    covariance : (2, 2) array, m2
    kind : str
        ``standard`` (39 % for two normal coordinates) or ``95`` (scaled by sqrt(5.9915)).

    Source: eigenvalues of the covariance; a2, b2 = (sx2+sy2)/2 +- sqrt((sx2-sy2)2/4 + sxy2).
    """
    sxx, syy, sxy = covariance[0, 0], covariance[1, 1], covariance[0, 1]
    mean, half = (sxx + syy) / 2, np.hypot((sxx - syy) / 2, sxy)
    scale = np.sqrt(5.9915) if kind == "95" else 1.0
    direction = 0.5 * np.arctan2(2 * sxy, sxx - syy)
    return (
        float(scale * np.sqrt(mean + half)),
        float(scale * np.sqrt(max(mean - half, 0.0))),
        float(direction),
    )
