"""The file of a workshop's own tests that `hubs.test_file` names: one reading a line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from types import MappingProxyType
from typing import Final

from strutwright.brief import bounds as b
from strutwright.brief.cells import cells_of, remark_of
from strutwright.brief.files import read_text
from strutwright.brief.sections import HubTest
from strutwright.brief.values import Brief
from strutwright.errors import InputError, Problem
from strutwright.units import parse_quantity

__all__ = ["end_tests_of", "parse_end_tests"]

LARGEST_FILE: Final = 256 * 1024
"""Bytes; our choice: some ten thousand readings."""
HEAD: Final = ("kind", "value")
MEND: Final = (
    "write a head line kind,value, then one sample a line with its unit, such as pull,8.9 kN; "
    "kinds are pull, push, bend, slip, offset, coupler, coupler_bend and coupler_pull"
)
_FORCE: Final = ("force", b.STRENGTH)
_TURN: Final = ("rotational stiffness", b.STIFFNESS)
_MOVE: Final = ("length", b.ECCENTRICITY)
_KINDS: Final[Mapping[str, tuple[str, b.Bound]]] = MappingProxyType(
    {
        "pull": _FORCE, "push": _FORCE, "bend": _TURN, "slip": _MOVE, "offset": _MOVE,
        "coupler": _TURN, "coupler_bend": ("moment", b.MOMENT), "coupler_pull": _FORCE,
    }
)  # fmt: skip


def end_tests_of(brief: Brief) -> tuple[HubTest, ...]:
    """Return the tests of `brief`: those written in it, then those of the file that it names.

    Raises
    ------
    InputError
        ``test-file-unreadable``, or all problems of the file at once.
    """
    name = brief.hubs.test_file
    if name is None:
        return brief.hubs.tests
    path, where = brief.beside(name), brief.where("hubs.test_file")
    text = read_text(
        path,
        LARGEST_FILE,
        lambda what: InputError("test-file-unreadable", f"{path}: {what}", where, MEND),
    )
    return (*brief.hubs.tests, parse_end_tests(text, name))


def parse_end_tests(text: str, name: str) -> HubTest:
    """Return the readings in `text`; `name` is the file they are told to stand in.

    Columns after kind and value are the workshop's own and are not read.

    Raises
    ------
    InputError
        ``test-file-form``, ``test-kind``, or what is wrong with a value; all at once.
    """
    readings: dict[str, list[float]] = {field.name: [] for field in fields(HubTest)}
    problems: list[Problem] = []
    headed = False
    for number, line in enumerate(text.splitlines(), start=1):
        cells = cells_of(line)
        if not cells or remark_of(line) is not None:
            continue
        where = f"{name} (line {number})"
        if not headed:
            if tuple(cell.lower() for cell in cells[:2]) != HEAD:
                raise InputError(
                    "test-file-form", f"the head line is {line.strip()!r}", where, MEND
                )
            headed = True
            continue
        try:
            kind, value = _reading(cells, where)
            readings[kind].append(value)
        except InputError as error:
            problems += error.problems
    if not problems and not any(readings.values()):
        problems.append(Problem("test-file-form", "the file holds no reading", name, MEND))
    if problems:
        raise InputError.of(problems)
    return HubTest(**{kind: tuple(values) for kind, values in readings.items()})


def _reading(cells: list[str], where: str) -> tuple[str, float]:
    if len(cells) < len(HEAD) or not cells[1]:
        raise InputError("test-file-form", f"{cells[0]!r} has no value", where, MEND)
    kind = cells[0].lower()
    if kind not in _KINDS:
        raise InputError("test-kind", f"{cells[0]!r} is no kind of test", where, MEND)
    quantity, bound = _KINDS[kind]
    value = parse_quantity(cells[1], quantity, where=where)
    if value > parse_quantity(bound.largest, quantity):
        what = f'{kind} "{cells[1]}" is above the largest, {bound.largest}'
        mend = f"look at the unit: {bound.reason}"
        raise InputError("brief-out-of-bounds", what, where, mend)
    return kind, value
