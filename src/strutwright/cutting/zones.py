"""The parts of bars that can be cut: what lies between knots, dents and welds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from strutwright.catalogue import Bar

__all__ = ["Part", "usable_parts"]


@dataclass(frozen=True)
class Part:
    """A length of bar without an unusable zone.

    Parameters
    ----------
    length, start : float, m
        Of the part; from the bar's datum end to its beginning.
    price : float or None
        Its share, by length, of the bar's price.
    quantity : int or None
    stock, name : str
    """

    length: float
    start: float = 0.0
    price: float | None = None
    quantity: int | None = None
    stock: str = ""
    name: str = ""


def usable_parts(bars: Sequence[Bar], *, by_price: bool) -> list[Part]:
    """Return the parts of `bars`; a bar without a zone is one part.

    The price of a bar is shared among its parts by their length: a part that is not cut goes back
    to the rack. Without prices a part costs its metres.
    """
    parts = []
    for bar in bars:
        lengths = _between(bar)
        whole = sum(end - start for start, end in lengths)
        for start, end in lengths:
            price = (
                bar.price * (end - start) / whole if by_price and bar.price is not None else None
            )
            parts.append(Part(end - start, start, price, bar.quantity, bar.stock, bar.name))
    return parts


def _between(bar: Bar) -> list[tuple[float, float]]:
    """Return where the usable parts of `bar` begin and end."""
    parts, place = [], 0.0
    for start, end in sorted(bar.zones):
        if start > place:
            parts.append((place, min(start, bar.length)))
        place = max(place, end)
    if place < bar.length:
        parts.append((place, bar.length))
    return parts
