"""Findings in words: what to look at first, and the reading that would decide best."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from strutwright.parts import Kit
from strutwright.survey.court import Finding
from strutwright.survey.diagnose import Diagnosis
from strutwright.survey.elastic import Elastic, settle
from strutwright.survey.evidence import linear
from strutwright.survey.greedy import pairs_within
from strutwright.survey.hypotheses import Hypothesis
from strutwright.survey.observe import Measure
from strutwright.survey.settings import Spread
from strutwright.survey.sight import Sight, sight_of_pairs
from strutwright.survey.values import NextReading, Suspect
from strutwright.units import show_length
from strutwright.values import Floats

__all__ = ["next_reading", "suspects_of"]

LEAST_SHOWN: Final = 0.01
MOST_SHOWN: Final = 8
"""Suspects below this probability, or after so many, are not shown."""
MOST_CANDIDATES: Final = 1500


def suspects_of(
    diagnosis: Diagnosis, kit: Kit, measures: Sequence[Measure], system: str = "metric"
) -> tuple[Suspect, ...]:
    """Return the suspects of `diagnosis` with what to look at first; none without an alarm."""
    if not diagnosis.alarm:
        return ()
    found = [
        _suspect(one, kit, measures, system)
        for one in diagnosis.findings
        if one.probability >= LEAST_SHOWN and one.hypothesis.kind != "nothing-wrong"
    ]
    return tuple(found[:MOST_SHOWN])


def _suspect(one: Finding, kit: Kit, measures: Sequence[Measure], system: str) -> Suspect:
    supposed = one.hypothesis
    struts = list(supposed.struts)
    hubs = supposed.hubs or tuple(sorted({int(h) for h in kit.shell.struts[struts].ravel()}))
    misread = None if supposed.misread is None else measures[supposed.misread]
    return Suspect(
        hypothesis=supposed.kind,
        struts=supposed.struts,
        hubs=hubs,
        probability=one.probability,
        look=_look(one, kit, misread, system),
        size=_amount(one, kit),
        force=one.case.force if supposed.changed else None,
        line=None if misread is None else misread.reading.line,
    )


def _amount(one: Finding, kit: Kit) -> float:
    """Return how much, m; of what is pushed, how far the hub that went furthest is off."""
    if not one.hypothesis.pushes:
        return one.explained.size
    hubs = list(one.hypothesis.hubs)
    return float(np.linalg.norm((one.explained.shape - kit.shell.hubs)[hubs], axis=1).max())


def _named(kit: Kit, strut: int, system: str) -> str:
    kind = kit.strut_types[int(kit.strut_type_of[strut])]
    first, second = kit.shell.struts[strut]
    cut = show_length(kind.cut_length, system)
    return f"strut {strut} between hubs {first} and {second} (should be {kind.label}, {cut})"


def _look(one: Finding, kit: Kit, misread: Measure | None, system: str) -> str:
    supposed, size = one.hypothesis, _amount(one, kit)
    names = [_named(kit, strut, system) for strut in supposed.struts]
    shown = show_length(abs(size), system)
    said = ""
    match supposed.kind:
        case "swapped":
            said = f"Measure {names[0]} and {names[1]}: each may lie in the other's place."
        case "wrong-type":
            strut, made = supposed.changed[0]
            cut = made - float(kit.allowances[strut].sum())
            said = f"Measure {names[0]}: it may be one of {show_length(cut, system)}."
        case "turned-hub":
            said = (
                f"Compare the struts at hub {supposed.hubs[0]} with the plan: it may be turned by "
                "one spoke, each strut in its neighbour's place."
            )
        case "bent":
            said = f"Sight along {names[0]}: it seems {shown} short, bent or cut so."
        case "brace-missing":
            said = f"See whether {names[0]}, an inner brace, is there: it seems {shown} off."
        case "off-peg":
            said = f"Tape base hub {supposed.hubs[0]} from its pegs: it seems {shown} off."
        case "base-spread":
            said = f"Take the widths of the base: it seems spread or oval by {shown}."
        case "misread":
            line = 0 if misread is None else misread.reading.line
            name = "" if misread is None else misread.name
            said = f"Take the reading on line {line} again ({name}): it seems {shown} off."
    return said


def next_reading(
    diagnosis: Diagnosis,
    kit: Kit,
    elastic: Elastic,
    spread: Spread,
    taken: tuple[Sight, float],
    *,
    system: str = "metric",
) -> NextReading | None:
    """Return the reading that would tell the likeliest suspects apart best, if any would.

    Of all hub pairs within reach: the one that leaves the smallest sum of sqrt(p_h p_k)
    exp(-d2 / 8) over the pairs of findings, d the distance of what they expect in standard
    deviations, given what was read already.

    Parameters
    ----------
    taken : (Sight, float)
        The readings already taken, and the height (m) that a reading may reach to.
    """
    sight, reach = taken
    leading = [one for one in diagnosis.findings if one.probability >= LEAST_SHOWN]
    if not diagnosis.alarm or len(leading) < 2:
        return None
    pairs = np.array(list(pairs_within(kit.shell.hubs, reach)), dtype=np.int64).reshape(-1, 2)
    read = {tuple(sorted(pair)) for pair in zip(sight.first.tolist(), sight.second.tolist(),
                                                strict=True)}  # fmt: skip
    read |= {(int(i), int(j)) for i, j in kit.shell.struts}
    pairs = np.array([p for p in pairs.tolist() if tuple(p) not in read], dtype=np.int64)
    if not len(pairs):
        return None
    shapes = np.array([one.explained.shape for one in leading])
    possible = sight_of_pairs(pairs, kit.shell.hubs, spread.tape)
    expected = possible.predict(shapes)
    variance = _left(elastic, sight, possible, spread) + spread.tape**2
    share = np.sqrt([one.probability for one in leading])
    gaps = (expected[:, None] - expected[None, :]) ** 2 / variance
    confusion = np.einsum("i,j,ijk->k", share, share, np.exp(-gaps / 8))
    best = int(np.argmin(confusion))
    return NextReading(
        "distance",
        (int(pairs[best, 0]), int(pairs[best, 1])),
        float(expected[0, best]),
        _why(leading, expected[:, best], system),
    )


def _left(elastic: Elastic, sight: Sight, possible: Sight, spread: Spread) -> Floats:
    """Return the variance (m2) of each possible reading on a true shell, given those taken."""
    rest = settle(elastic, elastic.lengths)
    both = Sight(
        np.concatenate([sight.first, possible.first]),
        np.concatenate([sight.second, possible.second]),
        np.concatenate([sight.values, possible.values]),
        np.concatenate([sight.sigmas, possible.sigmas]),
    )
    found = linear(elastic, rest, both, spread, Hypothesis("nothing-wrong"))
    gains = found.gains * np.sqrt(found.variance)
    n = len(sight.values)
    old, new = gains[:n], gains[n:]
    own = old @ old.T + np.diag(found.noise[:n])
    cross = new @ old.T
    left: Floats = (new**2).sum(axis=1) - np.einsum(
        "ij,ji->i", cross, np.linalg.solve(own, cross.T)
    )
    return np.maximum(left, 0.0)


def _why(leading: Sequence[Finding], expected: Floats, system: str) -> str:
    first, second = leading[:2]
    return (
        f"{_short(first)} would read {show_length(float(expected[0]), system)}, "
        f"{_short(second)} {show_length(float(expected[1]), system)}"
    )


def _short(one: Finding) -> str:
    struts = " and ".join(map(str, one.hypothesis.struts))
    hubs = " ".join(map(str, one.hypothesis.hubs)) if len(one.hypothesis.hubs) < 3 else ""
    return f"{one.hypothesis.kind} {struts or hubs}".strip()
