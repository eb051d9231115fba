"""From the plans of a kit to its price."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from strutwright.brief import Brief
from strutwright.cover import CoverPlan
from strutwright.cutting import CuttingPlan, count_scaled_bars, plan_cuts
from strutwright.design.design import Design
from strutwright.design.skin import cover_of
from strutwright.errors import InputError
from strutwright.parts import Kit
from strutwright.parts.from_brief import part_choices
from strutwright.pricing import LABOUR, Ask, PriceList, Sensitivity, price_kit

__all__ = ["price_instead", "price_of", "priced_anew"]

NO_PRICES: Final[Mapping[str, Decimal]] = MappingProxyType({})
MINUTES: Final = "minutes: "
CHANGES = (-0.4, -0.2, 0.2, 0.4)
"""Changes of width that are told, m."""


def price_of(
    kit: Kit,
    cutting: CuttingPlan,
    parcels: int,
    cover: CoverPlan | None,
    brief: Brief,
    *,
    sensitivity: bool = True,
    prices: Mapping[str, Decimal] = NO_PRICES,
) -> PriceList:
    """Return the price of `kit` by the prices of `brief`; `sensitivity`: of other widths too.

    `prices` of a list stand before those of brief and catalogue: of ``hub bodies``, of each
    fastener by its item, of a square metre of ``cover``, a parcel's ``freight``, an ``hour``, and
    ``minutes: saw`` for the minutes of an operation.
    """

    def of(item: str, known: float | None) -> float | None:
        return float(prices[item]) if item in prices else known

    hubs_only = brief.delivery.kit == "hubs-only"
    price, connector = brief.price, kit.connector
    skin = None
    if cover is not None and brief.cover.material is not None:
        skin = (cover.bought, of("cover", brief.cover.price))
    ask = Ask(
        currency=price.currency,
        hour=of("hour", price.hour),
        margin=price.margin,
        tax=price.tax,
        bars=cutting.cost if cutting.by_price else None,
        n_bars=len(cutting.bars),
        n_cuts=sum(len(bar.cuts) for bar in cutting.bars),
        n_ends=2 * sum(kind.quantity for kind in kit.strut_types),
        n_hubs=sum(kind.quantity for kind in kit.hub_types),
        n_couplers=sum(f.quantity for f in kit.fasteners if f.item == "coupler"),
        n_struts=sum(kind.quantity for kind in kit.strut_types),
        n_parcels=parcels,
        hub=of("hub bodies", 0.0 if connector.kind == "flattened" else connector.hub_price),
        fasteners=tuple((f.item, f.quantity, of(f.item, f.price)) for f in kit.fasteners),
        cover=skin,
        freight=of("freight", price.freight),
        hubs_only=hubs_only,
        labour={work: of(f"{MINUTES}{work}", m) or 0.0 for work, m in LABOUR.items()},
    )
    return price_kit(ask, _sensitivity(kit, brief) if sensitivity and not hubs_only else ())


def priced_anew(design: Design, prices: Mapping[str, Decimal]) -> tuple[Design, tuple[str, ...]]:
    """Return `design` at the `prices` of a list, and the items of the list that it has not."""
    brief, kit = design.brief, design.kit
    n = len(design.packing.parcels)
    price = price_of(kit, design.cutting, n, design.cover, brief, prices=prices)
    notes = [note for note in design.notes if note not in design.price.notes]
    known = {"hub bodies", "cover", "freight", "hour"} | {f.item for f in kit.fasteners}
    known |= {f"{MINUTES}{work}" for work in LABOUR}
    unused = tuple(item for item in prices if item not in known)
    return replace(design, price=price, notes=(*notes, *price.notes)), unused


def price_instead(kit: Kit, brief: Brief, design: Design) -> tuple[float | None, str]:
    """Return the price of `kit` of a changed `brief`, to hold against that of `design`.

    Bars and cover are planned anew; parcels are taken in proportion to the mass. None where the
    two totals do not leave out the same lines, so that they do not compare; the second value
    names what has no price then.
    """
    try:
        cutting, cover = plan_cuts(kit, brief), cover_of(kit, brief)
    except InputError as error:
        return None, error.problems[0].what
    parcels = math.ceil(len(design.packing.parcels) * kit.mass / design.kit.mass)
    then = price_of(kit, cutting, parcels, cover, brief, sensitivity=False)
    unlike = _left_out(then) ^ _left_out(design.price)
    if unlike:
        items = [
            line.item
            for line in (*then.lines, *design.price.lines)
            if line.amount is None and line.kind in unlike
        ]
        return None, ", ".join(dict.fromkeys(items))
    return float(then.total), ""


def _left_out(price: PriceList) -> set[str]:
    """Return the kinds of lines that a total leaves out, for they have no price."""
    return {line.kind for line in price.lines if line.amount is None}


def _sensitivity(kit: Kit, brief: Brief) -> list[Sensitivity]:
    """Return what other widths would change in the bars, by the same plain plan for all."""
    width = brief.size.width
    if width is None:
        return []
    longest = part_choices(brief)[0].longest_piece
    try:
        now = count_scaled_bars(kit, brief, 1.0, longest).cost
    except InputError:
        return []
    found = []
    for change in CHANGES:
        if width + change <= 0.5 * width:
            continue
        try:
            then = count_scaled_bars(kit, brief, (width + change) / width, longest).cost
        except InputError:
            continue
        found.append(Sensitivity(change, then / now - 1))
    return found
