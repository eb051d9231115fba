"""The readings sit in judgement: each hypothesis is heard, the likeliest are heard again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from scipy.special import logsumexp

from strutwright.survey.elastic import Elastic, settle
from strutwright.survey.evidence import Explained, Linear, explain, linear
from strutwright.survey.hypotheses import Hypothesis
from strutwright.survey.screening import Case, close_up, priors, screen
from strutwright.survey.settings import Spread
from strutwright.survey.sight import Sight

__all__ = ["Court", "Finding", "court_of"]

TAKEN_UP: Final = 6
"""Hypotheses that are taken up at their own best shape."""


@dataclass(frozen=True, eq=False)
class Finding:
    """A hypothesis, its probability after the readings, and the shape under it."""

    case: Case
    explained: Explained
    probability: float

    @property
    def hypothesis(self) -> Hypothesis:
        """Return what is supposed."""
        return self.case.hypothesis


@dataclass(frozen=True, eq=False)
class Court:
    """The readings that hypotheses are held against.

    Parameters
    ----------
    elastic : Elastic
    sight : Sight
    spread : Spread
    still : Linear
        The readings about the shell as designed.
    """

    elastic: Elastic
    sight: Sight
    spread: Spread
    still: Linear

    def hear(self, hypotheses: Iterable[Hypothesis], less: float = 0.0) -> list[Case]:
        """Return those of `hypotheses` that close, weighed; `less` is taken off their log."""
        every = list(hypotheses)
        closed = close_up(self.elastic, every, (self.sight, self.still))
        weighed = self.weigh(closed, Counter(one.kind for one in every))
        return [replace(one, log_prior=one.log_prior - less) for one in weighed]

    def weigh(self, cases: Iterable[Case], thought_of: Counter[str]) -> list[Case]:
        """Return `cases` with prior and evidence."""
        return screen(self.elastic, self.sight, self.spread, priors(cases, thought_of))

    def verdict(self, cases: Sequence[Case]) -> list[Finding]:
        """Return the likeliest of `cases`, each at its own best shape, most probable first."""
        order = sorted(cases, key=lambda one: -one.score)
        chosen = order[:TAKEN_UP]
        chosen += [one for one in order[TAKEN_UP:] if one.hypothesis.kind == "nothing-wrong"]
        taken = [
            (one, explain(self.elastic, self.sight, self.spread, one.hypothesis, one.rest))
            for one in chosen
        ]
        return _weighed(taken, cases)


def _weighed(taken: Sequence[tuple[Case, Explained]], cases: Sequence[Case]) -> list[Finding]:
    """Return findings with probabilities; what was not taken up counts as it was screened."""
    up = {id(one) for one, _ in taken}
    scores = [one.log_prior + explained.log_evidence for one, explained in taken]
    rest = [one.score for one in cases if id(one) not in up]
    total = float(logsumexp([*scores, *rest]))
    found = [
        Finding(replace(one, log_evidence=explained.log_evidence), explained,
                float(np.exp(score - total)))
        for (one, explained), score in zip(taken, scores, strict=True)
    ]  # fmt: skip
    return sorted(found, key=lambda one: -one.probability)


def court_of(elastic: Elastic, sight: Sight, spread: Spread) -> tuple[Court, Case]:
    """Return the readings of `sight` ready to judge, and the case that nothing is wrong."""
    rest = settle(elastic, elastic.lengths)
    nothing = Hypothesis("nothing-wrong")
    return Court(elastic, sight, spread, linear(elastic, rest, sight, spread, nothing)), Case(
        nothing, rest, 0.0
    )
