"""The workshop's own tests of a connector, as values of that connector."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any, Final

from strutwright.brief import HubTest
from strutwright.catalogue import Connector, Source
from strutwright.catalogue.en1990_d import LEAST_SAMPLES, characteristic, characteristic_high
from strutwright.errors import InputError, Problem
from strutwright.sentences import note
from strutwright.values import Note

__all__ = ["test_notes", "tested"]

Readings = tuple[float, ...]


def _range(readings: Readings) -> tuple[float, float]:
    return characteristic(list(readings)), characteristic_high(list(readings))


def _low(readings: Readings) -> float:
    return characteristic(list(readings))


def _high(readings: Readings) -> float:
    return characteristic_high(list(readings))


_VALUES: Final[Mapping[str, tuple[str, Callable[[Readings], Any]]]] = MappingProxyType(
    {
        "bend": ("rotational_stiffness", _range),
        "slip": ("slip", _high),
        "offset": ("eccentricity", _high),
        "coupler": ("coupler_stiffness", _low),
        "coupler_bend": ("coupler_moment", _low),
        "coupler_pull": ("coupler_pull", _low),
    }
)
"""Field of the connector that each kind of test gives, and how. Strength is apart."""
KINDS: Final = ("pull", "push", *_VALUES)


def tested(made: Connector, tests: tuple[HubTest, ...], where: str) -> Connector:
    """Return `made` with the results of `tests` in place of its values.

    Readings of one kind are taken together. Strength is the 5 per cent characteristic value, the
    smaller of pull and push; stiffness runs from its 5 to its 95 per cent value; slip and offset
    are 95 per cent values. Source: EN 1990 Annex D, D7.2, lognormal, variation unknown.

    Raises
    ------
    InputError
        ``samples-too-few`` or ``test-reading``: all kinds that are wrong, at once.
    """
    readings = {kind: _together(tests, kind) for kind in KINDS}
    given = {kind: values for kind, values in readings.items() if values}
    problems = [*_problems(given, where)]
    if problems:
        raise InputError.of(problems)
    values: dict[str, Any] = {}
    sources = dict(made.sources)
    for kind, (field, result) in _VALUES.items():
        if kind in given:
            values[field] = result(given[kind])
            sources[field] = _source(len(given[kind]))
    strengths = [_low(given[kind]) for kind in ("pull", "push") if kind in given]
    if strengths:
        fewest = min(len(given[kind]) for kind in ("pull", "push") if kind in given)
        values["strength"] = min(strengths)
        sources["strength"] = _source(fewest)
    return replace(made, **values, sources=sources) if values else made


def _together(tests: tuple[HubTest, ...], kind: str) -> Readings:
    return tuple(value for test in tests for value in getattr(test, kind))


def _problems(given: Mapping[str, Readings], where: str) -> list[Problem]:
    found = []
    for kind, values in given.items():
        if len(values) < LEAST_SAMPLES:
            what = f"{len(values)} readings of {kind}, fewer than {LEAST_SAMPLES}"
            mend = f"test {LEAST_SAMPLES} samples or more"
            found.append(Problem("samples-too-few", what, f"{where}: {kind}", mend))
        elif min(values) <= 0.0:
            what = f"a reading of {kind} is {min(values):g}, not above 0"
            mend = "give what was read; leave out a sample that was not tested"
            found.append(Problem("test-reading", what, f"{where}: {kind}", mend))
    return found


def _source(count: int) -> Source:
    return Source(f"workshop test, {count} samples", None, "EN 1990 Annex D, D7.2", "tested")


def test_notes(tests: tuple[HubTest, ...]) -> tuple[Note, ...]:
    """Return what a reader should know of the workshop's tests."""
    if not _together(tests, "pull") or _together(tests, "push"):
        return ()
    return (note("push-not-tested"),)
