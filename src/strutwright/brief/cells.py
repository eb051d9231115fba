"""The cells of a line of a table, however the spreadsheet that wrote it parts them."""

from __future__ import annotations

import csv
import re
from typing import Final

__all__ = ["cells_of", "remark_of"]

_HINT: Final = re.compile(r"\s*\"?sep=.?\"?\s*", re.IGNORECASE)
"""How some spreadsheets say in the first line which separator follows."""
_COMMA: Final = re.compile(r"(?<=\d),(?=\d)")


def cells_of(line: str) -> list[str]:
    """Return the trimmed cells of `line`; none for a line of separators alone or their hint.

    Cells are parted by semicolons or tabs where there are any, and by commas where not. Between
    semicolons or tabs a comma within a number is a decimal comma, as spreadsheets write it where
    commas are used so. A cell in quotation marks may hold the separator.
    """
    if _HINT.fullmatch(line):
        return []
    separator = _separator(line)
    try:
        row = next(csv.reader([line], delimiter=separator), [])
    except csv.Error:  # a quotation mark that never ends
        row = [line]
    fields = [field.strip() for field in row]
    if not any(fields):
        return []
    return fields if separator == "," else [_COMMA.sub(".", field) for field in fields]


def remark_of(line: str) -> str | None:
    """Return the text of a remark, its ``#`` left out; None for a line that is none.

    A spreadsheet may have put it in quotation marks and filled the line up with empty cells.
    """
    bare = line.strip().strip('"').strip()
    if not bare.startswith("#"):
        return None
    return bare[1:].rstrip(',;\t" ')


def _separator(line: str) -> str:
    return next((mark for mark in ";\t" if mark in line), ",")
