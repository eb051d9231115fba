"""An old kit in CSV: lines, hubs and struts, or lengths with counts."""

from __future__ import annotations

import csv
from typing import Final

from strutwright.errors import InputError, Problem
from strutwright.units import parse_exact

__all__ = ["Lengths", "Lines", "length_of", "read_csv"]

Lines = list[tuple[tuple[float, ...], tuple[float, ...]]]
"""Both ends of each strut, m."""
Lengths = list[tuple[float, int]]
"""Length, m, and how many there are."""

HEADS: Final = (
    ("x1", "y1", "z1", "x2", "y2", "z2"),
    ("hub", "x", "y", "z"),
    ("from", "to"),
    ("length", "count"),
)
MOST_COUNT: Final = 100_000
"""Struts of one length; our choice: more is a slip of the keyboard."""
HEAD_MEND: Final = "begin with one of the lines " + ", ".join(f'"{",".join(h)}"' for h in HEADS)
UNIT_MEND: Final = 'write units, as 1181 mm, or say unit = "mm" in the brief'


def length_of(text: str, unit: str | None, where: str) -> float:
    """Return a coordinate or length, m; `unit` is that of a bare number."""
    words = text.strip()
    try:
        float(words)
    except ValueError:
        return float(parse_exact(words, "length", signed=True, where=where))
    if unit is None:
        what = f'"{words}" stands without a unit'
        raise InputError("import-unit", what, where, UNIT_MEND)
    if "e" in words.lower() or not words.strip("+-").replace(".", "", 1).isdigit():
        value = float(words) * float(parse_exact(f"1 {unit}", "length", where=where))
        if not abs(value) < 1e6:
            what = f'"{words}" is no place or length'
            raise InputError("import-row", what, where, "write a finite number")
        return value
    return float(parse_exact(f"{words.lstrip('+')} {unit}", "length", signed=True, where=where))


def read_csv(data: bytes, name: str, unit: str | None) -> tuple[Lines, Lengths]:
    """Return the struts of a CSV file.

    Raises
    ------
    InputError
        Every line that is wrong, at once.
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        what = "is no text in UTF-8"
        raise InputError("import-file", what, name, "save it as CSV in UTF-8") from None
    scan = _Scan(unit)
    problems: list[Problem] = []
    for number, line in enumerate(text.splitlines(), start=1):
        where = f"{name} (line {number})"
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        try:
            scan.take([field.strip() for field in next(csv.reader([line]))], where)
        except (InputError, csv.Error) as error:
            problems += _problems(error, where)
    problems += scan.dangling(name)
    if problems:
        raise InputError.of(problems)
    return scan.all_lines(), scan.lengths


def _problems(error: InputError | csv.Error, where: str) -> tuple[Problem, ...]:
    if isinstance(error, InputError):
        return error.problems
    return (Problem("import-row", str(error), where, "write plain comma-separated values"),)


class _Scan:
    """The lines read so far."""

    def __init__(self, unit: str | None) -> None:
        self.unit = unit
        self.head: tuple[str, ...] = ()
        self.lines: Lines = []
        self.lengths: Lengths = []
        self.hubs: dict[str, tuple[float, ...]] = {}
        self.struts: list[tuple[str, str, str]] = []

    def take(self, fields: list[str], where: str) -> None:
        head = tuple(field.lower() for field in fields)
        if head in HEADS:
            self.head = head
            return
        if not self.head:
            what = f'"{",".join(fields)}" stands where a head is wanted'
            raise InputError("import-row", what, where, HEAD_MEND)
        if len(fields) != len(self.head):
            what = f"{len(fields)} values where {len(self.head)} are wanted"
            raise InputError("import-row", what, where, f"write {','.join(self.head)}")
        if self.head == HEADS[0]:
            values = tuple(length_of(field, self.unit, where) for field in fields)
            self.lines.append((values[:3], values[3:]))
        elif self.head == HEADS[1]:
            self._hub(fields, where)
        elif self.head == HEADS[2]:
            self.struts.append((fields[0], fields[1], where))
        else:
            self.lengths.append((self._length(fields[0], where), _count(fields[1], where)))

    def _hub(self, fields: list[str], where: str) -> None:
        if fields[0] in self.hubs:
            what = f"hub {fields[0]} stands twice"
            raise InputError("import-row", what, where, "give each hub a name of its own")
        self.hubs[fields[0]] = tuple(length_of(field, self.unit, where) for field in fields[1:])

    def _length(self, text: str, where: str) -> float:
        value = length_of(text, self.unit, where)
        if not value > 0:
            what = f'length "{text}" is not above zero'
            raise InputError("import-row", what, where, "write the length of a strut")
        return value

    def dangling(self, name: str) -> list[Problem]:
        """Return the struts whose hubs are not there, and a mix of lines and lengths."""
        found = [
            Problem("import-row", f"hub {hub} is not in the file", where, "add it, or correct it")
            for *ends, where in self.struts
            for hub in dict.fromkeys(ends)
            if hub not in self.hubs
        ]
        if self.lengths and (self.lines or self.hubs):
            what = "lengths and lines stand in one file"
            found.append(Problem("import-row", what, name, "keep one of the two"))
        return found

    def all_lines(self) -> Lines:
        return [*self.lines, *((self.hubs[i], self.hubs[j]) for i, j, _ in self.struts)]


def _count(text: str, where: str) -> int:
    if not (text.isascii() and text.isdigit()) or not 1 <= int(text) <= MOST_COUNT:
        what = f'"{text}" is no number of struts'
        raise InputError("import-row", what, where, f"write a whole number, 1 to {MOST_COUNT}")
    return int(text)
