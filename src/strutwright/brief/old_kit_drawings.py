"""An old kit as a drawing: lines of a DXF, lines and faces of an OBJ."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Any, Final

from strutwright.brief.old_kit_csv import Lengths, Lines, length_of
from strutwright.errors import InputError, Problem

__all__ = ["read_dxf", "read_obj"]

DXF_UNITS: Final = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
"""Units by the number that stands in the header variable $INSUNITS (DXF reference)."""
Point = tuple[float, ...]


def read_dxf(data: bytes, name: str, unit: str | None) -> tuple[Lines, Lengths]:
    """Return the lines and polylines of a DXF file; `unit` goes before the one in the file."""
    from ezdxf import recover  # heavy, and needed for this one kind of file alone
    from ezdxf.lldxf.const import DXFError

    try:
        document, _ = recover.read(io.BytesIO(data))
    except (OSError, DXFError, ValueError, KeyError, IndexError) as error:
        what = f"is no DXF file that can be read: {type(error).__name__} {error}"
        raise InputError("import-file", what, name, "save it anew as DXF") from None
    own = unit or DXF_UNITS.get(int(document.header.get("$INSUNITS", 0)))
    if own is None:
        what = "the drawing does not say its unit"
        raise InputError("import-unit", what, name, 'say unit = "mm" in the brief')
    scale = length_of("1", own, name)
    found: Lines = []
    for entity in document.modelspace():
        found += pairwise([tuple(v * scale for v in point) for point in _points(entity)])
    return found, []


def _points(entity: Any) -> Iterable[Sequence[float]]:  # noqa: ANN401 - ezdxf's own kinds
    kind = entity.dxftype()
    if kind == "LINE":
        return [tuple(entity.dxf.start), tuple(entity.dxf.end)]
    if kind == "POLYLINE":
        return _closed([tuple(point) for point in entity.points()], is_closed=entity.is_closed)
    if kind == "LWPOLYLINE":
        points = [tuple(point) for point in entity.vertices_in_wcs()]
        return _closed(points, is_closed=entity.closed)
    return []


def _closed(points: list[Point], *, is_closed: bool) -> list[Point]:
    return [*points, points[0]] if is_closed and points else points


def read_obj(data: bytes, name: str, unit: str | None) -> tuple[Lines, Lengths]:
    """Return the lines and the edges of the faces of an OBJ file, each once."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError("import-file", "is no text in UTF-8", name, "save it anew") from None
    places: list[Point] = []
    ends: dict[tuple[int, int], None] = {}
    problems: list[Problem] = []
    for number, line in enumerate(text.splitlines(), start=1):
        words = line.split("#")[0].split()
        where = f"{name} (line {number})"
        try:
            if words[:1] == ["v"]:
                places.append(_place(words[1:], unit, where))
            elif words[:1] in (["l"], ["f"]):
                numbers = [_number(word, len(places), where) for word in words[1:]]
                around = [*numbers, numbers[0]] if words[0] == "f" else numbers
                ends |= dict.fromkeys(_sorted_pairs(around))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError.of(problems)
    return [(places[i], places[j]) for i, j in ends], []


def _place(words: list[str], unit: str | None, where: str) -> Point:
    if len(words) < 3:
        raise InputError("import-row", "a point has three values", where, "write v x y z")
    return tuple(length_of(word, unit, where) for word in words[:3])


def _number(word: str, n: int, where: str) -> int:
    """Return the index of a point; OBJ counts from 1, or backwards from -1."""
    first = word.split("/", maxsplit=1)[0]
    try:
        number = int(first)
    except ValueError:
        number = 0
    if not 1 <= abs(number) <= n:
        what = f'"{word}" is no point of the {n} before it'
        raise InputError("import-row", what, where, "number points from 1 in their order")
    return number - 1 if number > 0 else n + number


def _sorted_pairs(numbers: list[int]) -> Iterator[tuple[int, int]]:
    for i, j in pairwise(numbers):
        yield (min(i, j), max(i, j))
