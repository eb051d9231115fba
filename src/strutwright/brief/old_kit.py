"""The file of an old kit: struts as lines, or as lengths with their counts; all problems at once.

CSV holds ``x1,y1,z1,x2,y2,z2``, or ``hub,x,y,z`` followed by ``from,to``, or ``length,count``; DXF
lines and polylines; OBJ lines and the edges of its faces.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

import numpy as np

from strutwright.brief.old_kit_csv import Lengths, Lines, read_csv
from strutwright.brief.old_kit_drawings import read_dxf, read_obj
from strutwright.errors import InputError
from strutwright.values import ArrayValue, Floats

__all__ = ["OldKit", "read_old_kit"]

LARGEST_FILE: Final = 20 * 1024 * 1024
"""Bytes; our choice: a drawing of the largest shell is some megabytes."""
KINDS: Final[dict[str, Callable[[bytes, str, str | None], tuple[Lines, Lengths]]]] = {
    ".csv": read_csv,
    ".dxf": read_dxf,
    ".obj": read_obj,
}
MEND: Final = "name a CSV, DXF or OBJ file of the old kit's struts that lies beside the brief"


@dataclass(frozen=True, eq=False)
class OldKit(ArrayValue):
    """What the file of an old kit says.

    Parameters
    ----------
    lines : (S, 2, 3) array, m
        Struts from hub centre to hub centre; none where the file gives lengths alone.
    lengths : tuple of (float, int)
        Strut lengths, m, and how many there are of each; empty where the file gives lines.
    """

    lines: Floats = field(default_factory=lambda: np.zeros((0, 2, 3)))
    lengths: tuple[tuple[float, int], ...] = ()


def read_old_kit(path: str | Path, *, unit: str | None = None, up: str = "z") -> OldKit:
    """Return the struts in the file at `path`.

    Parameters
    ----------
    unit : str, optional
        Of numbers that stand without one, such as ``mm``.
    up : str
        ``z`` or ``y``: the axis of the file that points up.

    Raises
    ------
    InputError
        ``import-file``: it cannot be read or is of no known kind; ``import-unit``: numbers stand
        without a unit; ``import-row``: with every line that is wrong; ``import-empty``.
    """
    file = Path(path)
    reader = KINDS.get(file.suffix.lower())
    if reader is None:
        what = f'"{file.name}" is no CSV, DXF or OBJ file'
        raise InputError("import-file", what, str(path), MEND)
    try:
        with file.open("rb") as stream:
            data = stream.read(LARGEST_FILE + 1)
    except OSError as error:
        what = f"cannot be read: {error.strerror or error}"
        raise InputError("import-file", what, str(path), MEND) from None
    if len(data) > LARGEST_FILE:
        raise InputError("import-file", "longer than 20 MiB", str(path), MEND)
    lines, lengths = reader(data, file.name, unit)
    found = np.asarray(lines, dtype=np.float64).reshape(-1, 2, 3)
    if not len(found) and not lengths:
        raise InputError("import-empty", "no strut was found", str(path), MEND)
    if up == "y":
        found = found[:, :, [0, 2, 1]] * [1.0, -1.0, 1.0]
    return OldKit(found, tuple(lengths))
