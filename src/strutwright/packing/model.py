"""The whole-number model of the parcels, answered by CP-SAT."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final

from strutwright.errors import ResultError
from strutwright.packing.values import Item, Room

__all__ = ["Placed", "place"]

WORK: Final = 0.4
"""Deterministic time of the solver for one number of parcels: work, not seconds."""
GRAM: Final = 1000.0
CENTIMETRE2: Final = 1e6
"""Areas are counted in square millimetres."""


@dataclass(frozen=True)
class Placed:
    """How many of each item lie in each parcel: a row a parcel; fewest where `proven`."""

    rows: tuple[tuple[int, ...], ...]
    proven: bool
    bound: int


def place(items: Sequence[Item], room: Room) -> Placed:
    """Return `items` in the fewest parcels found, each with few stages.

    One parcel more is tried each time, from the least that mass and cross-section allow.
    """
    mass = [ceil(item.mass * GRAM) for item in items]
    area = [ceil(_lane(item, room) * CENTIMETRE2) for item in items]
    limits = (int((room.mass - room.empty) * GRAM), int(room.area * CENTIMETRE2))
    total = [sum(size * item.quantity for size, item in zip(s, items, strict=True))
             for s in (mass, area)]  # fmt: skip
    least = max(1, *(ceil(t / limit) for t, limit in zip(total, limits, strict=True)))
    simple = _in_order(items, (mass, area), limits)
    bound = least
    for n in range(least, len(simple) + 1):
        rows, refuted = _solve(items, (mass, area), limits, n)
        if rows:
            return Placed(rows, bound == n, bound)
        if refuted and bound == n:
            bound = n + 1
    return Placed(simple, bound == len(simple), bound)


def _lane(item: Item, room: Room) -> float:
    """Return the cross-section of one item, m2; hubs share a lane along the parcel."""
    behind = max(int(room.length / item.length), 1) if item.is_hub else 1
    return item.width**2 / behind


Sizes = tuple[Sequence[int], Sequence[int]]


def _in_order(items: Sequence[Item], sizes: Sizes, limits: tuple[int, int]) -> tuple[
    tuple[int, ...], ...
]:  # fmt: skip
    """Return the parcels filled stage after stage: the plain plan."""
    rows: list[list[int]] = []
    left = [0, 0]
    order = sorted(range(len(items)), key=lambda k: (items[k].stage, -items[k].length))
    for k in order:
        for _ in range(items[k].quantity):
            if not rows or any(s[k] > one for s, one in zip(sizes, left, strict=True)):
                rows.append([0] * len(items))
                left = list(limits)
            rows[-1][k] += 1
            left = [one - s[k] for s, one in zip(sizes, left, strict=True)]
    return tuple(tuple(row) for row in rows)


def _solve(
    items: Sequence[Item], sizes: Sizes, limits: tuple[int, int], n: int
) -> tuple[tuple[tuple[int, ...], ...], bool]:
    """Return the items in `n` parcels with the fewest stages each, and whether there is no way."""
    from ortools.sat.python import cp_model  # heavy (0.5 s), and needed by this function alone

    model = cp_model.CpModel()
    put = [[model.new_int_var(0, item.quantity, "") for item in items] for _ in range(n)]
    for k, item in enumerate(items):
        model.add(sum(row[k] for row in put) == item.quantity)
    stages = sorted({item.stage for item in items})
    held = [[model.new_bool_var("") for _ in stages] for _ in range(n)]
    for row, some in zip(put, held, strict=True):
        for size, limit in zip(sizes, limits, strict=True):
            model.add(sum(s * one for s, one in zip(size, row, strict=True)) <= limit)
        for one, item in zip(row, items, strict=True):
            model.add(one <= item.quantity * some[stages.index(item.stage)])
    model.minimize(sum(one for some in held for one in some))
    solver = cp_model.CpSolver()
    solver.parameters.max_deterministic_time = WORK
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    status = solver.solve(model)
    if status == cp_model.MODEL_INVALID:
        raise ResultError("packing-failed", "the parcels' model is not valid", "", "report it")
    if status in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        return tuple(tuple(solver.value(one) for one in row) for row in put), False
    return (), status == cp_model.INFEASIBLE
