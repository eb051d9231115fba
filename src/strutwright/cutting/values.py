"""The values of the cutting plan."""

from __future__ import annotations

from dataclasses import dataclass

from strutwright.values import Note

__all__ = ["Cut", "CutBar", "CuttingPlan", "Piece", "Saw"]


@dataclass(frozen=True)
class Piece:
    """Pieces of one kind that are wanted.

    Parameters
    ----------
    label : str
    length : float, m
    quantity : int
    """

    label: str
    length: float
    quantity: int


@dataclass(frozen=True)
class Saw:
    """What the saw takes.

    Parameters
    ----------
    kerf : float, m
        Width of one cut.
    end_trim : float, m
        Taken off one end of each bar before the first piece, its cut included.
    """

    kerf: float = 0.0
    end_trim: float = 0.0


@dataclass(frozen=True)
class Cut:
    """One piece sawn from a bar: its label and its length, m."""

    label: str
    length: float


@dataclass(frozen=True)
class CutBar:
    """One bar and what is sawn from it.

    Parameters
    ----------
    stock : str
    length : float, m
    cuts : tuple of Cut
        In the order of sawing, the longest first.
    offcut : float, m
        What is left when the last piece is off.
    price : float or None
    """

    stock: str
    length: float
    cuts: tuple[Cut, ...]
    offcut: float
    price: float | None = None


@dataclass(frozen=True)
class CuttingPlan:
    """Which piece is sawn from which bar.

    Parameters
    ----------
    bars : tuple of CutBar
    cost : float
        Sum of the prices, or the metres bought where a price is missing.
    bound : float
        No plan can cost less.
    proven : bool
        True when `cost` reaches `bound`: no plan is cheaper.
    used, bought : float, m
        In pieces; in bars.
    by_price : bool
        True when `cost` is money, False when it is metres.
    notes : tuple of Note
    """

    bars: tuple[CutBar, ...]
    cost: float
    bound: float
    proven: bool
    used: float
    bought: float
    by_price: bool = False
    notes: tuple[Note, ...] = ()

    @property
    def gap(self) -> float:
        """Share of the cost that might still be saved: (cost - bound) / cost."""
        return 0.0 if self.proven or not self.cost else (self.cost - self.bound) / self.cost
