"""The A-B-C arcs of a dome: ASCE 7 Fig. 27.3-2 and EN 1991-1-4 Fig. 7.12.

Both figures give the coefficient at three points of the arc along the wind: A at the windward
springline, B at the crown, C at the leeward springline; it is constant on arcs across the wind.
The ordinates against f/D and h_D/D are known here for the hemisphere on the ground alone, and
those from memory. Other shapes come from the user's own table read from the printed figure;
without one there is no value, and none is invented.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

import numpy as np

from strutwright.bounds import one_of, within
from strutwright.catalogue import Source
from strutwright.errors import InputError, Problem
from strutwright.values import Floats

__all__ = [
    "HEMISPHERE",
    "NEAR",
    "SOURCES",
    "ArcRow",
    "c_p_arc",
    "ordinates",
    "read_dome_table",
]

NEAR: Final = 0.02
"""A shape within this of a row's f/D and h/D takes the row (our choice: pencil width)."""


@dataclass(frozen=True)
class ArcRow:
    """Ordinates A, B, C of one shape: rise over diameter and springline height over diameter."""

    f_over_d: float
    h_over_d: float
    A: float
    B: float
    C: float
    source: Source


HEMISPHERE: Final = ArcRow(
    0.5,
    0.0,
    0.8,
    -1.2,
    0.0,
    Source("ASCE 7-16 Fig. 27.3-2 and EN 1991-1-4 Fig. 7.12", None, "hemisphere on the ground"),
)
SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "HEMISPHERE": HEMISPHERE.source,
        "NEAR": Source("our choice: the width of a pencil line", None, "", "judgement"),
        "c_p_arc": Source("ASCE 7-05", 2005, "Fig. 6-7, text of cases A and B", "read"),
        "ordinates": Source("straight between the rows given", None, "", "computed"),
        "read_dome_table": Source("the user's own reading of the printed figure", None, ""),
    }
)
_COLUMNS: Final = ("f_over_d", "h_over_d", "A", "B", "C")


def c_p_arc(
    theta: Floats | float, A: float, B: float, C: float, case: Literal["A", "B"] = "A"
) -> Floats:
    """Return C_p along the arc parallel to the wind.

    Parameters
    ----------
    theta : float or array, rad
        Angle along the arc: 0 at the windward springline, pi/2 at the crown, pi leeward.
    A, B, C : float
        Ordinates.
    case : str
        ``A``: straight from A to B to C. ``B``: A to 25 degrees, then straight to B and C.
    """
    angle = np.degrees(within("theta", theta, -1e-9, np.pi + 1e-9, "rad"))
    start = 25.0 if one_of("case", case, ("A", "B")) == "B" else 0.0
    return np.interp(angle, [start, 90, 180], [A, B, C])


def ordinates(
    f_over_d: float, h_over_d: float, table: tuple[ArcRow, ...] = (HEMISPHERE,)
) -> ArcRow | None:
    """Return the ordinates of a shape from `table`, or None where it holds no answer.

    A row within `NEAR` is taken as it stands; otherwise straight between rows in f/D at each
    h/D, then in h/D. Nothing is extended beyond the rows.
    """
    near = [
        row
        for row in table
        if abs(row.f_over_d - f_over_d) <= NEAR and abs(row.h_over_d - h_over_d) <= NEAR
    ]
    if near:
        return min(near, key=lambda r: abs(r.f_over_d - f_over_d) + abs(r.h_over_d - h_over_d))
    levels: dict[float, Floats] = {}
    for h in sorted({row.h_over_d for row in table}):
        rows = sorted((r for r in table if r.h_over_d == h), key=lambda r: r.f_over_d)
        f = [row.f_over_d for row in rows]
        if f[0] <= f_over_d <= f[-1]:
            values = np.array([[r.A, r.B, r.C] for r in rows])
            levels[h] = np.array([np.interp(f_over_d, f, values[:, k]) for k in range(3)])
    heights = sorted(levels)
    if not heights or not heights[0] <= h_over_d <= heights[-1]:
        return None
    abc = [float(np.interp(h_over_d, heights, [levels[h][k] for h in heights])) for k in range(3)]
    return ArcRow(f_over_d, h_over_d, abc[0], abc[1], abc[2], table[-1].source)


def read_dome_table(text: str, name: str = "dome_cp.csv") -> tuple[ArcRow, ...]:
    """Return the rows of a table with the columns f_over_d, h_over_d, A, B, C and source.

    Parameters
    ----------
    text : str
        Content of the file; lines that start with # are remarks. ``source`` says which printed
        figure was read; it is optional.
    name : str
        Of the file, for messages.

    Raises
    ------
    InputError
        All faults at once: a missing column, a number that is none or out of bounds.
    """
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    reader = csv.DictReader(io.StringIO("\n".join(lines)))
    missing = [c for c in _COLUMNS if c not in (reader.fieldnames or ())]
    if missing:
        raise InputError(
            "dome-table", f"no column {', '.join(missing)}", name, "head: " + ",".join(_COLUMNS)
        )
    rows, problems = [], []
    for number, record in enumerate(reader, start=1):
        try:
            f, h, a, b, c = (float(record[column]) for column in _COLUMNS)
            _check_row([f, h, a, b, c])
        except (TypeError, ValueError) as fault:
            problems.append(Problem("dome-table", str(fault), f"{name}, row {number}"))
            continue
        title = record.get("source") or f"the user's table {name}"
        rows.append(ArcRow(f, h, a, b, c, Source(title, None, "A-B-C arcs of a dome")))
    if problems:
        raise InputError.of(problems)
    return tuple(rows)


def _check_row(values: list[float]) -> None:
    bounds = ((0, 1), (0, 5), (-3, 1.5), (-3, 1.5), (-3, 1.5))
    for name, value, (low, high) in zip(_COLUMNS, values, bounds, strict=True):
        if not low <= value <= high:
            msg = f"{name} = {value}, not in {low} to {high}"
            raise ValueError(msg)
