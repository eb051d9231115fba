"""From hundreds of hypotheses to the few that are worth taking up at their own best shape."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import scipy.linalg

from strutwright.survey.elastic import AT_REST, Elastic, Rest, Settler, Way
from strutwright.survey.evidence import Linear, Seen, linear_about, log_evidence, seen_at
from strutwright.survey.hypotheses import PRIOR, Hypothesis
from strutwright.survey.settings import CLOSING_FORCE, Spread
from strutwright.survey.sight import Sight
from strutwright.values import Floats

__all__ = ["Case", "Prepared", "close_up", "prepare", "priors", "screen"]

MOST_FORCE: Final = 3 * CLOSING_FORCE
"""N. A shell that needs more to close was not closed so. Our choice."""
SLACK: Final = {2: 0.75, 3: 0.5, 4: 0.4, 6: 0.25}
"""Steps done, and by what share of their movement nine in ten shapes may still change. Measured
on shells that close."""
LOOSER: Final = 1.5
"""How much larger the covariance about a wrong shape may be than about the design. Our choice."""
HOPELESS: Final = 25.0
"""Further from the readings than a true shell by so much: a likelihood of e^-12. Our choice."""
STILL_OPEN: Final = {3: 25.0, 4: 12.0, 5: 5.0, 7: 4.0, AT_REST: MOST_FORCE / CLOSING_FORCE}
"""Steps done, and the force over `CLOSING_FORCE` above which a shell is given up as one that does
not close. Measured: what closes within that force is below these in 99 of 100 cases."""

RELIEF: Final = ((0.3, 0.4), (1.0, 0.25), (3.0, 0.1))
"""How far the forces after the first step may be from those of small movements, as a share of the
largest of these, and what share of that largest is left at the least once the shell is at rest.
Measured on the demo briefs: shapes that move little end within 0.6, 0.3 and 0.12 of it."""


@dataclass(frozen=True, eq=False)
class Case:
    """A hypothesis with its shape and what speaks for it.

    Parameters
    ----------
    hypothesis : Hypothesis
    rest : Rest
    force : float, N
        Largest in any strut once the shell is closed.
    log_prior, log_evidence : float
    """

    hypothesis: Hypothesis
    rest: Rest
    force: float
    log_prior: float = 0.0
    log_evidence: float = -np.inf

    @property
    def score(self) -> float:
        """Return the log of the prior times the evidence."""
        return self.log_prior + self.log_evidence


def close_up(
    elastic: Elastic, hypotheses: Iterable[Hypothesis], about: tuple[Sight, Linear] | None = None
) -> list[Case]:
    """Return the hypotheses whose shell closes within `MOST_FORCE`, each at rest.

    Parameters
    ----------
    about : (Sight, Linear), optional
        Readings, and what a true shell would give: a hypothesis is dropped on the way to its
        shape once it is plain that the readings are nowhere near.
    """
    watch = None if about is None else _Watch(*about)
    settler = Settler(elastic)
    found = []
    for one in hypotheses:
        rest = settler.settle_unless(one.changed, watch or _open)
        if rest is not None:
            found.append(Case(one, rest, float(np.abs(rest.forces).max())))
    return found


def _open(way: Way) -> bool:
    """Return whether it is plain that the shell does not close within `MOST_FORCE`."""
    if way.steps == 1:
        least = float(np.abs(way.linear).max())
        off = float(np.abs(way.forces - way.linear).max())
        left = next((share for most, share in RELIEF if off < most * least), 0.0)
        return left * least > MOST_FORCE
    most = STILL_OPEN.get(way.steps)
    return most is not None and float(np.abs(way.forces).max()) > most * CLOSING_FORCE


class _Watch:
    """Whether a shape on its way is worth following."""

    def __init__(self, sight: Sight, still: Linear) -> None:
        self.sight = sight
        self.nominal = still.expected
        root = scipy.linalg.cholesky(LOOSER * still.covariance, lower=True)
        self.whiten = scipy.linalg.inv(root)
        self.least = float(np.sum((self.whiten @ (sight.values - self.nominal)) ** 2))

    def __call__(self, way: Way) -> bool:
        if _open(way):
            return True
        slack = SLACK.get(way.steps)
        if slack is None:
            return False
        seen = self.sight.predict(way.shape)
        off = float(np.linalg.norm(self.whiten @ (self.sight.values - seen)))
        moved = float(np.linalg.norm(self.whiten @ (seen - self.nominal)))
        return max(0.0, off - slack * moved) ** 2 > self.least + HOPELESS


def priors(cases: Iterable[Case], thought_of: Counter[str]) -> list[Case]:
    """Return `cases` with what is known before the readings: kinds, numbers, closing forces.

    Each kind's share is split evenly among all that were `thought_of`; what takes more than
    `CLOSING_FORCE` to close is less likely by e for every further 300 N.
    """
    found = []
    for one in cases:
        kind = one.hypothesis.kind
        forced = max(0.0, one.force / CLOSING_FORCE - 1.0)
        found.append(replace(one, log_prior=float(np.log(PRIOR[kind] / thought_of[kind])) - forced))
    return found


def screen(elastic: Elastic, sight: Sight, spread: Spread, cases: Iterable[Case]) -> list[Case]:
    """Return `cases` with their evidence, readings taken as linear about each shape."""
    found = []
    for one, about in _about_each(elastic, sight, spread, cases):
        value, _ = log_evidence(about, sight.values)
        found.append(replace(one, log_evidence=value))
    return found


def _about_each(
    elastic: Elastic, sight: Sight, spread: Spread, cases: Iterable[Case]
) -> Iterator[tuple[Case, Linear]]:
    """Yield each of `cases` with the readings about its shape; a shape of many is seen once."""
    seen: Seen | None = None
    for one in cases:
        if seen is None or seen.rest is not one.rest:
            seen = seen_at(elastic, one.rest, sight)
        yield one, linear_about(seen, sight, spread, one.hypothesis)


@dataclass(frozen=True, eq=False)
class Prepared:
    """Cases worked out once for many sets of readings of the same kinds.

    Parameters
    ----------
    cases : tuple of Case
    expected : (N, n) array, m
    whiten : (N, n, n) array, 1/m
        Inverse roots of the covariances.
    size : (N,) array
        Log of the determinants, with n log(2 pi).
    """

    cases: tuple[Case, ...]
    expected: Floats
    whiten: Floats
    size: Floats

    def screen(self, values: Floats, log_priors: Floats) -> list[Case]:
        """Return the cases with prior and evidence for the readings `values` (n,)."""
        off = np.einsum("kij,kj->ki", self.whiten, values - self.expected)
        evidence = -0.5 * ((off**2).sum(axis=1) + self.size)
        return [
            replace(one, log_prior=float(prior), log_evidence=float(value))
            for one, prior, value in zip(self.cases, log_priors, evidence, strict=True)
        ]


def prepare(elastic: Elastic, sight: Sight, spread: Spread, cases: Iterable[Case]) -> Prepared:
    """Return `cases` ready for many sets of readings of the kinds in `sight`."""
    held = tuple(cases)
    about = [found for _, found in _about_each(elastic, sight, spread, held)]
    roots = np.linalg.cholesky(np.array([one.covariance for one in about]))
    size = 2 * np.log(np.diagonal(roots, axis1=1, axis2=2)).sum(axis=1)
    size += len(sight.values) * np.log(2 * np.pi)
    return Prepared(held, np.array([one.expected for one in about]), np.linalg.inv(roots), size)
