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
    keep : float or None, m
        A rest at least this long goes back to the rack; None keeps none.
    keep_value : float
        What a metre of a rest that is kept is worth, in the currency of the bars' prices.
    """

    kerf: float = 0.0
    end_trim: float = 0.0
    keep: float | None = None
    keep_value: float = 0.0


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
        Of the bar; its share of it where only a part between unusable zones is cut.
    name : str
        Of one bar of the rack; empty for a bar as sold.
    start : float, m
        From the bar's datum end to where the first piece begins.
    worth : float
        Of the offcut, where it is kept.
    kerf : float, m
    """

    stock: str
    length: float
    cuts: tuple[Cut, ...]
    offcut: float
    price: float | None = None
    name: str = ""
    start: float = 0.0
    worth: float = 0.0
    kerf: float = 0.0

    @property
    def stops(self) -> tuple[float, ...]:
        """Return where the far end of each piece lies, m from the bar's datum end.

        Sawn from the datum end on: each cut takes its kerf beyond the piece.
        """
        ends, place = [], self.start
        for one in self.cuts:
            ends.append(place + one.length)
            place += one.length + self.kerf
        return tuple(ends)


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
