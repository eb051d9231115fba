"""kit.json, section price: what the kit costs, line by line."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field

from strutwright.pricing import PriceList

__all__ = ["PricePart", "price_section"]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid")


class LinePart(_Part):
    """A line; `amount` is in whole cents, None where no price is known."""

    item: str
    kind: str
    quantity: float
    unit: str
    each: float | None
    amount: float | None


class SensitivityPart(_Part):
    """What a change of width (m) would change in the bars' cost, as a share."""

    change: float
    share: float


class PricePart(_Part):
    """The price; the amounts of the items sum to the total."""

    items: list[LinePart]
    total: float = Field(description="in whole cents")
    currency: str
    is_complete: bool = Field(description="False where an item has no price")
    sensitivity: list[SensitivityPart]


def price_section(price: PriceList) -> dict[str, Any]:
    """Return the section."""
    return {
        "items": [
            {
                "item": line.item,
                "kind": line.kind,
                "quantity": line.quantity,
                "unit": line.unit,
                "each": None if line.each is None else float(line.each),
                "amount": None if line.amount is None else float(line.amount),
            }
            for line in price.lines
        ],
        "total": float(price.total),
        "currency": price.currency,
        "is_complete": price.is_complete,
        "sensitivity": [{"change": s.change, "share": s.share} for s in price.sensitivity],
    }
