"""The rack: bars and offcuts at hand, a CSV file; a bad line is named and the rest kept."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass, replace
from math import isfinite
from pathlib import Path
from typing import Final

from strutwright.brief.files import read_text
from strutwright.catalogue import Bar
from strutwright.errors import InputError, Problem
from strutwright.sentences import note
from strutwright.units import parse_length
from strutwright.values import Note

__all__ = ["RACK_COLUMNS", "Rack", "parse_rack", "read_rack"]

RACK_COLUMNS: Final = ("name", "stock", "length", "quantity", "price", "unusable")
LARGEST_FILE: Final = 1024 * 1024
"""Bytes; our choice: some twenty thousand bars."""
_NEEDED: Final = ("stock", "length")
_TO: Final = re.compile(r"\s+to\s+", re.IGNORECASE)


@dataclass(frozen=True)
class Rack:
    """What there is to cut from.

    Parameters
    ----------
    bars : tuple of Bar
        Without a quantity: as sold, as many as are wanted.
    name : str
        Of the file.
    notes : tuple of Note
        The lines that could not be read, each with its number.
    """

    bars: tuple[Bar, ...]
    name: str = "rack"
    notes: tuple[Note, ...] = ()

    def of(self, stock: str) -> tuple[Bar, ...]:
        """Return the bars of `stock`."""
        return tuple(bar for bar in self.bars if bar.stock == stock)


def read_rack(path: str | Path) -> Rack:
    """Return the bars in the file at `path`.

    Raises
    ------
    InputError
        ``rack-unreadable``: no text file, too long, without a head, or without one good line.
    """
    text = read_text(path, LARGEST_FILE, lambda what: _unreadable(what, str(path)))
    return parse_rack(text, str(path))


def parse_rack(text: str, name: str = "rack") -> Rack:
    """Return the bars in `text`; `name` is the file they are told to stand in.

    The head names the columns in any order: ``stock`` and ``length`` are needed; ``name``,
    ``quantity`` (empty: as many as are wanted), ``price`` and ``unusable`` (such as
    ``0.30 m to 0.35 m; 1.1 m to 1.2 m``, from the bar's datum end) may be left out.

    Raises
    ------
    InputError
        ``rack-unreadable``.
    """
    head: list[str] = []
    bars: list[Bar] = []
    problems: list[Problem] = []
    for number, line in enumerate(text.splitlines(), start=1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        where = f"{name} (line {number})"
        fields = [field.strip() for field in next(csv.reader([line]), [])]
        if not head:
            head = _head(fields, where)
            continue
        try:
            bars.append(_bar(head, fields, where))
        except InputError as error:
            problems += error.problems
    if not bars:
        if problems:
            raise InputError.of(problems)
        raise _unreadable("holds no bar", name)
    skipped = [note("rack-line", where=p.where, what=p.what) for p in problems]
    priced, assumed = _priced(bars, name)
    return Rack(priced, name, (*skipped, *assumed))


def _unreadable(what: str, where: str) -> InputError:
    mend = f"write a CSV file whose first line is {','.join(RACK_COLUMNS)}"
    return InputError("rack-unreadable", what, where, mend)


def _head(fields: list[str], where: str) -> list[str]:
    head = [field.lower() for field in fields]
    odd = [field for field in head if field not in RACK_COLUMNS]
    missing = [field for field in _NEEDED if field not in head]
    if odd or missing or len(set(head)) != len(head):
        what = f"the head names {', '.join(head)}"
        raise _unreadable(what + (f"; {', '.join(missing)} is missing" if missing else ""), where)
    return head


def _bar(head: list[str], fields: list[str], where: str) -> Bar:
    if len(fields) > len(head) and any(fields[len(head) :]):
        raise _wrong(f"{len(fields)} fields under a head of {len(head)}", where, "one field each")
    cells = dict(zip(head, [*fields, *[""] * len(head)], strict=False))
    if not cells["stock"]:
        raise _wrong("no stock is named", where, "write the id of the stock")
    length = parse_length(cells["length"], where)
    if length <= 0:
        raise _wrong(f"a length of {cells['length']}", where, "write how long the bar is")
    quantity, price = cells.get("quantity", ""), cells.get("price", "")
    return Bar(
        length,
        _price(price, where) if price else None,
        _quantity(quantity, where) if quantity else None,
        cells["stock"],
        cells.get("name", ""),
        _zones(cells.get("unusable", ""), length, where),
    )


def _wrong(what: str, where: str, mend: str) -> InputError:
    return InputError("rack-line", what, where, mend)


def _quantity(text: str, where: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) < 8):
        raise _wrong(f'"{text}" is no number of bars', where, "write a whole number, or nothing")
    return int(text)


def _price(text: str, where: str) -> float:
    try:
        price = float(text)
    except ValueError:
        price = -1.0
    if not (isfinite(price) and price >= 0):
        raise _wrong(f'"{text}" is no price', where, "write a number, such as 9.80, or nothing")
    return price


def _zones(text: str, length: float, where: str) -> tuple[tuple[float, float], ...]:
    zones = []
    for part in text.split(";"):
        if not part.strip():
            continue
        ends = _TO.split(part.strip())
        if len(ends) != 2:
            raise _wrong(f'"{part.strip()}" is no unusable zone', where, "write 0.3 m to 0.35 m")
        start, end = (parse_length(one, where) for one in ends)
        if not 0 <= start < end <= length:
            what = f'the unusable zone "{part.strip()}" does not lie in the bar'
            raise _wrong(what, where, "measure both ends of the zone from the bar's datum end")
        zones.append((start, end))
    return tuple(sorted(zones))


def _priced(bars: list[Bar], name: str) -> tuple[tuple[Bar, ...], list[Note]]:
    """Return bars with the metre price of their stock where they have none, and say so."""
    rates: dict[str, float] = {}
    for bar in bars:
        if bar.price:
            rate = bar.price / bar.length
            rates[bar.stock] = min(rates.get(bar.stock, rate), rate)
    done, guessed = [], 0
    for bar in bars:
        if bar.price is None and bar.stock in rates:
            done.append(replace(bar, price=rates[bar.stock] * bar.length))
            guessed += 1
        else:
            done.append(bar)
    if not guessed:
        return tuple(done), []
    return tuple(done), [note("rack-price-assumed", name=name, n=guessed)]
