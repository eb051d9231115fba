"""READINGS.csv: what was measured on the built shell; all problems at once, each with its line."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from strutwright.brief.cells import cells_of, remark_of
from strutwright.brief.files import read_text
from strutwright.errors import InputError, Problem
from strutwright.sentences import note
from strutwright.units import parse_force, parse_length, parse_temperature
from strutwright.values import Note

__all__ = ["COLUMNS", "KINDS", "Known", "Reading", "Readings", "parse_readings", "read_readings"]

COLUMNS: Final = ("kind", "from", "to", "at", "value", "sigma")
NEEDED: Final = ("kind", "from", "to", "value")
KINDS: Final = ("distance", "width", "height", "strut", "sink")
OF_ONE_HUB: Final = {"height": "a height is of one hub", "sink": "a sink is of one hub"}
FRAME_TEMPERATURES: Final = (-40.0, 65.0)
"""C, between which a frame is taped; our choice: black steel in the sun at the top."""
MOST_LOAD: Final = 50e3
"""N, the most that a load case takes."""
PLACES: Final = ("centre", "bolt", "outside")
LARGEST_FILE: Final = 1024 * 1024
"""Bytes; our choice: some twenty thousand readings."""
MINUS: Final = ("-", "\N{MINUS SIGN}")
_TEMPERATURE: Final = re.compile(r"\s*temperature\s*:\s*(.*?)\s*$", re.IGNORECASE)
_LOAD: Final = re.compile(r"\s*load\s*:\s*(.*?)\s*$", re.IGNORECASE)
_AT_HUB: Final = re.compile(r"(.+?)\s+at\s+(?:hub\s*)?(\d{1,7})$", re.IGNORECASE)


@dataclass(frozen=True)
class Reading:
    """One measure, as it was read.

    Parameters
    ----------
    kind : str
        ``distance`` hub to hub, ``width`` base hub to base hub, ``height`` of a hub above the
        base, ``strut`` cut length found in place, ``sink`` of a hub under a hung load.
    hubs : tuple of int
        Both hubs, the smaller number first; or the one of a height.
    at : str
        Where the tape was held: ``centre``, ``bolt`` or ``outside``.
    value : float, m
    sigma : float or None, m
        None: the default of the brief.
    temperature : float or None, C
        Of the frame; None where the file does not say it.
    line : int
        Line of the file.
    load : (float, int) or None, N
        What hangs while a sink is read, beyond what hung when its zero was, and at which hub.
    """

    kind: str
    hubs: tuple[int, ...]
    at: str
    value: float
    sigma: float | None = None
    temperature: float | None = None
    line: int = 0
    load: tuple[float, int] | None = None


@dataclass(frozen=True)
class Readings:
    """The readings of a file, and what is to be said about them."""

    readings: tuple[Reading, ...]
    name: str = "readings"
    notes: tuple[Note, ...] = ()


@dataclass(frozen=True)
class Known:
    """What a reading may speak of: the number of hubs, base hubs, struts as (i, j), i < j."""

    n_hubs: int
    base: frozenset[int]
    struts: frozenset[tuple[int, int]]


def read_readings(path: str | Path, known: Known) -> Readings:
    """Return the readings in the file at `path`.

    Raises
    ------
    InputError
        All problems of the file at once, each with its line.
    """

    def refuse(what: str) -> InputError:
        mend = "name a text file of readings; strutwright survey BRIEF --plan says which to take"
        return InputError("readings-unreadable", what, str(path), mend)

    return parse_readings(read_text(path, LARGEST_FILE, refuse), str(path), known)


def parse_readings(text: str, name: str, known: Known) -> Readings:
    """Return the readings in `text`; `name` is the file they are told to stand in.

    Raises
    ------
    InputError
        All problems at once, each with its line.
    """
    scan = _Scan(name, known)
    for number, line in enumerate(text.splitlines(), start=1):
        scan.take(number, line.strip())
    if scan.problems:
        raise InputError.of(scan.problems)
    if not scan.found:
        raise InputError(
            "readings-few",
            "holds no reading",
            name,
            "a line is kind,from,to,at,value,sigma, such as width,0,10,centre,6.004 m,",
        )
    readings, notes = _once(scan.found, name)
    return Readings(readings, name, notes)


class _Scan:
    """The lines read so far: readings, problems, the temperature that holds."""

    def __init__(self, name: str, known: Known) -> None:
        self.name, self.known = name, known
        self.columns: tuple[str, ...] = COLUMNS
        self.temperature: float | None = None
        self.load: tuple[float, int] | None = None
        self.found: list[Reading] = []
        self.problems: list[Problem] = []

    def take(self, number: int, line: str) -> None:
        where = f"{self.name} (line {number})"
        remark = remark_of(line)
        try:
            if remark is None:
                self.row(number, line, where)
            elif said := _TEMPERATURE.match(remark):
                self.temperature = _temperature(said[1].replace(",", "."), where)
            elif said := _LOAD.match(remark):
                self.load = _load(said[1].replace(",", "."), where, self.known)
        except InputError as error:
            self.problems += error.problems

    def row(self, number: int, line: str, where: str) -> None:
        fields = cells_of(line)
        if not fields:
            return
        if fields[0].lower() == "kind":
            self.columns = _header(fields, where)
            return
        while fields and not fields[-1] and len(fields) > len(self.columns):
            fields.pop()
        least = max(self.columns.index(name) for name in NEEDED) + 1
        if not least <= len(fields) <= len(self.columns):
            raise InputError(
                "readings-columns",
                f"{len(fields)} fields where {len(self.columns)} are wanted: {line[:60]}",
                where,
                f"write {','.join(self.columns)}; decimals with a point, not a comma (or part the "
                "cells by semicolons)",
            )
        cells = dict.fromkeys(COLUMNS, "") | dict(zip(self.columns, fields, strict=False))
        problems: list[Problem] = []
        holds = self.temperature, self.load
        reading = _reading(cells, number, holds, _Place(where, self.known, problems))
        self.problems += problems
        if reading and not problems:
            self.found.append(reading)


@dataclass(frozen=True)
class _Place:
    where: str
    known: Known
    problems: list[Problem]

    def wrong(self, code: str, what: str, mend: str) -> None:
        self.problems.append(Problem(code, what, self.where, mend))


def _header(fields: list[str], where: str) -> tuple[str, ...]:
    names = tuple(field.lower() for field in fields)
    while names and not names[-1]:
        names = names[:-1]
    known = set(names)
    if len(known) < len(names) or not set(NEEDED) <= known <= set(COLUMNS):
        raise InputError(
            "readings-columns",
            f"the head names {', '.join(names)}",
            where,
            f"the columns are {', '.join(COLUMNS)}",
        )
    return names


def _temperature(text: str, where: str) -> float:
    found = parse_temperature(text, where)
    least, most = FRAME_TEMPERATURES
    if not least <= found <= most:
        raise InputError(
            "readings-temperature",
            f"a frame at {found:g} C is outside {least:g} to {most:g} C",
            where,
            "write the temperature of the frame with its unit, such as 12 C or 54 F",
        )
    return found


def _load(text: str, where: str, known: Known) -> tuple[float, int]:
    said = _AT_HUB.match(text)
    mend = 'write "# load: 445 N at hub 22" before the sinks read under it'
    if said is None:
        raise InputError("readings-load", f'"{text}" is no load at a hub', where, mend)
    force, hub = parse_force(said[1], where), int(said[2])
    if not 0 < force <= MOST_LOAD:
        what = f"{said[1]} is beyond what is hung: above 0 N, up to {MOST_LOAD / 1e3:g} kN"
        raise InputError("readings-load", what, where, mend)
    if hub >= known.n_hubs or hub in known.base:
        what = f"no load is hung at hub {hub}: it is none of the shell's, or stands on the ground"
        raise InputError("readings-load", what, where, mend)
    return force, hub


def _reading(
    cells: dict[str, str],
    line: int,
    holds: tuple[float | None, tuple[float, int] | None],
    place: _Place,
) -> Reading | None:
    kind = cells["kind"].lower()
    if kind not in KINDS:
        place.wrong("readings-kind", f'"{cells["kind"]}" is no kind of reading', _one_of(KINDS))
        return None
    at = cells["at"].lower() or "centre"
    if at not in PLACES:
        place.wrong("readings-at", f'"{cells["at"]}" says not where the tape was', _one_of(PLACES))
    hubs = _hubs(kind, cells, place)
    value = _length(cells["value"], place)
    sigma = _length(cells["sigma"], place) if cells["sigma"] else None
    if hubs is None or value is None:
        return None
    if sigma is not None and sigma <= 0:
        place.wrong("readings-sigma", "a standard deviation of nothing", "leave it empty")
    if kind not in OF_ONE_HUB and value <= 0:
        place.wrong("readings-value", f"{cells['value']} is no length", "write what the tape read")
    temperature, load = holds
    if kind != "sink":
        return Reading(kind, hubs, at, value, sigma, temperature, line)
    if load is None:
        place.wrong(
            "readings-load", "a sink stands before any load",
            'write "# load: 445 N at hub 22" before it',
        )  # fmt: skip
    return Reading(kind, hubs, at, value, sigma, temperature, line, load)


def _length(text: str, place: _Place) -> float | None:
    sign = -1.0 if text.startswith(MINUS) else 1.0
    try:
        return sign * parse_length(text.lstrip("".join(MINUS)).strip(), place.where)
    except InputError as error:
        place.problems.extend(error.problems)
        return None


def _hubs(kind: str, cells: dict[str, str], place: _Place) -> tuple[int, ...] | None:
    known = place.known
    if kind in OF_ONE_HUB:
        if cells["to"]:
            place.wrong("readings-hub", OF_ONE_HUB[kind], 'leave "to" empty')
        one = _hub(cells["from"], place)
        return None if one is None else (one,)
    ends = _hub(cells["from"], place), _hub(cells["to"], place)
    if ends[0] is None or ends[1] is None:
        return None
    first, second = sorted((ends[0], ends[1]))
    if first == second:
        place.wrong("readings-hub", f"from hub {first} to itself", "name two hubs")
        return None
    if kind == "width" and not {first, second} <= known.base:
        off = [hub for hub in (first, second) if hub not in known.base]
        place.wrong("readings-base", f"hub {off[0]} is no base hub", "call it a distance")
    if kind == "strut" and (first, second) not in known.struts:
        place.wrong("readings-strut", f"no strut from hub {first} to {second}", "see the plan")
    return first, second


def _hub(text: str, place: _Place) -> int | None:
    digits = text.lower().removeprefix("hub").strip()
    if not (digits.isascii() and digits.isdigit() and len(digits) < 8):
        place.wrong("readings-hub", f'"{text}" is no hub number', "write the number on the plan")
    elif int(digits) >= place.known.n_hubs:
        last = place.known.n_hubs - 1
        place.wrong("readings-hub", f"no hub {int(digits)}", f"hubs are numbered 0 to {last}")
    else:
        return int(digits)
    return None


def _one_of(words: Iterable[str]) -> str:
    return "write " + " or ".join(words)


def _once(found: list[Reading], name: str) -> tuple[tuple[Reading, ...], tuple[Note, ...]]:
    """Return readings without those written down twice, and notes of what stands twice."""
    kept: list[Reading] = []
    notes: list[Note] = []
    seen: dict[tuple[object, ...], Reading] = {}
    for one in found:
        key = (one.kind.replace("width", "distance"), one.hubs, one.at, one.load)
        before = seen.setdefault(key, one)
        if before is one:
            kept.append(one)
            continue
        head = {
            "name": name,
            "first": before.line,
            "second": one.line,
            "kind": f"reading.{one.kind}",
            "hubs": "-".join(str(hub) for hub in one.hubs),
        }
        apart = abs(one.value - before.value)
        if apart == 0:
            notes.append(note("readings-twice.same", **head))
        else:
            notes.append(note("readings-twice.apart", **head, apart=apart))
            kept.append(one)
    return tuple(kept), tuple(notes)
