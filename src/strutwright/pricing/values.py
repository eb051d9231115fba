"""The values of a price: lines in exact decimals, rounded to cents where money is shown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from types import MappingProxyType
from typing import Final

from strutwright.values import Note

__all__ = ["LABOUR", "Ask", "Line", "PriceList", "Sensitivity", "cents"]

LABOUR: Final[Mapping[str, float]] = MappingProxyType(
    {
        "saw": 1.0,
        "end": 1.5,
        "hub": 4.0,
        "coupler": 3.0,
        "label": 0.3,
        "parcel": 15.0,
    }
)
"""Minutes for a saw cut, a strut end, a hub, a coupler, a label, a parcel. Our judgement: a
workshop puts its own in their place."""
CENT: Final = Decimal("0.01")


def cents(amount: float | Decimal) -> Decimal:
    """Return `amount` in whole cents, half a cent up.

    >>> cents(2.675)
    Decimal('2.68')
    """
    return Decimal(str(amount)).quantize(CENT, ROUND_HALF_UP)


@dataclass(frozen=True)
class Ask:
    """What is counted.

    Parameters
    ----------
    currency : str
    hour : float or None
        Price of an hour's work.
    margin, tax : float
        Shares: of the cost; of cost and margin.
    bars : float or None
        Price of the bars of the cutting plan; None where it is not known or none are sent.
    n_bars, n_cuts, n_ends, n_hubs, n_couplers, n_struts, n_parcels : int
    hub : float or None
        Price of one hub's body.
    fasteners : tuple of (str, int, float or None)
        Item, quantity, price of one.
    cover : (float, float or None) or None
        Square metres bought, all layers, and the price of one; None for a bare frame.
    freight : float or None
        Price of one parcel.
    hubs_only : bool
    labour : mapping of str to float
        Minutes by operation.
    """

    currency: str
    hour: float | None
    margin: float
    tax: float
    bars: float | None
    n_bars: int
    n_cuts: int
    n_ends: int
    n_hubs: int
    n_couplers: int
    n_struts: int
    n_parcels: int
    hub: float | None
    fasteners: tuple[tuple[str, int, float | None], ...] = ()
    cover: tuple[float, float | None] | None = None
    freight: float | None = None
    hubs_only: bool = False
    labour: Mapping[str, float] = field(default_factory=lambda: LABOUR)


@dataclass(frozen=True)
class Line:
    """A line of the price.

    Parameters
    ----------
    item, kind : str
        What; ``material``, ``hubs``, ``fasteners``, ``cover``, ``labour``, ``freight``,
        ``margin`` or ``tax``.
    quantity : float
    unit : str
    each, amount : Decimal or None
        None where no price is known: the line is not in the total.
    """

    item: str
    kind: str
    quantity: float
    unit: str
    each: Decimal | None
    amount: Decimal | None


@dataclass(frozen=True)
class Sensitivity:
    """What another width would change: m, and the share of the material's cost."""

    change: float
    share: float


@dataclass(frozen=True)
class PriceList:
    """The price of a kit.

    Parameters
    ----------
    currency : str
    lines : tuple of Line
        They sum to `total`, cent for cent.
    total : Decimal
    is_complete : bool
        False where a line has no price.
    sensitivity : tuple of Sensitivity
    notes : tuple of Note
    """

    currency: str
    lines: tuple[Line, ...]
    total: Decimal
    is_complete: bool
    sensitivity: tuple[Sensitivity, ...] = ()
    notes: tuple[Note, ...] = ()
