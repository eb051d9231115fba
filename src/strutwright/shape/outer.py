"""The outer measures of a shell."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from strutwright.shape.shell import Shell
from strutwright.shape.surface import cover_area, floor_area, is_round, volume, width

__all__ = ["Measures", "measures"]


@dataclass(frozen=True)
class Measures:
    """Outer measures, all from hub centre to hub centre.

    Parameters
    ----------
    width : float, m
        Of a dome the diameter of the circle through its base hubs, else across the base.
    length : float, m
        Along x; of a dome its width.
    rise : float, m
        Of the highest hub above the base ring.
    floor_area, cover_area : float, m2
        Inside the base ring; of all faces.
    volume : float, m3
        Under the faces.
    """

    width: float
    length: float
    rise: float
    floor_area: float
    cover_area: float
    volume: float


def measures(shell: Shell) -> Measures:
    """Return the outer measures of `shell`."""
    across = width(shell)
    return Measures(
        width=across,
        length=across if is_round(shell) else float(np.ptp(shell.hubs[:, 0])),
        rise=float(shell.hubs[:, 2].max()),
        floor_area=floor_area(shell),
        cover_area=cover_area(shell),
        volume=volume(shell),
    )
