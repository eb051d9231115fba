"""Placings gathered to steps: few part types at once, repeats shown once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from strutwright.parts import Kit
from strutwright.sequence.order import Placement

__all__ = ["MOST_STRUT_TYPES", "Group", "group"]

MOST_PARTS: Final = 12
FEWEST_PARTS: Final = 4
MOST_STRUT_TYPES: Final = 3
FEW_STRUT_TYPES: Final = 2
MOST_HUB_TYPES: Final = 2
"""Parts and types of a step. Source: step content and selection load (Richardson, Jones,
Torrance, Ergonomics 47(9), 2004); the numbers are our choice."""
STEP_COST: Final = 10.0
"""What a printed step costs the reader against one more part type (4) or a lone part (1)."""
NEVER: Final = 1000.0

Sign = tuple[object, ...]


@dataclass(frozen=True)
class Group:
    """One step: the placings of each repeat."""

    units: tuple[tuple[Placement, ...], ...]

    @property
    def placings(self) -> tuple[Placement, ...]:
        """Return the placings of all repeats in their order."""
        return tuple(one for unit in self.units for one in unit)


def group(kit: Kit, placings: Sequence[Placement]) -> tuple[list[Group], float]:
    """Return the placings cut into steps at the least cost, and that cost.

    Dynamic programming over the cuts: a step is a run of placings, repeated as often as the
    following runs take the same types in the same order.
    """
    signs = [_sign(kit, one) for one in placings]
    n = len(placings)
    best: list[tuple[float, int, int]] = [(float("inf"), 0, 0)] * (n + 1)
    best[0] = (0.0, 0, 0)
    for first in range(n):
        if best[first][0] == float("inf"):
            continue
        for size in range(1, n - first + 1):
            unit = placings[first : first + size]
            cost = _cost(kit, unit)
            if size > MOST_PARTS:
                break
            for times in _times(signs, first, size):
                total = best[first][0] + cost + (0.5 if times > 1 else 0.0)
                end = first + size * times
                if total < best[end][0] - 1e-9:
                    best[end] = (total, size, times)
    out: list[Group] = []
    end = n
    while end:
        _, size, times = best[end]
        first = end - size * times
        cuts = [first + size * k for k in range(times)]
        out.append(Group(tuple(tuple(placings[cut : cut + size]) for cut in cuts)))
        end = first
    return out[::-1], best[n][0]


def _times(signs: Sequence[Sign], first: int, size: int) -> list[int]:
    """Return 1, 2 ... as often as the run of `size` from `first` comes again."""
    times = [1]
    while True:
        start = first + size * len(times)
        if start + size > len(signs):
            return times
        if signs[start : start + size] != signs[first : first + size]:
            return times
        times.append(len(times) + 1)


def _sign(kit: Kit, one: Placement) -> Sign:
    hub = int(kit.hub_type_of[one.hub]) if one.hub >= 0 else -1
    return (hub, tuple(sorted(kit.strut_type_of[list(one.struts)].tolist())), one.loose)


def _cost(kit: Kit, unit: Sequence[Placement]) -> float:
    struts = [strut for one in unit for strut in one.struts]
    hubs = [one.hub for one in unit if one.hub >= 0]
    strut_types = len(set(kit.strut_type_of[struts].tolist())) if struts else 0
    hub_types = len(set(kit.hub_type_of[hubs].tolist())) if hubs else 0
    parts = len(struts) + len(hubs)
    cost = STEP_COST + 4.0 * max(0, strut_types - FEW_STRUT_TYPES)
    cost += max(0, FEWEST_PARTS - parts)
    if unit[-1].hub >= 0 and not unit[-1].struts:
        cost += NEVER  # a hub that nothing joins yet does not end a step
    over = max(0, parts - MOST_PARTS) + max(0, hub_types - MOST_HUB_TYPES)
    return cost + NEVER * (over + max(0, strut_types - MOST_STRUT_TYPES))
