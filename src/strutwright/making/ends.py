"""What is done to the ends of every strut type: holes, flattening, bend."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.parts import Kit
from strutwright.values import Floats

__all__ = ["EndWork", "end_work", "pressed_length"]

PRESSED: Final = 1.5
"""Flattened length beyond the hole, in flattened widths; our choice: the round comes back there."""


@dataclass(frozen=True)
class EndWork:
    """The work on both ends of a strut type.

    Parameters
    ----------
    label : str
    cut_length : float, m
    hole : float or None, m
        Diameter; None where the ends are not drilled.
    from_end : float or None, m
        Sawn end to the middle of the hole.
    between : float or None, m
        Middle to middle of the holes of both ends.
    flattened : float or None, m
        Length pressed flat from the sawn end.
    bend : (float, float) or None, rad
        Least and largest bend of the flattened end below the strut's line, over all its places.
    """

    label: str
    cut_length: float
    hole: float | None
    from_end: float | None
    between: float | None
    flattened: float | None
    bend: tuple[float, float] | None


def end_work(kit: Kit) -> tuple[EndWork, ...]:
    """Return the work on the ends of every strut type of `kit`, in their order."""
    connector = kit.connector
    hole, at = connector.hole_diameter, connector.bolt_from_end
    dips = _dips(kit)
    rows = []
    for kind in kit.strut_types:
        between = None if hole is None or at is None else kind.cut_length - 2 * at
        flattened = bend = None
        if connector.kind == "flattened" and at is not None:
            flattened = pressed_length(at, kit.stock.section.depth)
            here = dips[kind.struts]
            bend = (float(here.min()), float(here.max()))
        rows.append(EndWork(kind.label, kind.cut_length, hole, at, between, flattened, bend))
    return tuple(rows)


def pressed_length(from_end: float, diameter: float) -> float:
    """Return how much of a tube is pressed flat, m from its sawn end, for a hole `from_end`."""
    return 2 * from_end + PRESSED * np.pi / 2 * diameter / 2


def _dips(kit: Kit) -> Floats:
    """Return the dip of both ends of every strut, (S, 2), rad."""
    dips = np.zeros((len(kit.shell.struts), 2))
    for hub in range(len(kit.shell.hubs)):
        struts = kit.socket_struts[kit.socket_start[hub] : kit.socket_start[hub + 1]]
        end = (kit.shell.struts[struts, 1] == hub).astype(int)
        dips[struts, end] = kit.hub_types[int(kit.hub_type_of[hub])].spokes[:, 1]
    return dips
