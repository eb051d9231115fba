"""Members cut into elements, and springs put inside members (couplers, hinges)."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from strutwright.frame.loads import Loads
from strutwright.frame.model import FrameModel
from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["Couplers", "Division", "divide_loads", "insert_couplers", "subdivide"]


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
    """

    members: Indices
    shares: Floats
    rotation: Floats
    axial: Floats

    def __post_init__(self) -> None:
        """Spread single numbers and check the ranges."""
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
        for name, value in (("members", members), ("shares", shares)):
            object.__setattr__(self, name, value)
        object.__setattr__(self, "rotation", rotation)
        object.__setattr__(self, "axial", axial)
        super().__post_init__()


@dataclass(frozen=True, eq=False)
class Division(ArrayValue):
    """A model with its members cut; the nodes of the old model keep their numbers.

    Parameters
    ----------
    model : FrameModel
    parent : (M',) int array
        Old member of each new one; the pieces of a member follow each other from end 0.
    span : (M', 2) array
        Shares of the old flexible length at the ends of each piece.
    """

    model: FrameModel
    parent: Indices
    span: Floats


def subdivide(model: FrameModel, pieces: int) -> Division:
    """Return `model` with every member cut into `pieces` equal elements.

    Bars (`truss`) and ties (`tension_only`) stay whole: cut, they would be loose chains.
    """
    if pieces < 1:
        msg = f"cannot cut a member into {pieces} pieces"
        raise ValueError(msg)
    whole = model.truss | model.tension_only
    cuts = np.arange(1, pieces) / pieces
    rows = np.flatnonzero(~whole)
    count = len(rows) * len(cuts)
    rigid = np.full((count, 3), np.inf)
    return _cut(model, np.repeat(rows, len(cuts)), np.tile(cuts, len(rows)), rigid, rigid[:, 0])


def insert_couplers(model: FrameModel, couplers: Couplers) -> Division:
    """Return `model` with its members cut at the couplers, each with its springs."""
    if ((couplers.members < 0) | (couplers.members >= len(model.members))).any():
        msg = "a coupler names an unknown member"
        raise ValueError(msg)
    if (model.truss | model.tension_only)[couplers.members].any():
        msg = "a coupler in a bar or a tie would leave a loose chain"
        raise ValueError(msg)
    order = np.lexsort((couplers.shares, couplers.members))
    same = np.diff(couplers.members[order]) == 0
    if (same & (np.diff(couplers.shares[order]) <= 0.0)).any():
        msg = "two couplers at one place of a member"
        raise ValueError(msg)
    return _cut(
        model,
        couplers.members[order],
        couplers.shares[order],
        couplers.rotation[order],
        couplers.axial[order],
    )


def _cut(
    model: FrameModel, members: Indices, shares: Floats, rotation: Floats, axial: Floats
) -> Division:
    """Return `model` cut at `shares` of `members`, both sorted, with springs after each cut."""
    n, count = len(model.nodes), len(model.members)
    ends = model.nodes[model.members] + model.offsets
    points = ends[members, 0] + shares[:, None] * (ends[members, 1] - ends[members, 0])
    parts = 1 + np.bincount(members, minlength=count)
    parent = np.repeat(np.arange(count), parts)
    last = np.cumsum(parts) - 1
    first = last - parts + 1
    after = np.arange(len(members)) + members + 1  # new member that starts at each cut
    pairs, span = np.empty((len(parent), 2), dtype=np.int64), np.empty((len(parent), 2))
    pairs[first, 0], pairs[last, 1] = model.members[:, 0], model.members[:, 1]
    span[first, 0], span[last, 1] = 0.0, 1.0
    new = n + np.arange(len(members))
    pairs[after, 0], pairs[after - 1, 1] = new, new
    span[after, 0], span[after - 1, 1] = shares, shares
    turning = np.full((len(parent), 2, 3), np.inf)
    sliding, arms = np.full((len(parent), 2), np.inf), np.zeros((len(parent), 2, 3))
    for end, rows in ((0, first), (1, last)):
        turning[rows, end] = model.end_rotation[:, end]
        sliding[rows, end] = model.end_axial[:, end]
        arms[rows, end] = model.offsets[:, end]
    turning[after, 0], sliding[after, 0] = rotation, axial
    extra = len(members)
    cut = replace(
        model,
        nodes=np.vstack([model.nodes, points]),
        members=pairs,
        section_of=model.section_of[parent],
        reference=model.reference[parent],
        end_rotation=turning,
        end_axial=sliding,
        offsets=arms,
        truss=model.truss[parent],
        tension_only=model.tension_only[parent],
        fixed=np.vstack([model.fixed, np.zeros((extra, 6), dtype=bool)]),
        springs=np.vstack([model.springs, np.zeros((extra, 6))]),
    )
    return Division(cut, parent, span)


def divide_loads(division: Division, loads: Loads) -> Loads:
    """Return the load case of the old model for the cut one."""
    n = len(division.model.nodes)
    parts: dict[str, Floats] = {}
    for name in ("forces", "moves"):
        value = getattr(loads, name)
        if value.size:
            parts[name] = np.vstack([value, np.zeros((n - len(value), 6))])
    if loads.line.size:
        line = loads.line[division.parent]
        t = division.span[:, :, None]
        parts["line"] = line[:, :1] + t * (line[:, 1:] - line[:, :1])
    if loads.strain.size:
        parts["strain"] = loads.strain[division.parent]
    return Loads(**parts)
