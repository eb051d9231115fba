"""Self-weight of the frame and of what covers it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.bounds import within
from strutwright.catalogue import Source
from strutwright.loads.case import LoadCase
from strutwright.loads.cover import onto_struts
from strutwright.loads.form import Form
from strutwright.shape import Shell
from strutwright.values import ArrayValue, Floats

__all__ = ["GRAVITY", "Masses", "cover_weight", "frame_weight"]

GRAVITY: Final = 9.80665
"""Standard acceleration of free fall, m/s2."""
_SOURCE: Final = Source("weight of the parts", None, "mass times 9.80665 m/s2", "computed")


@dataclass(frozen=True, eq=False)
class Masses(ArrayValue):
    """Masses and widths of the frame, for loads.

    Parameters
    ----------
    struts : (S,) array, kg/m
    diameters : (S,) array, m
        Width that the wind meets on a bare strut.
    hubs : (H,) array, kg
        Connector and fasteners of each hub.
    cover : float, kg/m2
        Per area of face, all layers.
    film_stiffness : float or None, N/m
        Modulus times thickness of a film; None for sheets, which do not pull at their edges.
    """

    struts: Floats
    diameters: Floats
    hubs: Floats
    cover: float = 0.0
    film_stiffness: float | None = None

    def __post_init__(self) -> None:
        """Refuse masses below nothing."""
        super().__post_init__()
        within("mass of struts", self.struts, 0, 500, "kg/m")
        within("width of struts", self.diameters, 0, 1, "m")
        within("mass of hubs", self.hubs, 0, 500, "kg")
        within("mass of the cover", self.cover, 0, 100, "kg/m2")


def frame_weight(shell: Shell, masses: Masses) -> LoadCase:
    """Return the weight of struts and hubs."""
    lines = np.zeros((len(shell.struts), 3))
    hubs = np.zeros((len(shell.hubs), 3))
    lines[:, 2] = -GRAVITY * masses.struts
    hubs[:, 2] = -GRAVITY * masses.hubs
    return LoadCase("weight of the frame", "dead", hubs, lines, "permanent", _SOURCE)


def cover_weight(shell: Shell, form: Form, mass: float) -> LoadCase:
    """Return the weight of a cover of `mass` kg per m2 of face."""
    forces = np.zeros((len(shell.faces), 3))
    forces[:, 2] = -GRAVITY * mass * form.areas
    hubs, lines = onto_struts(shell, forces)
    return LoadCase("weight of the cover", "cover", hubs, lines, "permanent", _SOURCE)
