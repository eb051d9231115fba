"""From the kit and its build sequence to what must travel, and the parcels."""

from __future__ import annotations

from collections import Counter

from strutwright.brief import Brief
from strutwright.catalogue import carrier
from strutwright.packing import Item, PackingPlan, pack
from strutwright.parts import Kit, StrutType
from strutwright.sequence import BuildSequence

__all__ = ["pack_kit", "packing_items"]

HUB_SIDE = 3.0
"""A hub body is taken to be this many stock widths across where its size is not known."""


def pack_kit(kit: Kit, sequence: BuildSequence, brief: Brief) -> PackingPlan:
    """Return the parcels of `kit`: the whole kit, or hubs alone as `brief` says."""
    known = carrier(brief.delivery.carrier, brief.where("delivery.carrier"))
    items = packing_items(kit, sequence, hubs_only=brief.delivery.kit == "hubs-only")
    return pack(items, known, kit.masses.get("fasteners", 0.0) + kit.masses.get("couplers", 0.0))


def packing_items(kit: Kit, sequence: BuildSequence, *, hubs_only: bool) -> list[Item]:
    """Return the pieces and hubs of `kit`, each with the stage that needs it first."""
    struts: Counter[tuple[int, int]] = Counter()
    hubs: Counter[tuple[int, int]] = Counter()
    for stage, one in enumerate(sequence.stages):
        for done in one.steps:
            if done.picks:
                struts.update((stage, int(kit.strut_type_of[s])) for s in done.struts)
                hubs.update((stage, int(kit.hub_type_of[h])) for h in done.hubs)
    _add_missing(struts, [t.quantity for t in kit.strut_types])
    _add_missing(hubs, [t.quantity for t in kit.hub_types])
    items = [] if hubs_only else _strut_items(kit, struts)
    n_ends = kit.shell.struts.size
    each = kit.masses.get("hubs", 0.0) / n_ends
    reach = kit.connector.outside_from_centre
    width = kit.stock.section.width
    side = 2 * reach if reach else HUB_SIDE * width
    for (stage, k), n in sorted(hubs.items()):
        hub = kit.hub_types[k]
        is_bolt = kit.connector.kind == "flattened"
        size = (0.1, width) if is_bolt else (side, side)
        items.append(Item(hub.label, stage, n, *size, each * hub.valence, is_hub=True))
    return items


def _add_missing(found: Counter[tuple[int, int]], wanted: list[int]) -> None:
    """Book what no stage placed, or placed twice, so that all parts travel once."""
    for k, quantity in enumerate(wanted):
        stages = sorted(stage for stage, kind in found if kind == k)
        over = sum(found[stage, k] for stage in stages) - quantity
        if over < 0:
            found[stages[-1] if stages else 0, k] -= over
        for stage in reversed(stages):
            cut = min(max(over, 0), found[stage, k])
            found[stage, k] -= cut
            over -= cut


def _strut_items(kit: Kit, struts: Counter[tuple[int, int]]) -> list[Item]:
    width = max(kit.stock.section.width, kit.stock.section.depth)
    return [
        Item(piece.label, stage, n * _of_one(kind, piece.quantity), piece.length, width,
             piece.length * kit.stock.mass)
        for (stage, k), n in sorted(struts.items())
        for kind in (kit.strut_types[k],)
        for piece in kind.pieces
    ]  # fmt: skip


def _of_one(kind: StrutType, quantity: int) -> int:
    """Return how many of a type's pieces one strut has."""
    return quantity // kind.quantity
