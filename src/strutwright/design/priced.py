"""From the plans of a kit to its price."""

from __future__ import annotations

from strutwright.brief import Brief
from strutwright.cover import CoverPlan
from strutwright.cutting import CuttingPlan, count_scaled_bars
from strutwright.errors import InputError
from strutwright.packing import PackingPlan
from strutwright.parts import Kit
from strutwright.parts.from_brief import part_choices
from strutwright.pricing import Ask, PriceList, Sensitivity, price_kit

__all__ = ["price_of"]

CHANGES = (-0.4, -0.2, 0.2, 0.4)
"""Changes of width that are told, m."""


def price_of(
    kit: Kit, cutting: CuttingPlan, packing: PackingPlan, cover: CoverPlan | None, brief: Brief
) -> PriceList:
    """Return the price of `kit` by the prices of `brief`."""
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
        n_parcels=len(packing.parcels),
        hub=0.0 if connector.kind == "flattened" else connector.hub_price,
        fasteners=tuple((f.item, f.quantity, f.price) for f in kit.fasteners),
        cover=skin,
        freight=price.freight,
        hubs_only=hubs_only,
    )
    return price_kit(ask, () if hubs_only else _sensitivity(kit, brief))


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
