"""What wind and snow do to a cover, and what holds it."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Bending", "Fixing"]


@dataclass(frozen=True)
class Fixing:
    """Film under wind and snow, and what holds it, at the worst face.

    Parameters
    ----------
    pressure, snow : float, Pa
        Largest of the wind across a face, either way, and of the snow square to it, in use.
    tension, tension_strength : float, N/m
        Of the film in use, and under the factored load of strength design.
    sag : float, m
        In use.
    spacing, spacing_edge : float, m
        Of fixings over the shell, and at base, ridge and openings.
    demand, demand_edge : float, N
        On one fixing.
    holds : float, N
        What one fixing is taken to hold.
    tested : bool
        The brief gives it.
    """

    pressure: float
    snow: float
    tension: float
    tension_strength: float
    sag: float
    spacing: float
    spacing_edge: float
    demand: float
    demand_edge: float
    holds: float
    tested: bool


@dataclass(frozen=True)
class Bending:
    """A sheet under wind and snow, at the worst face.

    Parameters
    ----------
    face : int
    span : float, m
        Of a strip as wide as the largest circle in that face.
    pressure, pressure_strength : float, Pa
        Across a face, the sheet's own weight in: in use, and factored for strength design.
    moment : float, Nm/m
        Under the factored pressure.
    sag : float or None, m
        In use; None where the sheet's stiffness is not known.
    holds : float or None, Pa
        What the maker's table allows in use; None where the brief gives none.
    """

    face: int
    span: float
    pressure: float
    pressure_strength: float
    moment: float
    sag: float | None
    holds: float | None
