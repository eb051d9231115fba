"""What each combination does to the kit: displacements, forces along the struts, reactions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.frame import Loads, Response, combine, factor, internal_forces, respond
from strutwright.structure.model import Model
from strutwright.values import ArrayValue, Floats

__all__ = ["STATIONS", "StrutForces", "case_loads", "combined", "solve_cases", "strut_forces"]

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


def solve_cases(model: Model, loads: Sequence[Loads]) -> tuple[Response, ...]:
    """Return the linear response to each of `loads`, from one factorisation.

    Raises
    ------
    ResultError
        ``mechanism``: the kit can move without resistance; the error names where.
    """
    return respond(factor(model.frame), loads)


def combined(
    responses: Sequence[Response], loads: Sequence[Loads], factors: Sequence[float]
) -> tuple[Response, Loads]:
    """Return the linear combination of `responses` and of the `loads` they answer."""
    pairs = list(zip(responses, factors, strict=True))
    return (
        Response(
            sum(r.displacements * f for r, f in pairs),  # type: ignore[arg-type]  # never empty
            sum(r.end_forces * f for r, f in pairs),  # type: ignore[arg-type]
            sum(r.reactions * f for r, f in pairs),  # type: ignore[arg-type]
        ),
        combine(loads, factors),
    )


def strut_forces(model: Model, response: Response, loads: Loads) -> StrutForces:
    """Return the forces along every strut under a response and the loads it answers."""
    along = internal_forces(model.frame, loads, response, STATIONS)
    forces, moved = along.forces, along.deflection
    chord = moved[:, :1] + STATIONS[None, :, None] * (moved[:, -1:] - moved[:, :1])
    off = np.linalg.norm((moved - chord)[..., 1:], axis=2)
    return StrutForces(
        axial=forces[..., 0],
        moment_y=forces[..., 4],
        moment_z=forces[..., 5],
        shear=np.hypot(forces[..., 1], forces[..., 2]),
        sag=off.max(axis=1),
    )
