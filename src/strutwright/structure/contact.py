"""Bases that lift or slide and ties that only pull: which do so under each combination."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.optimize import linprog

from strutwright.errors import ResultError
from strutwright.frame import Settlement, settle
from strutwright.frame.model import Flags
from strutwright.structure.answers import Solved
from strutwright.values import ArrayValue, Floats

__all__ = [
    "AS_HELD",
    "HELD",
    "LOOSE",
    "ROUNDING",
    "SETTLED",
    "BaseState",
    "Settled",
    "settle_all",
    "stacked",
]

HELD: Final = "held"
"""Nothing lifts, slides or hangs slack."""
SETTLED: Final = "settled"
"""Something does, and what is left carries the load."""
LOOSE: Final = "loose"
"""What is left cannot carry the load: the kit lifts off, slides away or hangs loose."""
SIDES: Final = 8
"""Sides of the pyramid that stands round the cone of friction."""
INFEASIBLE: Final = 2
"""What `linprog` says when nothing meets the equations."""
AS_HELD: Final = "as held"
"""Something would lift or slide, but the base fails under other combinations and was not sought."""
ROUNDING: Final = 1e-9
"""Share of the largest force at contacts and ties that is taken as nothing."""


@dataclass(frozen=True, eq=False)
class Settled(ArrayValue):
    """How one combination settles.

    Parameters
    ----------
    shares : (C + U,) array
        Factors of the cases, then the movements of contacts and ties; those are nothing where
        the kit comes loose: the forces are then those of a kit that is held.
    lifted, sliding : (G,) bool array
        Hubs that meet the ground.
    slack : (S,) bool array
        Struts.
    ended : str
        `HELD`, `SETTLED`, `LOOSE`, `AS_HELD`, or how the search stopped without an answer:
        ``cycling`` or ``rounds``.
    """

    shares: Floats
    lifted: Flags
    sliding: Flags
    slack: Flags
    ended: str


@dataclass(frozen=True, eq=False)
class BaseState(ArrayValue):
    """How N combinations settle: (N, G) lifted and sliding, (N, S) slack, N words how it ended."""

    lifted: Flags
    sliding: Flags
    slack: Flags
    ended: tuple[str, ...]

    def rows(self, *words: str) -> list[int]:
        """Return the combinations that ended in one of `words`."""
        return [k for k, word in enumerate(self.ended) if word in words]


def stacked(states: list[Settled]) -> BaseState:
    """Return the states of many combinations as one value."""
    return BaseState(
        np.stack([s.lifted for s in states]),
        np.stack([s.sliding for s in states]),
        np.stack([s.slack for s in states]),
        tuple(s.ended for s in states),
    )


def settle_all(solved: Sequence[Solved], table: Floats, press: Floats) -> list[Settled]:
    """Return how N combinations settle: held as they are where no condition breaks.

    Where some combination carries the whole kit off, the base needs weight or anchors before
    anything else: the others are then taken as held too, and say `AS_HELD`.

    Parameters
    ----------
    solved : sequence of Solved
        The frame of each combination.
    table : (N, C) array
        Factors of the cases.
    press : (N,) array, N
        Weight on every hub that meets the ground, with its factor; it is carried by the ground
        and hangs on a hub that lifts.
    """
    rows = [_Row(s, factors, float(p)) for s, factors, p in zip(solved, table, press, strict=True)]
    broken = [row.breaks() for row in rows]
    lost = [
        bad and row.count > 0 and not row.can_rest() for row, bad in zip(rows, broken, strict=True)
    ]
    last: dict[int, Settlement] = {}
    out = []
    for row, bad, gone in zip(rows, broken, lost, strict=True):
        if not bad or any(lost):
            out.append(row.held(LOOSE if gone else AS_HELD if bad else HELD))
            continue
        state, found = row.settled(last.get(id(row.solved)))
        out.append(state)
        if found is not None:
            last[id(row.solved)] = found
    return out


@dataclass(frozen=True, eq=False)
class _Row:
    """One combination on its frame."""

    solved: Solved
    factors: Floats
    press: float

    @property
    def count(self) -> int:
        """Return the number of contacts."""
        return len(self.solved.model.frame.contacts.nodes)

    def asked(self) -> Floats:
        """Return what contacts and ties have to hold, N."""
        forces: Floats = self.factors @ self.solved.asked
        forces[: 3 * self.count : 3] += self.press
        return forces

    def breaks(self) -> bool:
        """Return whether a contact would pull or slip, or a tie would push."""
        return _breaks(self.asked(), self.solved.model.frame.contacts.friction, self.count)

    def can_rest(self) -> bool:
        """Return whether the ground can carry it at all."""
        return _can_rest(self.solved, self.factors, self.press)

    def held(self, ended: str) -> Settled:
        """Return the state of a kit that is held everywhere."""
        still = np.zeros(len(self.solved.contact.units))
        nothing = np.zeros(len(self.solved.model.ground), dtype=bool)
        slack = np.zeros(len(self.solved.model.frame.members), dtype=bool)
        return Settled(np.concatenate([self.factors, still]), nothing, nothing, slack, ended)

    def settled(self, near: Settlement | None) -> tuple[Settled, Settlement | None]:
        """Return what lifts, slides and hangs slack."""
        frame = self.solved.contact
        try:
            found = settle(frame, self.asked(), near)
        except ResultError as error:
            if error.code != "mechanism":
                raise
            return self.held(LOOSE), None
        if found.ended != "settled":
            return self.held(found.ended), None
        slack = np.zeros(len(self.solved.model.frame.members), dtype=bool)
        slack[frame.ties] = found.slack
        nothing = np.zeros(len(self.solved.model.ground), dtype=bool)
        lifted, sliding = (found.lifted, found.sliding) if self.count else (nothing, nothing)
        shares = np.concatenate([self.factors, found.shares])
        return Settled(shares, lifted, sliding, slack, SETTLED), found


def _can_rest(solved: Solved, factors: Floats, press: float) -> bool:
    """Return whether pushes and friction on the ground can balance the load at all.

    As one rigid body, friction in any of `SIDES` directions a little too strong: what fails here
    lifts off, tips or slides away whatever its shape does.
    """
    model, count = solved.model, len(factors)
    points = model.frame.nodes[model.ground]
    asked = np.tensordot(factors, solved.reactions[:count], axes=1)
    asked[:, 2] += press
    if asked[:, 2].sum() < 0:
        return False
    around = 2.0 * np.pi * np.arange(SIDES) / SIDES
    reach = model.frame.contacts.friction[:, None] / np.cos(np.pi / SIDES)
    ways = np.stack(
        [reach * np.cos(around), reach * np.sin(around), np.ones((len(points), SIDES))], axis=2
    ).reshape(-1, 3)
    at = np.repeat(points, SIDES, axis=0)
    balance = np.vstack([ways.T, np.cross(at, ways).T])
    wanted = np.concatenate([asked.sum(axis=0), np.cross(points, asked).sum(axis=0)])
    size = max(float(np.abs(wanted).max()), 1e-300)
    answer = linprog(np.zeros(len(ways)), A_eq=balance, b_eq=wanted / size, method="highs")
    return bool(answer.status != INFEASIBLE)


def _breaks(asked: Floats, friction: Floats, count: int) -> bool:
    """Return whether a contact would pull or slip, or a tie would push."""
    if len(asked) == 0:
        return False
    small = ROUNDING * float(np.abs(asked).max())
    at = asked[: 3 * count].reshape(count, 3)
    slips = np.hypot(at[:, 1], at[:, 2]) > friction * at[:, 0] + small
    return bool((at[:, 0] < -small).any() or slips.any() or (asked[3 * count :] < -small).any())
