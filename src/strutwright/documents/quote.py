"""The quote: what is in, what is not, what it costs."""

from __future__ import annotations

from decimal import Decimal

from strutwright.design import Design
from strutwright.documents.blocks import Bullets, Document, Heading, Paragraph, Table
from strutwright.documents.framed import framed
from strutwright.documents.reader import Reader
from strutwright.units import show_share

__all__ = ["build_quote"]

VALID_DAYS = 30
"""Our choice: prices of tube move faster than a quarter."""


def build_quote(design: Design, *, date: str = "") -> Document:
    """Return the quote of `design`."""
    reader, price = Reader.of(design), design.price
    hubs_only = design.brief.delivery.kit == "hubs-only"
    rows = [
        (
            line.item,
            show_share(line.quantity) if line.unit == "share" else f"{line.quantity:g} {line.unit}",
            _money(line.each),
            _money(line.amount) or reader("quote.no_price"),
        )
        for line in price.lines
    ]
    rows.append((reader("quote.total"), "", "", f"{price.currency} {_money(price.total)}"))
    within = "quote.in_hubs" if hubs_only else "quote.in_full"
    missing = [line.item for line in price.lines if line.amount is None]
    changes = tuple(
        reader(
            "quote.saves" if one.share < 0 else "quote.costs",
            change=reader.length(abs(one.change)),
            way=reader("quote.smaller" if one.change < 0 else "quote.larger"),
            share=show_share(abs(one.share)),
        )
        for one in price.sensitivity
        if round(one.share, 2)
    )
    return framed(
        design,
        reader,
        reader("quote.title"),
        (
            Heading(1, reader("quote.price")),
            Table(
                tuple(reader(f"quote.{head}_head") for head in ("item", "count", "each", "amount")),
                tuple(rows),
                "lrrr",
            ),
            Paragraph(reader("quote.valid", days=VALID_DAYS), "limit"),
            Heading(2, reader("quote.in")),
            Paragraph(reader(within, parcels=len(design.packing.parcels))),
            Heading(2, reader("quote.out")),
            Bullets((*([reader("quote.missing", items=", ".join(missing))] if missing else []),
                     reader("quote.out_work"), reader("quote.out_permit"))),
            *((Heading(2, reader("quote.sizes")), Bullets(changes)) if changes else ()),
        ),
        {},
        date=date,
    )  # fmt: skip


def _money(amount: Decimal | None) -> str:
    return "" if amount is None else f"{amount:,.2f}".replace(",", " ")
