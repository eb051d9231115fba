"""What the choice of anchors takes and gives."""

from __future__ import annotations

from dataclasses import dataclass

from strutwright.structure import Check
from strutwright.values import ArrayValue, Floats, Indices, Note

__all__ = ["AnchorPlan", "Asked", "GroundTie", "HubAnchors", "Option", "Weight"]


@dataclass(frozen=True, eq=False)
class Weight(ArrayValue):
    """Ballast on every hub, N.

    Parameters
    ----------
    needed : (G,) array, N
        That keeps each from lifting and slipping.
    combinations : tuple of str
        That ask for it.
    laid : float or None, N
        As the brief says; None: as much as it takes.
    """

    needed: Floats
    combinations: tuple[str, ...]
    laid: float | None


@dataclass(frozen=True)
class Option:
    """An anchor that was weighed: working loads up and sideways (N), how many at the worst hub.

    `most` is None, and `why` tells the reason, where it does not do here.
    """

    anchor: str
    up: float
    side: float
    safety: float
    most: int | None
    why: str


@dataclass(frozen=True)
class Asked:
    """What the brief says of the ground.

    Parameters
    ----------
    base : str
        ``staked``, ``anchored``, ``ballast`` or ``free``.
    soil : str or None
    pull_test : float or None, N
        What an anchor held on the site.
    frost : float or None, m
        Depth that the ground freezes to.
    rock : (G,) array or None, m
        Depth to rock under each hub; infinite where none was met, None where nobody probed.
    weight : Weight or None
        Ballast that each hub needs; for a base on ballast.
    """

    base: str
    soil: str | None
    pull_test: float | None
    frost: float | None
    rock: Floats | None = None
    weight: Weight | None = None


@dataclass(frozen=True)
class HubAnchors:
    """What holds one base hub.

    Parameters
    ----------
    hub : int
    uplift, horizontal : float, N
        Largest, each over all combinations; not of the same one.
    combination : str
        That asks for most.
    demand, capacity : float, N
        On the anchors in the direction they are pulled, and what those that count hold: one
        is left out as missing.
    anchor : str
        Catalogue id.
    quantity : int
        The spare one included; of ballast the number of pieces of 20 kg.
    torque : float or None, Nm
        To be reached when a screw anchor goes in.
    """

    hub: int
    uplift: float
    horizontal: float
    combination: str
    demand: float
    capacity: float
    anchor: str
    quantity: int
    torque: float | None = None


@dataclass(frozen=True)
class GroundTie:
    """A tie on the ground between two base hubs across the width, and its force, N."""

    i: int
    j: int
    force: float


@dataclass(frozen=True, eq=False)
class AnchorPlan(ArrayValue):
    """What holds a shell down.

    Parameters
    ----------
    hubs : tuple of HubAnchors
        Every hub that meets the ground; empty where nothing could be chosen.
    order : (G,) int array
        In which the hubs are staked.
    ties : tuple of GroundTie
        That would hold the base together across the width of a long shell in place of the
        side load on its anchors.
    checks : tuple of Check
    notes : tuple of Note
    options : tuple of Option
        Every anchor of the catalogue in this soil, the chosen one among them.
    """

    hubs: tuple[HubAnchors, ...]
    order: Indices
    ties: tuple[GroundTie, ...]
    checks: tuple[Check, ...]
    notes: tuple[Note, ...]
    options: tuple[Option, ...] = ()
