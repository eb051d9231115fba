"""From the plans of a kit to its price."""

from __future__ import annotations

import math

from strutwright.brief import Brief
from strutwright.cover import CoverPlan
from strutwright.cutting import CuttingPlan, count_scaled_bars, plan_cuts
from strutwright.design.design import Design
from strutwright.design.skin import cover_of
from strutwright.errors import InputError
from strutwright.parts import Kit
from strutwright.parts.from_brief import part_choices
from strutwright.pricing import Ask, PriceList, Sensitivity, price_kit

__all__ = ["price_instead", "price_of"]

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
) -> PriceList:
    """Return the price of `kit` by the prices of `brief`; `sensitivity`: of other widths too."""
    hubs_only = brief.delivery.kit == "hubs-only"
    price, connector = brief.price, kit.connector
    skin = None
    if cover is not None and brief.cover.material is not None:
        skin = (cover.bought, brief.cover.price)
    ask = Ask(
        currency=price.currency,
        hour=price.hour,
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
        hub=0.0 if connector.kind == "flattened" else connector.hub_price,
        fasteners=tuple((f.item, f.quantity, f.price) for f in kit.fasteners),
        cover=skin,
        freight=price.freight,
        hubs_only=hubs_only,
    )
    return price_kit(ask, _sensitivity(kit, brief) if sensitivity and not hubs_only else ())


def price_instead(kit: Kit, brief: Brief, design: Design) -> float | None:
    """Return the price of `kit` of a changed `brief`, to hold against that of `design`.

    Bars and cover are planned anew; parcels are taken in proportion to the mass. None where the
    two totals do not leave out the same lines, so that they do not compare.
    """
    try:
        cutting, cover = plan_cuts(kit, brief), cover_of(kit, brief)
    except InputError:
        return None
    parcels = math.ceil(len(design.packing.parcels) * kit.mass / design.kit.mass)
    then = price_of(kit, cutting, parcels, cover, brief, sensitivity=False)
    if not _compare(then, design.price):
        return None
    return float(then.total)


def _compare(one: PriceList, other: PriceList) -> bool:
    """Return whether two totals leave out the same kinds of lines."""
    left_out = [{line.kind for line in p.lines if line.amount is None} for p in (one, other)]
    return left_out[0] == left_out[1]


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
