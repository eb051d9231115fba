"""`price_kit`: from counts and prices to a price list."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from strutwright.pricing.values import Ask, Line, PriceList, Sensitivity, cents
from strutwright.sentences import note
from strutwright.values import Note

__all__ = ["price_kit"]


def price_kit(ask: Ask, sensitivity: Sequence[Sensitivity] = ()) -> PriceList:
    """Return the price list of what is asked.

    Each line is rounded to cents once; margin is counted on the sum of the lines and tax on both.
    A line without a price is listed and named in a note, never counted as nothing in silence.
    """
    lines = [*_material(ask), *_labour(ask), _freight(ask)]
    cost = sum((line.amount for line in lines if line.amount is not None), Decimal(0))
    margin = cents(cost * Decimal(str(ask.margin)))
    tax = cents((cost + margin) * Decimal(str(ask.tax)))
    unknown = [line.item for line in lines if line.amount is None]
    lines += [
        Line("margin", "margin", ask.margin, "share", None, margin),
        Line("tax", "tax", ask.tax, "share", None, tax),
    ]
    return PriceList(
        currency=ask.currency,
        lines=tuple(lines),
        total=cost + margin + tax,
        is_complete=not unknown,
        sensitivity=tuple(sensitivity),
        notes=_notes(unknown),
    )


def _notes(unknown: Sequence[str]) -> tuple[Note, ...]:
    if not unknown:
        return ()
    return (note("price-missing", items=tuple(unknown)),)


def _line(item: str, kind: str, quantity: float, unit: str, each: float | None) -> Line:
    if each is None:
        return Line(item, kind, quantity, unit, None, None)
    exact = Decimal(str(each))
    return Line(item, kind, quantity, unit, exact, cents(exact * Decimal(str(quantity))))


def _material(ask: Ask) -> list[Line]:
    lines = []
    if not ask.hubs_only:
        amount = None if ask.bars is None else cents(ask.bars)
        lines.append(Line("bars", "material", ask.n_bars, "bars", None, amount))
    lines.append(_line("hub bodies", "hubs", ask.n_hubs, "hubs", ask.hub))
    lines += [_line(item, "fasteners", n, "pieces", each) for item, n, each in ask.fasteners]
    if ask.cover is not None and not ask.hubs_only:
        lines.append(_line("cover", "cover", round(ask.cover[0], 2), "m2", ask.cover[1]))
    return lines


def _labour(ask: Ask) -> list[Line]:
    counts = {"hub": ask.n_hubs, "label": ask.n_hubs, "parcel": ask.n_parcels}
    if not ask.hubs_only:
        counts |= {
            "saw": ask.n_cuts,
            "end": ask.n_ends,
            "coupler": ask.n_couplers,
            "label": ask.n_hubs + ask.n_struts,
        }
    lines = []
    for operation, minutes in ask.labour.items():
        n = counts.get(operation, 0)
        if n:
            hours = round(n * minutes / 60, 2)
            lines.append(_line(f"work: {operation} x {n}", "labour", hours, "h", ask.hour))
    return lines


def _freight(ask: Ask) -> Line:
    return _line("freight", "freight", ask.n_parcels, "parcels", ask.freight)
