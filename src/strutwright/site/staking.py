"""In which order the base hubs are staked, and the ties that would hold a long base together."""

from __future__ import annotations

import numpy as np

from strutwright.shape import Shell
from strutwright.site.anchor_values import GroundTie
from strutwright.values import Floats, Indices

__all__ = ["ground_ties", "order_of", "staking_order"]


def order_of(shell: Shell, ground: Indices) -> Indices:
    """Return the order in which the hubs on the ground are staked.

    A long shell is staked from the middle outwards, facing hubs together, the ends last: there it
    spreads most. Source: common practice, no source.
    """
    at = shell.hubs[ground, :2]
    if shell.recipe.family == "dome":
        return staking_order(len(ground))
    place = np.round(np.abs(at[:, 0]) / max(float(np.ptp(at[:, 0])), 1e-9), 6)
    order: Indices = np.lexsort((at[:, 1] < 0, at[:, 0] < 0, place))
    return order


def staking_order(n: int) -> Indices:
    """Return the order in which `n` hubs round a base are staked: opposite ones in turn.

    Two opposite hubs, then those square to them, then the rest in opposite pairs: each pair
    holds the shell against what the last one let it do.
    """
    half = n // 2
    pairs = [k for k in (0, half // 2) if k < max(half, 1)]
    pairs += [k for k in range(half) if k not in pairs]
    order = [k for first in pairs for k in (first, first + half)]
    return np.array([*order, *sorted(set(range(n)) - set(order))], dtype=np.int64)


def ground_ties(shell: Shell, ground: Indices, reactions: Floats) -> tuple[GroundTie, ...]:
    """Return the ties across a long shell that would take the spread of facing hubs."""
    at = shell.hubs[ground, :2]
    width = float(np.ptp(at[:, 1]))
    if shell.recipe.family == "dome":
        return ()
    ties = []
    for i in np.flatnonzero(at[:, 1] > 0.05 * width).tolist():
        facing = np.flatnonzero(np.linalg.norm(at - at[i] * [1, -1], axis=1) < 1e-6 * width)
        for j in facing.tolist():
            # the ground pushes both inwards: that is what a tie would pull
            inward = np.minimum(-reactions[:, i, 1], reactions[:, j, 1])
            force = float(inward.max())
            if force > 0:
                ties.append(GroundTie(int(ground[i]), int(ground[j]), force))
    return tuple(ties)
