"""The file of height readings that `site.levels` names: all problems at once, with their lines."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from strutwright.brief.cells import cells_of, remark_of
from strutwright.brief.files import read_text
from strutwright.brief.values import Brief
from strutwright.errors import InputError, Problem
from strutwright.units import parse_length

__all__ = ["LARGEST_READING", "Level", "levels_of", "parse_levels"]

LARGEST_FILE: Final = 256 * 1024
"""Bytes; our choice: some ten thousand readings."""
LARGEST_READING: Final = 30.0
"""m: a level staff shows no more, and a unit slip is caught."""
FORMS: Final = (
    ("x", "y", "height"),
    ("hub", "height"),
    ("x", "y", "height", "rock"),
    ("hub", "height", "rock"),
)
MEND: Final = (
    "write a head line x,y,height or hub,height, then one reading a line with units, such as "
    "0.0 m,3.5 m,656 mm"
)


@dataclass(frozen=True)
class Level:
    """One height reading of the ground.

    Parameters
    ----------
    x, y : float or None, m
        In plan, x along the length; None where a hub is named.
    hub : int or None
        Base hub beside which the staff stood.
    height : float, m
        Above any datum.
    text : str
        The height as it was written.
    line : int
        Of the file.
    rock : float or None, m
        Depth to rock, where it was probed and met.
    """

    x: float | None
    y: float | None
    hub: int | None
    height: float
    text: str
    line: int
    rock: float | None = None


def levels_of(brief: Brief) -> tuple[Level, ...]:
    """Return the height readings of the file that `brief` names; none where it names none.

    Raises
    ------
    InputError
        ``levels-unreadable``, or all problems of the file at once.
    """
    name = brief.site.levels
    if name is None:
        return ()
    path = brief.beside(name)
    where = brief.where("site.levels")
    text = read_text(
        path,
        LARGEST_FILE,
        lambda what: InputError("levels-unreadable", f"{path}: {what}", where, MEND),
    )
    return parse_levels(text, name)


def parse_levels(text: str, name: str) -> tuple[Level, ...]:
    """Return the readings in `text`; `name` is the file they are told to stand in.

    Raises
    ------
    InputError
        All problems at once, each with its line.
    """
    form: tuple[str, ...] | None = None
    found: list[Level] = []
    problems: list[Problem] = []
    for number, line in enumerate(text.splitlines(), start=1):
        fields = cells_of(line)
        if not fields or remark_of(line) is not None:
            continue
        where = f"{name} (line {number})"
        if form is None:
            form = tuple(field.lower() for field in fields if field)
            if form not in FORMS:
                what = f"the head line is {line.strip()!r}"
                raise InputError("levels-form", what, where, MEND)
            continue
        try:
            found.append(_level(form, fields, number, where))
        except InputError as error:
            problems += error.problems
    if form is None:
        problems.append(Problem("levels-form", "the file holds no reading", name, MEND))
    problems += _twice(found, name)
    if problems:
        raise InputError.of(problems)
    return tuple(found)


def _level(form: tuple[str, ...], fields: list[str], number: int, where: str) -> Level:
    if form[-1] == "rock" and len(fields) == len(form) - 1:
        fields = [*fields, ""]
    if len(fields) != len(form):
        what = f"{len(fields)} fields where {', '.join(form)} are wanted"
        raise InputError("levels-form", what, where, MEND)
    at = form.index("height")
    height = _signed(fields[at], where)
    if abs(height) > LARGEST_READING:
        what = f"a height of {fields[at]} is beyond {LARGEST_READING:g} m"
        mend = "look at the unit: a staff reads mm, m or feet and inches"
        raise InputError("levels-bounds", what, where, mend)
    rock = None
    if form[-1] == "rock" and fields[-1]:
        rock = parse_length(fields[-1], where)
    if form[0] == "hub":
        if not fields[0].isdecimal():
            what = f"{fields[0]!r} is no number of a hub"
            raise InputError("levels-hub", what, where, "write the number on the plan, such as 3")
        return Level(None, None, int(fields[0]), height, fields[at], number, rock)
    x, y = (_signed(field, where) for field in fields[:2])
    return Level(x, y, None, height, fields[at], number, rock)


def _signed(field: str, where: str) -> float:
    """Return a length that may lie on either side of the centre."""
    sign = -1.0 if field.startswith(("-", "\N{MINUS SIGN}")) else 1.0
    return sign * parse_length(field.lstrip("+-\N{MINUS SIGN}"), where)


def _twice(found: list[Level], name: str) -> list[Problem]:
    seen: dict[tuple[float | None, float | None, int | None], int] = {}
    problems = []
    for level in found:
        key = (level.x, level.y, level.hub)
        if key in seen:
            what = f"the place of line {seen[key]} is read again"
            mend = "keep one of the two, or write their mean"
            problems.append(Problem("levels-twice", what, f"{name} (line {level.line})", mend))
        seen.setdefault(key, level.line)
    return problems
