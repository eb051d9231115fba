"""What is wrong with a built shell, as ranked suspects with their probability."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.special import chdtrc

from strutwright.parts import Kit
from strutwright.survey.court import Finding, court_of
from strutwright.survey.elastic import Elastic, settle
from strutwright.survey.evidence import log_evidence
from strutwright.survey.hypotheses import (
    bases_off,
    far_swaps,
    misreadings,
    neighbour_swaps,
    real_struts,
    strut_errors,
    turned_hubs,
    wrong_types,
)
from strutwright.survey.observe import Measure
from strutwright.survey.screening import Case, Prepared, close_up, prepare, priors
from strutwright.survey.settings import Spread
from strutwright.survey.sight import sight_of
from strutwright.values import Indices

__all__ = ["POOR", "Diagnosis", "diagnose", "thought_of"]

CLEARLY_TRUE: Final = 0.9
"""Readings that a true shell gives more often than this leave no room for a suspect."""
LIKELY_STRUTS: Final = 20
"""Struts whose length, left free, explains most: they are tried as every other type."""
FAR: Final = float(np.log(4.0))
"""How much rarer a swap of struts that share no hub is, as a log. Our choice."""
INNOCENT: Final = 1 / 3
"""An alarm is given when something wrong is twice as likely as nothing. Measured on the
4-frequency dome with 16 readings: of 500 true shells 1 % are suspected, at even odds 3 %; of
720 swaps 94 % are named among the first three either way."""
POOR: Final = 1e-3
"""A best explanation that readings contradict this much is not the whole story."""


@dataclass(frozen=True, eq=False)
class Diagnosis:
    """What the readings say is wrong.

    Parameters
    ----------
    findings : tuple of Finding
        Those taken up, most probable first, ``nothing-wrong`` among them.
    chance : float
        Probability that a true shell gives readings as far off as these.
    alarm : bool
        Something is wrong beyond the standard deviations.
    fits : float
        Probability of a misfit as large as that of the best finding, if it is true.
    """

    findings: tuple[Finding, ...]
    chance: float
    alarm: bool
    fits: float

    @property
    def best(self) -> Finding:
        """Return the most probable finding."""
        return self.findings[0]


def diagnose(
    kit: Kit,
    elastic: Elastic,
    measures: Sequence[Measure],
    spread: Spread,
    known: Prepared | None = None,
) -> Diagnosis:
    """Return what may be wrong with the built shell, most probable first.

    Every hypothesis has a shape of its own: the struts made as it says, the shell at rest. Its
    evidence is the density of the readings about that shape, sawing, hub play, base level and
    tape taken into account; for the likeliest it is taken again at the shape that the readings
    themselves ask for.

    Parameters
    ----------
    known : Prepared, optional
        What `thought_of` gives for readings of these kinds, where it was worked out before.
    """
    ground = float(kit.shell.hubs[kit.shell.base, 2].mean())
    sight = sight_of(measures, ground)
    court, still = court_of(elastic, sight, spread)
    _, misfit = log_evidence(court.still, sight.values)
    chance = float(chdtrc(len(measures), misfit)) if measures else 1.0
    if chance > CLEARLY_TRUE:
        found = court.verdict(court.weigh([still], Counter([still.hypothesis.kind])))
        return Diagnosis(tuple(found), chance, alarm=False, fits=chance)
    cases = court.weigh([still], Counter([still.hypothesis.kind]))
    closing = [*neighbour_swaps(kit), *turned_hubs(kit)]
    soft = [*strut_errors(kit), *bases_off(kit), *misreadings(tuple(measures))]
    if known is None:
        cases += court.hear(closing)
        still_cases = [Case(one, still.rest, 0.0) for one in soft]
        cases += court.weigh(still_cases, Counter(one.kind for one in soft))
    else:
        count = Counter(one.kind for one in (*closing, *soft))
        count["wrong-type"] = sum(one.hypothesis.kind == "wrong-type" for one in known.cases)
        weighed = priors(known.cases, count)
        cases += known.screen(sight.values, np.array([one.log_prior for one in weighed]))
    likely = _likely_struts(cases)
    if known is None:
        cases += court.hear(wrong_types(kit, likely))
    found = court.verdict(cases)
    if _fits(found, len(measures)) < POOR:
        cases += court.hear(far_swaps(kit, likely), less=FAR)
        found = court.verdict(cases)
    innocent = sum(one.probability for one in found if one.hypothesis.kind == still.hypothesis.kind)
    alarm = innocent < INNOCENT
    return Diagnosis(tuple(found), chance, alarm=alarm, fits=_fits(found, len(measures)))


def thought_of(kit: Kit, elastic: Elastic, measures: Sequence[Measure], spread: Spread) -> Prepared:
    """Return what `diagnose` tries, at rest and ready for many sets of such `measures`.

    Every strut is tried as every other type, not only the likeliest.
    """
    sight = sight_of(measures, 0.0)
    still = settle(elastic, elastic.lengths)
    closing = [*neighbour_swaps(kit), *turned_hubs(kit), *wrong_types(kit, real_struts(kit))]
    closed = close_up(elastic, closing)
    soft = [*strut_errors(kit), *bases_off(kit), *misreadings(tuple(measures))]
    closed += [Case(one, still, 0.0) for one in soft]
    return prepare(elastic, sight, spread, closed)


def _likely_struts(cases: Sequence[Case]) -> Indices:
    """Return the struts that explain most when their length is left free, or in a swap."""
    best: dict[int, float] = {}
    for one in cases:
        if one.hypothesis.kind in {"bent", "brace-missing", "swapped", "turned-hub"}:
            for strut in one.hypothesis.struts:
                best[strut] = max(best.get(strut, -np.inf), one.log_evidence)
    order = sorted(best, key=lambda strut: (-best[strut], strut))
    return np.array(order[:LIKELY_STRUTS], dtype=np.int64)


def _fits(found: Sequence[Finding], n: int) -> float:
    return float(chdtrc(n, found[0].explained.misfit))
