"""The values of the packing plan."""

from __future__ import annotations

from dataclasses import dataclass

from strutwright.values import Note

__all__ = ["Content", "Item", "PackingPlan", "Parcel", "Room"]


@dataclass(frozen=True)
class Item:
    """Pieces of one kind that one build stage needs.

    Parameters
    ----------
    label : str
        Of the piece or of the hub type.
    stage : int
        Number of the build stage, from 0.
    quantity : int
    length : float, m
    width : float, m
        Side of the square that one takes up across the parcel.
    mass : float, kg
        Of one.
    is_hub : bool
        Hubs lie behind one another along the parcel; struts do not.
    """

    label: str
    stage: int
    quantity: int
    length: float
    width: float
    mass: float
    is_hub: bool = False


@dataclass(frozen=True)
class Room:
    """What one parcel holds.

    Parameters
    ----------
    length, width, height : float, m
        Inside; the width and height of the largest cross-section.
    mass : float, kg
        Of the contents.
    empty : float, kg
        Wrapping of one parcel.
    ends : float, m
        Wrapping at both ends together.
    """

    length: float
    width: float
    height: float
    mass: float
    empty: float = 0.5
    ends: float = 0.04

    @property
    def area(self) -> float:
        """Cross-section, m2."""
        return self.width * self.height


@dataclass(frozen=True)
class Content:
    """Pieces of one kind in one parcel; `stage` needs them."""

    label: str
    stage: int
    quantity: int


@dataclass(frozen=True)
class Parcel:
    """One parcel.

    Parameters
    ----------
    contents : tuple of Content
        By stage, then by label.
    length, width, height : float, m
        Outside.
    mass : float, kg
        With its wrapping: what a scale must read.
    lightest : float, kg
        Mass of the lightest piece in it: a scale that is finer shows a missing piece.
    """

    contents: tuple[Content, ...]
    length: float
    width: float
    height: float
    mass: float
    lightest: float

    @property
    def counts(self) -> dict[str, int]:
        """Return how many pieces of each label it holds."""
        counts: dict[str, int] = {}
        for one in self.contents:
            counts[one.label] = counts.get(one.label, 0) + one.quantity
        return counts

    @property
    def stages(self) -> tuple[int, ...]:
        """Return the stages that need it."""
        return tuple(sorted({one.stage for one in self.contents}))


@dataclass(frozen=True)
class PackingPlan:
    """All parcels of a kit.

    Parameters
    ----------
    carrier : str
    parcels : tuple of Parcel
        In the order in which building needs them.
    proven : bool
        True when no plan has fewer parcels.
    bound : int
        No plan has fewer parcels.
    notes : tuple of Note
    """

    carrier: str
    parcels: tuple[Parcel, ...]
    proven: bool
    bound: int
    notes: tuple[Note, ...] = ()
