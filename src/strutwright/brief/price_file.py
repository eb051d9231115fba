"""A price list of the workshop: a CSV file ``item,price``; all bad lines are named at once."""

from __future__ import annotations

import csv
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Final

from strutwright.brief.files import read_text
from strutwright.errors import InputError, Problem

__all__ = ["parse_prices", "read_prices"]

LARGEST_FILE: Final = 1024 * 1024
"""Bytes; our choice: some thirty thousand items."""
LARGEST_PRICE: Final = Decimal(10) ** 8
"""What a record holds."""


def read_prices(path: str | Path) -> dict[str, Decimal]:
    """Return the prices in the file at `path` by item.

    Raises
    ------
    InputError
        ``prices-unreadable``, or ``prices-line`` for each bad line.
    """
    text = read_text(path, LARGEST_FILE, lambda what: _unreadable(what, str(path)))
    return parse_prices(text, str(path))


def parse_prices(text: str, name: str = "prices") -> dict[str, Decimal]:
    """Return the prices in `text`; `name` is the file they are told to stand in.

    Nothing is taken from a file with a bad line: a price that is left out would be missing from
    quotes in silence.

    Raises
    ------
    InputError
        ``prices-unreadable``, or ``prices-line`` for each bad line.
    """
    found: dict[str, Decimal] = {}
    problems: list[Problem] = []
    has_head = False
    for number, line in enumerate(text.splitlines(), start=1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        cells = [cell.strip() for cell in next(csv.reader([line]), [])]
        where = f"{name} (line {number})"
        if not has_head:
            if [cell.lower() for cell in cells] != ["item", "price"]:
                raise _unreadable(f"the head names {', '.join(cells)}", where)
            has_head = True
            continue
        what = _wrong(cells, found)
        if what:
            mend = "write the item and its price with a decimal point, such as hub bodies,3.40"
            problems.append(Problem("prices-line", what, where, mend))
        else:
            found[cells[0]] = Decimal(cells[1])
    if problems:
        raise InputError.of(problems)
    if not found:
        raise _unreadable("holds no price", name)
    return found


def _wrong(cells: list[str], found: dict[str, Decimal]) -> str:
    """Return what is wrong with a line, nothing where it is good."""
    if len(cells) != 2 or not cells[0]:
        return f"{len(cells)} fields where an item and its price are wanted"
    if cells[0] in found:
        return f"{cells[0]} stands twice"
    try:
        price = Decimal(cells[1])
    except InvalidOperation:
        return f'"{cells[1]}" is no price'
    if not (price.is_finite() and 0 <= price < LARGEST_PRICE):
        return f"a price of {cells[1]} is not from 0 to below {LARGEST_PRICE}"
    return ""


def _unreadable(what: str, where: str) -> InputError:
    return InputError(
        "prices-unreadable", what, where, "write a CSV file whose first line is item,price"
    )
