"""Springs inside members, where two pieces are joined."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["Couplers"]


@dataclass(frozen=True, eq=False)
class Couplers(ArrayValue):
    """Springs inside members, where two pieces are joined.

    Parameters
    ----------
    members : (C,) int array
    shares : (C,) array
        Place as a share of the flexible length, between 0 and 1.
    rotation : (C, 3) array, Nm/rad
        About local x, y, z; 0 a hinge, infinity rigid.
    axial : (C,) array, N/m
        Infinity rigid.
    """

    members: Indices = field(default_factory=lambda: np.empty(0, dtype=np.int64))
    shares: Floats = field(default_factory=lambda: np.empty(0))
    rotation: Floats = field(default_factory=lambda: np.empty((0, 3)))
    axial: Floats = field(default_factory=lambda: np.empty(0))

    def __post_init__(self) -> None:
        """Spread single numbers, check the ranges, and sort by member and place."""
        members = np.atleast_1d(np.asarray(self.members, dtype=np.int64))
        shares = np.array(np.broadcast_to(np.asarray(self.shares, float), members.shape))
        rotation = np.array(np.broadcast_to(np.asarray(self.rotation, float), (len(members), 3)))
        axial = np.array(np.broadcast_to(np.asarray(self.axial, float), members.shape))
        if not ((shares > 0.0) & (shares < 1.0)).all():
            msg = "a coupler lies between the ends: share above 0 and below 1"
            raise ValueError(msg)
        if not ((rotation >= 0.0).all() and (axial >= 0.0).all()):
            msg = "a coupler's stiffness is below zero or not a number"
            raise ValueError(msg)
        order = np.lexsort((shares, members))
        same = np.diff(members[order]) == 0
        if (same & (np.diff(shares[order]) <= 0.0)).any():
            msg = "two couplers at one place of a member"
            raise ValueError(msg)
        for name, value in (
            ("members", members), ("shares", shares), ("rotation", rotation), ("axial", axial)
        ):  # fmt: skip
            object.__setattr__(self, name, value[order])
        super().__post_init__()

    def ranks(self) -> Indices:
        """Return (C,) how many couplers of the same member come before each."""
        first = np.searchsorted(self.members, self.members)
        return np.asarray(np.arange(len(self.members)) - first)
