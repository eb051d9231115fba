"""What wind and snow do to a cover, what holds it and its layers apart, and how it drapes."""

from __future__ import annotations

from dataclasses import dataclass

from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["Bending", "Drape", "Fixing", "LayerFitting", "LayerGap"]


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


@dataclass(frozen=True, eq=False)
class LayerGap(ArrayValue):
    """Air between the facing sides of two layers, m.

    Parameters
    ----------
    at_hub : (H,) array
        Between the points where the faces meet over and under each hub.
    at_strut, at_face : float
        Over the middle of a strut and over the middle of a face.
    """

    at_hub: Floats
    at_strut: float
    at_face: float


@dataclass(frozen=True, eq=False)
class LayerFitting(ArrayValue):
    """A spacer through a hub that holds both layers.

    Parameters
    ----------
    label : str
    length : float, m
        From layer to layer.
    above, below : float, m
        From the hub's centre to the outer and to the inner layer.
    quantity : int
    hubs : (q,) int array
    """

    label: str
    length: float
    above: float
    below: float
    quantity: int
    hubs: Indices


@dataclass(frozen=True, eq=False)
class Drape(ArrayValue):
    """The cover as one sheet laid over the shell.

    Parameters
    ----------
    width, length : float, m
        Sheet needed, hems included: across and along.
    pleats : (H,) array, rad
        Fullness at each hub: the angle that has to be folded away.
    folds : (H,) array, m
        What that is in cloth at the far end of the hub's struts.
    """

    width: float
    length: float
    pleats: Floats
    folds: Floats
