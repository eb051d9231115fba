"""Forces along the struts, and load cases as loads of the frame."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.frame import Loads
from strutwright.values import ArrayValue, Floats

__all__ = ["STATIONS", "StrutForces", "case_loads"]

STATIONS: Final = np.linspace(0.0, 1.0, 9)
"""Where forces along a strut are taken: ends, eighths and middle. A uniform load on a strut
hinged at both ends has its largest moment in the middle, so it is met exactly; between eighths
a parabola is missed by at most 1/64 of its sag."""


@dataclass(frozen=True, eq=False)
class StrutForces(ArrayValue):
    """Forces along every strut under one combination.

    Parameters
    ----------
    axial : (S, K) array, N
        Tension positive.
    moment_y, moment_z : (S, K) array, Nm
        About the strong and the weak axis.
    shear : (S, K) array, N
        Resultant across the strut.
    sag : (S,) array, m
        Largest deflection of the strut against the line between its ends.
    """

    axial: Floats
    moment_y: Floats
    moment_z: Floats
    shear: Floats
    sag: Floats

    @property
    def moment(self) -> Floats:
        """Return (S, K) resultant moments, Nm."""
        return np.hypot(self.moment_y, self.moment_z)


def case_loads(hub_forces: Floats, line_loads: Floats) -> Loads:
    """Return hub forces (H, 3) N and line loads (S, 3) N/m as loads of the frame."""
    forces = np.zeros((len(hub_forces), 6))
    forces[:, :3] = hub_forces
    return Loads(forces=forces, line=line_loads)
