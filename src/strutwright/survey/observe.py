"""From what the tape read to distances between hub centres at the reference temperature."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import numpy as np

from strutwright.adjust import CRITICAL
from strutwright.brief import Reading
from strutwright.errors import InputError, Problem
from strutwright.parts import Kit
from strutwright.sentences import Sentence, note, sentence
from strutwright.survey.settings import REFERENCE, Spread
from strutwright.values import Note

__all__ = ["Measure", "Measured", "reduce_readings", "taped_offset"]

_LOOKS: Final = "slip-looks."
_SLIPS: Final = (
    (0.3048, "feet-as-metres"),
    (1 / 0.3048, "metres-as-feet"),
    (0.0254, "inches-as-metres"),
    (25.4, "inches-as-mm"),
    (1 / 25.4, "mm-as-inches"),
    (0.01, "point-two"),
    (10.0, "point-one"),
    (0.1, "point-one"),
    (100.0, "point-two"),
    (0.001, "mm-as-metres"),
    (1000.0, "metres-as-mm"),
)
"""Design over reading, and what happened."""
SLIP_MATCH: Final = 0.04
"""A slip is named when the reading times its factor is this near to the design: our choice."""
OFF_SHARE, OFF_LEAST = 0.25, 0.15
"""A reading further from the design than this share of it, and than 0.15 m, is no misfit of a
shell that stands but a misreading: it is put aside. Our choice."""


@dataclass(frozen=True)
class Measure:
    """A reading brought to hub centres at the reference temperature.

    Parameters
    ----------
    reading : Reading
    kind : str
        ``distance`` or ``height``; a cut length is a distance too.
    hubs : tuple of int
    value, design, sigma : float, m
    """

    reading: Reading
    kind: str
    hubs: tuple[int, ...]
    value: float
    design: float
    sigma: float

    @property
    def name(self) -> str:
        """Return what the reader knows it by."""
        return f"{self.reading.kind} {' to '.join(map(str, self.reading.hubs))}"


@dataclass(frozen=True)
class Measured:
    """All readings of a survey: those used, those put aside with the reason, and notes."""

    used: tuple[Measure, ...]
    aside: tuple[tuple[Measure, str], ...] = ()
    notes: tuple[Note, ...] = ()


def taped_offset(kit: Kit, at: str) -> float | None:
    """Return what a tape held `at` both hubs reads beyond the distance of their centres, m.

    At the bolts the nearer holes are meant, at the outside the farther faces; None where the
    connector does not say how far they are from the centre.
    """
    if at == "centre":
        return 0.0
    if at == "bolt":
        away = kit.connector.bolt_from_centre
        return None if away is None else -2 * away
    away = kit.connector.outside_from_centre
    return None if away is None else 2 * away


def reduce_readings(readings: Sequence[Reading], kit: Kit, spread: Spread) -> Measured:
    """Return `readings` as measures between hub centres at the reference temperature.

    A tape held outside reads more than the centres are apart by twice the connector's reach, at
    the bolts less by twice their distance from the centre. A frame at another temperature than
    `REFERENCE` is larger by its material's expansion in all its measures alike; the tape's own
    growth is left alone. A reading that no standing shell can give is put aside and named.

    Raises
    ------
    InputError
        ``readings-at-unknown``: the connector does not say where a tape held there is.
    """
    problems: list[Problem] = []
    used: list[Measure] = []
    aside: list[tuple[Measure, str]] = []
    for reading in readings:
        if reading.kind == "sink":
            continue  # says how stiff the joints are, not where hubs are
        measure = _measure(reading, kit, spread, problems)
        if measure is None:
            continue
        reason = _slip(measure, kit)
        if reason:
            aside.append((measure, reason))
        else:
            used.append(measure)
    if problems:
        raise InputError.of(problems)
    notes = (*_notes(readings, aside, kit), *_contradictions(used))
    return Measured(tuple(used), tuple(aside), notes)


def _measure(reading: Reading, kit: Kit, spread: Spread, problems: list[Problem]) -> Measure | None:
    hubs, shell = reading.hubs, kit.shell
    growth = 1.0
    if reading.temperature is not None:
        growth += kit.stock.material.expansion * (reading.temperature - REFERENCE)
    if reading.kind == "height":
        if reading.at != "centre":
            problems.append(_unknown(reading, "the height of a hub is that of its centre"))
            return None
        ground = float(shell.hubs[shell.base, 2].mean())
        design = float(shell.hubs[hubs[0], 2]) - ground
        sigma = spread.level if reading.sigma is None else reading.sigma
        return Measure(reading, "height", hubs, reading.value / growth, design, sigma)
    design = float(np.linalg.norm(shell.hubs[hubs[1]] - shell.hubs[hubs[0]]))
    if reading.kind == "strut":
        strut = int(np.flatnonzero((shell.struts == hubs).all(axis=1))[0])
        value = reading.value / growth + float(kit.allowances[strut].sum())
        sigma = spread.cut if reading.sigma is None else reading.sigma
        return Measure(reading, "distance", hubs, value, design, sigma)
    offset = taped_offset(kit, reading.at)
    if offset is None:
        text = f"{kit.connector.id} does not say how far {reading.at} is from the hub's centre"
        problems.append(_unknown(reading, text))
        return None
    sigma = spread.tape if reading.sigma is None else reading.sigma
    return Measure(reading, "distance", hubs, (reading.value - offset) / growth, design, sigma)


def _unknown(reading: Reading, what: str) -> Problem:
    return Problem(
        "readings-at-unknown", what, f"line {reading.line}", "hold the tape at the centres"
    )


def _slip(measure: Measure, kit: Kit) -> str:
    """Return why `measure` cannot be what was meant, or nothing."""
    off = abs(measure.value - measure.design)
    size = max(measure.design, 0.2 * kit.shell.size)
    if off <= max(OFF_LEAST, OFF_SHARE * size):
        return ""
    for factor, words in _SLIPS:
        if abs(measure.value * factor - measure.design) < SLIP_MATCH * abs(measure.design):
            return sentence(_LOOKS + words)
    return sentence("slip-other")


def _notes(
    readings: Sequence[Reading], aside: Sequence[tuple[Measure, str]], kit: Kit
) -> tuple[Note, ...]:
    notes = [
        note(
            "readings-put-aside",
            line=measure.reading.line,
            measure=measure.name,
            value=measure.reading.value,
            design=measure.design,
            reason=reason,
        )
        for measure, reason in aside
    ]
    slips = Counter(r.key for _, r in aside if isinstance(r, Sentence) and r.key != "slip-other")
    common = [key for key, n in slips.items() if n > max(1, len(readings) / 2)]
    notes += [
        note("readings-one-slip", n=slips[key], total=len(readings), slip=sentence(key))
        for key in common
    ]
    if any(one.temperature is None for one in readings):
        per_ten = 10 * kit.stock.material.expansion * kit.shell.size
        said = {"reference": REFERENCE, "per_ten": per_ten}
        notes.append(note("readings-temperature-assumed", **said))
    return tuple(notes)


def _contradictions(used: Sequence[Measure]) -> tuple[Note, ...]:
    """Return notes of measures of one pair of hubs that cannot both be right."""
    notes = []
    for first, second in combinations(used, 2):
        apart = abs(first.value - second.value)
        if (first.kind, first.hubs) != (second.kind, second.hubs) or (
            apart <= CRITICAL * np.hypot(first.sigma, second.sigma)
        ):
            continue
        lines = {"first": first.reading.line, "second": second.reading.line}
        notes.append(note("readings-contradict", **lines, apart=apart, measure=first.name))
    return tuple(notes)
