"""A brief from its file or its text: all problems at once, each with key and line."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from copy import deepcopy
from pathlib import Path
from typing import Any, Final, NoReturn

from pydantic import ValidationError

from strutwright.brief.build import brief_of
from strutwright.brief.cross import contradictions
from strutwright.brief.lines import key_lines
from strutwright.brief.problems import problems_of
from strutwright.brief.schema_file import BriefTable
from strutwright.brief.values import Brief, locate
from strutwright.errors import InputError, Problem

__all__ = ["parse_brief", "read_brief"]

LARGEST_FILE: Final = 256 * 1024
"""Bytes; our choice: fifty times the longest brief that makes sense."""
_START: Final = "strutwright start DIR writes a brief to begin with"


def read_brief(path: str | Path) -> Brief:
    """Return the Brief that the TOML file at `path` holds.

    Raises
    ------
    InputError
        All problems of the file at once, each with its key and line.
    """
    file = Path(path)
    return parse_brief(_text_of(file), str(path))


def parse_brief(text: str, name: str = "") -> Brief:
    """Return the Brief that the TOML `text` holds; `name` is its file, for files beside it.

    Raises
    ------
    InputError
        All problems of the text at once, each with its key and line.
    """
    raw = _tables(text, name or "the brief")
    lines = key_lines(text)
    problems: list[Problem] = []
    refused: list[tuple[int | str, ...]] = []
    table: BriefTable | None = None
    try:
        table = BriefTable.model_validate(raw)
    except ValidationError as error:
        problems += problems_of(error, lines, BriefTable)
        refused = [detail["loc"] for detail in error.errors()]
        table = _rest(raw, refused)
    for problem in contradictions(table) if table else ():
        # a size that was refused is told already, and is not missing
        if problem.code != "size-missing" or not any(place[0] == "size" for place in refused):
            problems.append(_located(problem, lines))
    if problems or table is None:
        raise InputError.of(sorted(problems, key=lambda problem: _line(problem.where)))
    return brief_of(table, text, name, lines)


def _text_of(file: Path) -> str:
    where = str(file)
    try:
        if file.is_dir():
            raise InputError("brief-is-folder", "a folder, no brief", where, "name a .toml file")
        if file.exists() and not file.is_file():
            raise InputError("brief-unreadable", "no plain file", where, "name a .toml file")
        with file.open("rb") as stream:
            data = stream.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise InputError("brief-not-found", "no such file", where, _START) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        mend = "see that the file can be read"
        raise InputError("brief-unreadable", f"cannot be read: {reason}", where, mend) from None
    if len(data) > LARGEST_FILE:
        what = f"longer than {LARGEST_FILE // 1024} KiB, which no brief is"
        raise InputError("brief-too-large", what, where, "name the brief, not a kit or a drawing")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        what = f"no UTF-8 text: byte {error.start + 1} is {data[error.start]:#04x}"
        raise InputError("brief-not-text", what, where, "save the brief as UTF-8 text") from None


def _tables(text: str, name: str) -> dict[str, Any]:
    if not text.strip():
        raise InputError("brief-empty", "holds nothing", name, _START)
    if "\0" in text:
        raise InputError("brief-not-text", "holds a zero byte", name, "save the brief as text")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        _refuse_syntax(str(error), text, name)
    except RecursionError:
        what = "brackets within brackets too deep to read"
        raise InputError("brief-not-toml", what, name, "take the brackets out") from None
    except ValueError as error:  # a number of thousands of digits
        raise InputError("brief-not-toml", str(error), name, "shorten the number") from None


def _refuse_syntax(message: str, text: str, name: str) -> NoReturn:
    found = re.search(r"\(at line (\d+), column (\d+)\)", message)
    line = int(found[1]) if found else text.count("\n") + 1
    what = re.sub(r" \(at .*\)$", "", message)
    written = text.splitlines()[line - 1].strip()[:60] if line <= len(text.splitlines()) else ""
    if written:
        what += f": {written}"
    mend = 'write key = "value", text in quotes; sections in square brackets'
    raise InputError("brief-not-toml", what, f"{name} (line {line})", mend)


def _rest(raw: dict[str, Any], places: Iterable[tuple[int | str, ...]]) -> BriefTable | None:
    """Return the table without the keys that were refused, to look for contradictions in it."""
    kept = deepcopy(raw)
    for place in places:
        section = place[0]
        inner = kept.get(str(section))
        if isinstance(inner, list) and len(place) > 1 and isinstance(place[1], int):
            inner[place[1]] = {"kind": "vent", "share": "1 %"}  # keeps its place among the others
        elif isinstance(inner, dict) and len(place) > 1:
            inner.pop(place[1], None)
        else:
            kept.pop(str(section), None)
    kept.setdefault("project", {}).setdefault("name", "unnamed")
    kept.setdefault("size", {})
    try:
        return BriefTable.model_validate(kept)
    except ValidationError:
        return None


def _located(problem: Problem, lines: dict[str, int]) -> Problem:
    return Problem(problem.code, problem.what, locate(problem.where, lines), problem.mend)


def _line(where: str) -> int:
    found = re.search(r"line (\d+)", where)
    return int(found[1]) if found else 0
