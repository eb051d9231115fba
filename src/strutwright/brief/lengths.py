"""Lengths sent back by whoever cut them: a CSV file of label and length, a line a piece."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Final

from strutwright.brief.files import read_text
from strutwright.errors import InputError, Problem
from strutwright.units import parse_length

__all__ = ["parse_lengths", "read_lengths"]

LARGEST_FILE: Final = 1024 * 1024
"""Bytes; our choice: some fifty thousand pieces."""


def read_lengths(path: str | Path) -> list[tuple[str, float]]:
    """Return the labels and lengths (m) in the file at `path`.

    Raises
    ------
    InputError
        ``lengths-unreadable``, or all lines that cannot be read at once.
    """
    text = read_text(path, LARGEST_FILE, lambda what: _refuse(what, str(path)))
    return parse_lengths(text, str(path))


def parse_lengths(text: str, name: str = "lengths") -> list[tuple[str, float]]:
    """Return the labels and lengths (m) in `text`, whose lines are ``label,length``.

    Raises
    ------
    InputError
        ``lengths-unreadable``, or all lines that cannot be read at once.
    """
    found: list[tuple[str, float]] = []
    problems: list[Problem] = []
    for number, line in enumerate(text.splitlines(), start=1):
        fields = [field.strip() for field in next(csv.reader([line]), [])]
        if not any(fields) or line.lstrip().startswith("#") or fields[0].lower() == "label":
            continue
        where = f"{name} (line {number})"
        try:
            if len(fields) != 2:
                raise _refuse(f"{len(fields)} fields where 2 are wanted", where)
            found.append((fields[0], parse_length(fields[1], where)))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError.of(problems)
    if not found:
        raise _refuse("holds no length", name)
    return found


def _refuse(what: str, where: str) -> InputError:
    mend = "write a line for each piece: label,length, such as A,1469 mm"
    return InputError("lengths-unreadable", what, where, mend)
