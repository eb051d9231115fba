"""Shells built wrong on purpose, taped with errors, and how often the diagnosis finds the fault."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from strutwright.brief import Reading
from strutwright.parts import Kit
from strutwright.survey.diagnose import Diagnosis, diagnose, thought_of
from strutwright.survey.elastic import GROUND, Elastic, settle
from strutwright.survey.evidence import made_to
from strutwright.survey.observe import Measure
from strutwright.survey.screening import Case, Prepared
from strutwright.survey.settings import REFERENCE, Spread
from strutwright.values import HubPoints

__all__ = ["Stand", "Trials", "built", "simulate_swaps", "simulate_true", "taped"]


@dataclass(frozen=True)
class Trials:
    """How a diagnosis did.

    Parameters
    ----------
    n : int
        Shells.
    first, among_three : int
        How often the true cause was the first suspect, or among the first three, of all kinds,
        and an alarm given: what is not told does not count.
    alarms : int
        How often anything was suspected at all.
    """

    n: int
    first: int
    among_three: int
    alarms: int


@dataclass(frozen=True)
class Stand:
    """A shell, the pairs of hubs that are taped on it, and how exact everything is."""

    kit: Kit
    elastic: Elastic
    pairs: tuple[tuple[int, int], ...]
    spread: Spread


def built(
    elastic: Elastic, case: Case | None, spread: Spread, rng: np.random.Generator
) -> HubPoints:
    """Return the shape of a shell built with errors: struts, base heights, and the `case`."""
    lengths = elastic.lengths if case is None else made_to(elastic, case.hypothesis)
    lengths = lengths + rng.normal(0.0, spread.strut, len(lengths))
    load = np.zeros(elastic.hubs.size)
    load[elastic.heights] = GROUND * rng.normal(0.0, spread.level, len(elastic.base))
    start = None if case is None else case.rest.shape
    return settle(elastic, lengths, start=start, load=load).shape


def taped(
    shape: HubPoints, pairs: Sequence[tuple[int, int]], spread: Spread, rng: np.random.Generator
) -> tuple[Measure, ...]:
    """Return distances of `pairs` taped on `shape`, with the tape's errors."""
    found = []
    for first, second in pairs:
        length = float(np.linalg.norm(shape[second] - shape[first]))
        value = length + float(rng.normal(0.0, spread.tape))
        reading = Reading("distance", (first, second), "centre", value, None, REFERENCE)
        found.append(Measure(reading, "distance", (first, second), value, length, spread.tape))
    return tuple(found)


def simulate_swaps(stand: Stand, cases: Sequence[Case], trials: int, seed: int) -> Trials:
    """Return how often each of `cases`, in turn, is found in `trials` shells built with it."""
    rng = np.random.default_rng(seed)
    known = _known(stand)
    counts = np.zeros(3, dtype=int)
    for trial in range(trials):
        case = cases[trial % len(cases)]
        found = _diagnosed(stand, case, rng, known)
        place = _place(found, case)
        counts += [found.alarm and place < 1, found.alarm and place < 3, found.alarm]
    return Trials(trials, *map(int, counts))


def simulate_true(stand: Stand, trials: int, seed: int) -> Trials:
    """Return how often a shell with nothing wrong is suspected."""
    rng = np.random.default_rng(seed)
    known = _known(stand)
    alarms = sum(_diagnosed(stand, None, rng, known).alarm for _ in range(trials))
    return Trials(trials, trials - alarms, trials - alarms, alarms)


def _diagnosed(
    stand: Stand, case: Case | None, rng: np.random.Generator, known: Prepared
) -> Diagnosis:
    shape = built(stand.elastic, case, stand.spread, rng)
    measures = taped(shape, stand.pairs, stand.spread, rng)
    return diagnose(stand.kit, stand.elastic, measures, stand.spread, known)


def _known(stand: Stand) -> Prepared:
    measures = taped(stand.elastic.hubs, stand.pairs, stand.spread, np.random.default_rng(0))
    return thought_of(stand.kit, stand.elastic, measures, stand.spread)


def _place(found: Diagnosis, case: Case) -> int:
    """Return the place of the true cause among the suspects."""
    truth = case.hypothesis
    suspects = [one for one in found.findings if one.hypothesis.kind != "nothing-wrong"]
    for place, one in enumerate(suspects):
        if one.hypothesis.kind == truth.kind and one.hypothesis.struts == truth.struts:
            return place
    return len(found.findings)
