"""Which readings to take, fewest first, until a swap of any two unlike struts can be told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.brief import Survey
from strutwright.parts import Kit
from strutwright.survey.elastic import Elastic, make_elastic, settle
from strutwright.survey.evidence import linear
from strutwright.survey.greedy import Chooser, pairs_within
from strutwright.survey.hypotheses import Hypothesis, neighbour_swaps
from strutwright.survey.screening import Case, close_up
from strutwright.survey.settings import CLOSING_FORCE, Spread, spreads
from strutwright.survey.sight import sight_of_pairs
from strutwright.values import Floats, Indices

__all__ = ["UNLIKE", "PlannedReading", "SurveyPlan", "closing_swaps", "plan_survey"]

UNLIKE: Final = 0.020
"""Struts that differ by more are unlike for a plan, m: twelve standard deviations of a strut.
What differs by less moves the shell too little to be seen or to matter. Our choice."""
TOLD: Final = 0.95
"""A plan ends when so many swaps would be among the first three suspects. Our choice."""
MOST_READINGS: Final = 24
MOST_CANDIDATES: Final = 700
"""Readings that a plan chooses from: those that swaps move most. Our choice, for speed."""
DRAWS: Final = 6
"""Random sets of readings for every swap, to count how many a plan would tell."""


@dataclass(frozen=True)
class PlannedReading:
    """One reading to take.

    Parameters
    ----------
    hubs : (int, int)
    expected : float, m
        Between hub centres, on a true shell.
    sigma : float, m
        How far a true shell may be off, tape included.
    told : float
        Share of the swaps that are among the first three suspects after it.
    """

    hubs: tuple[int, int]
    expected: float
    sigma: float
    told: float


@dataclass(frozen=True)
class SurveyPlan:
    """Readings in the order in which to take them.

    Parameters
    ----------
    readings : tuple of PlannedReading
    n_swaps : int
        Swaps of unlike neighbours that can be forced together: what the plan tells apart.
    n_open : int
        Swaps of unlike neighbours that do not close: the builder sees them.
    n_like : int
        Swaps of neighbours that differ by less than `UNLIKE`: not planned for.
    reach : float, m
        No hub of the plan is higher.
    """

    readings: tuple[PlannedReading, ...]
    n_swaps: int
    n_open: int
    n_like: int
    reach: float


def closing_swaps(kit: Kit, elastic: Elastic) -> list[Case]:
    """Return all swaps of neighbours that close within `CLOSING_FORCE`, each at rest."""
    return [one for one in close_up(elastic, neighbour_swaps(kit)) if one.force <= CLOSING_FORCE]


def plan_survey(
    kit: Kit, survey: Survey, reach: float, *, most: int = MOST_READINGS, told: float = TOLD
) -> SurveyPlan:
    """Return the readings to take on the built shell of `kit`, fewest first.

    Each is the distance of two hubs not higher than `reach` (m), and the one that leaves the
    least confusion between all swaps of unlike neighbours that close, and the true shell. The
    plan ends when `told` of them would be among the first three suspects, or after `most`.
    """
    elastic, spread = make_elastic(kit), spreads(survey)
    swaps = list(neighbour_swaps(kit))
    closed = closing_swaps(kit, elastic)
    unlike = [one for one in closed if one.hypothesis.gap > UNLIKE]
    n_like = sum(one.gap <= UNLIKE for one in swaps)
    n_open = len(swaps) - n_like - len(unlike)
    readings = choose_readings(elastic, unlike, spread, reach, (most, told)) if unlike else ()
    return SurveyPlan(readings, len(unlike), n_open, n_like, reach)


def choose_readings(
    elastic: Elastic, cases: Sequence[Case], spread: Spread, reach: float, ends: tuple[int, float]
) -> tuple[PlannedReading, ...]:
    """Return readings that tell `cases` apart; `ends` are the most readings and the share told."""
    pairs = _candidates(elastic, reach)
    shapes = np.array([elastic.hubs, *(one.rest.shape for one in cases)])
    bare = sight_of_pairs(pairs, elastic.hubs, spread.tape)
    expected = bare.predict(shapes)
    best = np.argsort(-np.abs(expected - expected[0]).mean(axis=0), kind="stable")
    keep = np.sort(best[:MOST_CANDIDATES])
    pairs, expected = pairs[keep], expected[:, keep]
    sight = sight_of_pairs(pairs, elastic.hubs, spread.tape)
    rest = settle(elastic, elastic.lengths)
    about = linear(elastic, rest, sight, spread, Hypothesis("nothing-wrong"))
    covariance = (about.gains * about.variance) @ about.gains.T
    chooser = Chooser(expected, covariance, spread.tape)
    found: list[PlannedReading] = []
    while len(found) < min(ends[0], len(pairs)) and (not found or found[-1].told < ends[1]):
        k = chooser.choose()
        share = _share_told(expected[:, chooser.chosen], about.covariance, chooser.chosen)
        first, second = int(pairs[k, 0]), int(pairs[k, 1])
        sigma = float(np.sqrt(about.covariance[k, k]))
        found.append(PlannedReading((first, second), float(sight.values[k]), sigma, share))
    return tuple(found)


def _candidates(elastic: Elastic, reach: float) -> Indices:
    struts = {(int(i), int(j)) for i, j in elastic.struts}
    pairs = [pair for pair in pairs_within(elastic.hubs, reach) if pair not in struts]
    return np.array(pairs, dtype=np.int64).reshape(-1, 2)


def _share_told(expected: Floats, covariance: Floats, chosen: list[int]) -> float:
    """Return the share of swaps that are among the three likeliest, in drawn readings.

    Readings are drawn about what each swap would give, with the covariance of a true shell.
    """
    rng = np.random.default_rng(len(chosen))
    root = np.linalg.cholesky(covariance[np.ix_(chosen, chosen)])
    white = np.linalg.solve(root, (expected - expected[0]).T).T
    swaps = white[1:]
    better = 0
    for _ in range(DRAWS):
        seen = swaps + rng.standard_normal(swaps.shape)
        squares = (seen**2).sum(axis=1)[:, None] + (white**2).sum(axis=1) - 2 * seen @ white.T
        own = np.diag(squares[:, 1:])
        better += int(((squares < own[:, None]).sum(axis=1) < 3).sum())
    return better / (DRAWS * len(swaps))
