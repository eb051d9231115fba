"""How well a hypothesis explains the readings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import scipy.linalg
from scipy.special import log_ndtr

from strutwright.survey.elastic import GROUND, Elastic, Rest, settle
from strutwright.survey.hypotheses import MISREAD, Hypothesis
from strutwright.survey.settings import Spread
from strutwright.survey.sight import Sight
from strutwright.values import Floats, HubPoints

__all__ = [
    "Explained",
    "Linear",
    "Seen",
    "explain",
    "linear",
    "linear_about",
    "log_evidence",
    "made_to",
    "seen_at",
]

ROUNDS: Final = 2
"""How often a hypothesis is taken up again at the shape that the readings ask for."""


@dataclass(frozen=True, eq=False)
class Linear:
    """Readings about one shape, as linear functions of everything that is not known.

    Parameters
    ----------
    expected : (n,) array, m
        Readings with every unknown at its mean.
    gains : (n, p) array
        Change of the readings with each unknown: strut errors, base heights, sizes of pushes.
    variance : (p,) array
    noise : (n,) array, m2
        Of the readings themselves.
    loads : (3H, k) array, N
        Forces that make each push 1 m large.
    """

    expected: Floats
    gains: Floats
    variance: Floats
    noise: Floats
    loads: Floats

    @property
    def covariance(self) -> Floats:
        """Return the (n, n) covariance of the readings."""
        return (self.gains * self.variance) @ self.gains.T + np.diag(self.noise)


@dataclass(frozen=True, eq=False)
class Explained:
    """A hypothesis held against the readings.

    Parameters
    ----------
    log_evidence : float
    shape : (H, 3) array, m
        Most probable shape under it.
    misfit : float
        Squared distance of the readings from it over their covariance.
    unknowns : (p,) array
        Most probable strut errors, base heights and sizes of pushes.
    size : float
        How much, m: of a free strut error, of a push, of a misreading; else the gap.
    """

    log_evidence: float
    shape: HubPoints
    misfit: float
    unknowns: Floats
    size: float


def made_to(elastic: Elastic, hypothesis: Hypothesis) -> Floats:
    """Return the (S,) lengths that the struts are made to under `hypothesis`, m."""
    lengths = elastic.lengths.copy()
    for strut, length in hypothesis.changed:
        lengths[strut] = length
    return lengths


@dataclass(frozen=True, eq=False)
class Seen:
    """Readings about the shape at `rest`, whatever is supposed to be wrong there.

    Parameters
    ----------
    rest : Rest
    rows : (n, 3H) array
        Change of the readings with the hubs.
    expected : (n,) array, m
    of_struts, of_heights : (n, S), (n, B) arrays
        Change of the readings with strut errors and base heights.
    """

    rest: Rest
    rows: Floats
    expected: Floats
    of_struts: Floats
    of_heights: Floats


def seen_at(elastic: Elastic, rest: Rest, sight: Sight) -> Seen:
    """Return the readings of `sight` about the shape at `rest`."""
    rows = sight.rows(rest.shape)
    answer = rest.solve(rows.T)
    first, second = elastic.struts.T
    spread_out = answer.reshape(len(elastic.hubs), 3, len(rows))
    unit = rest.along[:, 3:]
    of_struts = np.einsum("sa,san->ns", unit, spread_out[second] - spread_out[first])
    of_struts *= elastic.stiffness
    of_heights = GROUND * answer[elastic.heights].T
    return Seen(rest, rows, sight.predict(rest.shape), of_struts, of_heights)


def linear(
    elastic: Elastic, rest: Rest, sight: Sight, spread: Spread, hypothesis: Hypothesis
) -> Linear:
    """Return the readings of `sight` about the shape at `rest`."""
    return linear_about(seen_at(elastic, rest, sight), sight, spread, hypothesis)


def linear_about(seen: Seen, sight: Sight, spread: Spread, hypothesis: Hypothesis) -> Linear:
    """Return the readings `seen` about a shape as `hypothesis` takes them."""
    variance = np.full(seen.of_struts.shape[1], spread.strut**2)
    for strut, sigma in hypothesis.free:
        variance[strut] = sigma**2
    gains = [seen.of_struts, seen.of_heights]
    variances = [variance, np.full(seen.of_heights.shape[1], spread.level**2)]
    loads = np.zeros((seen.rows.shape[1], 0))
    if hypothesis.pushes:
        pushes = np.column_stack(hypothesis.pushes)
        moved = seen.rest.solve(pushes)
        scale = (pushes**2).sum(axis=0) / np.einsum("ij,ij->j", pushes, moved)
        loads = pushes * scale
        gains.append(seen.rows @ (moved * scale))
        variances.append(np.full(pushes.shape[1], hypothesis.reach**2))
    noise = sight.sigmas**2
    if hypothesis.misread is not None:
        noise[hypothesis.misread] += MISREAD**2
    return Linear(seen.expected, np.hstack(gains), np.concatenate(variances), noise, loads)


def log_evidence(found: Linear, values: Floats, at: Floats | None = None) -> tuple[float, float]:
    """Return the log density of `values` (n,) and their squared distance from what is expected.

    `at` (p,) are the unknowns at which `found` was taken, 0 when left out.
    """
    off = values - found.expected
    if at is not None:
        off = off + found.gains @ at
    factor = scipy.linalg.cholesky(found.covariance, lower=True)
    scaled = scipy.linalg.solve_triangular(factor, off, lower=True)
    misfit = float(scaled @ scaled)
    size = 2 * float(np.log(np.diag(factor)).sum()) + len(values) * np.log(2 * np.pi)
    return -0.5 * (misfit + size), misfit


def explain(
    elastic: Elastic,
    sight: Sight,
    spread: Spread,
    hypothesis: Hypothesis,
    start: Rest | None = None,
) -> Explained:
    """Return how well `hypothesis` explains the readings, taken up again at its own best shape.

    The unknowns get their most probable values for the readings, the shell comes to rest with
    them, and everything is taken about that shape, `ROUNDS` times (an iterated Kalman update).
    """
    lengths = made_to(elastic, hypothesis)
    rest = start or settle(elastic, lengths)
    at: Floats | None = None
    for _ in range(ROUNDS):
        found = linear(elastic, rest, sight, spread, hypothesis)
        at = _most_probable(found, sight.values, at)
        strut, level, push = _parts(at, elastic)
        load = np.zeros(3 * len(elastic.hubs)) + found.loads @ push
        load[elastic.heights] += GROUND * level
        rest = settle(elastic, lengths + strut, start=rest.shape, load=load, most_steps=8)
    found = linear(elastic, rest, sight, spread, hypothesis)
    value, misfit = log_evidence(found, sight.values, at)
    at = _most_probable(found, sight.values, at)
    value += _one_sided(found, at, hypothesis)
    return Explained(value, rest.shape, misfit, at, _size(at, sight, rest, hypothesis, elastic))


def _most_probable(found: Linear, values: Floats, at: Floats | None) -> Floats:
    off = values - found.expected
    if at is not None:
        off = off + found.gains @ at
    weight = scipy.linalg.solve(found.covariance, off, assume_a="pos")
    return np.asarray(found.variance * (found.gains.T @ weight))


def _parts(at: Floats, elastic: Elastic) -> tuple[Floats, Floats, Floats]:
    n_struts, n_base = len(elastic.lengths), len(elastic.base)
    return at[:n_struts], at[n_struts : n_struts + n_base], at[n_struts + n_base :]


def _one_sided(found: Linear, at: Floats, hypothesis: Hypothesis) -> float:
    """Return the log of twice the probability that the free error has its one possible sign."""
    if not hypothesis.side or not hypothesis.free:
        return 0.0
    strut = hypothesis.free[0][0]
    gain = found.gains[:, strut]
    before = found.variance[strut]
    after = before - before**2 * float(
        gain @ scipy.linalg.solve(found.covariance, gain, assume_a="pos")
    )
    score = hypothesis.side * at[strut] / np.sqrt(max(after, 1e-12))
    return float(np.log(2.0) + log_ndtr(score))


def _size(at: Floats, sight: Sight, rest: Rest, hypothesis: Hypothesis, elastic: Elastic) -> float:
    if hypothesis.free:
        return float(at[hypothesis.free[0][0]])
    if hypothesis.pushes:
        return float(np.linalg.norm(_parts(at, elastic)[2]))
    if hypothesis.misread is not None:
        index = hypothesis.misread
        return float(sight.values[index] - sight.predict(rest.shape)[index])
    return hypothesis.gap
