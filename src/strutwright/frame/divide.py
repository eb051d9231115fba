"""Members cut into elements, and springs put inside members (couplers, hinges)."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from strutwright.frame.couplers import Couplers
from strutwright.frame.loads import Loads
from strutwright.frame.model import FrameModel
from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["Division", "divide_loads", "insert_couplers", "refuse_uncut", "subdivide", "undivided"]

SAME = 1e-6
"""Share of a member within which a cut and a coupler are at one place."""


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


def undivided(model: FrameModel) -> Division:
    """Return `model` as it is, as a division of itself into one piece a member."""
    count = len(model.members)
    return Division(model, np.arange(count), np.tile([0.0, 1.0], (count, 1)))


def subdivide(model: FrameModel, pieces: int) -> Division:
    """Return `model` with every member cut into `pieces` equal elements, and at its couplers.

    Bars (`truss`) and ties (`tension_only`) stay whole: cut, they would be loose chains.
    """
    if pieces < 1:
        msg = f"cannot cut a member into {pieces} pieces"
        raise ValueError(msg)
    whole = model.truss | model.tension_only
    own = model.couplers
    joined = np.flatnonzero(~whole[own.members])
    cuts = np.arange(1, pieces) / pieces
    rows = np.flatnonzero(~whole)
    members, shares = np.repeat(rows, len(cuts)), np.tile(cuts, len(rows))
    near = np.zeros(len(members), dtype=bool)
    for member, share in zip(own.members[joined], own.shares[joined], strict=True):
        near |= (members == member) & (np.abs(shares - share) < SAME)
    members, shares = members[~near], shares[~near]
    rigid = np.full((len(members), 3), np.inf)
    return _cut(
        model,
        Couplers(
            np.concatenate([own.members[joined], members]),
            np.concatenate([own.shares[joined], shares]),
            np.vstack([own.rotation[joined], rigid]),
            np.concatenate([own.axial[joined], rigid[:, 0]]),
        ),
    )


def insert_couplers(model: FrameModel, couplers: Couplers) -> Division:
    """Return `model` with its members cut at `couplers`, each with its springs.

    Unlike the couplers that a model may hold, these may be hinges.
    """
    if ((couplers.members < 0) | (couplers.members >= len(model.members))).any():
        msg = "a coupler names an unknown member"
        raise ValueError(msg)
    if (model.truss | model.tension_only)[couplers.members].any():
        msg = "a coupler in a bar or a tie would leave a loose chain"
        raise ValueError(msg)
    if np.isin(couplers.members, model.couplers.members).any():
        msg = "a member to be cut holds couplers already: cut it with subdivide"
        raise ValueError(msg)
    return _cut(model, couplers)


def _cut(model: FrameModel, cuts: Couplers) -> Division:
    """Return `model` cut at `cuts`, with springs after each; couplers of whole members stay."""
    members, shares = cuts.members, cuts.shares
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
    turning[after, 0], sliding[after, 0] = cuts.rotation, cuts.axial
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
        couplers=_kept(model.couplers, first, parts),
    )
    return Division(cut, parent, span)


def _kept(couplers: Couplers, first: Indices, parts: Indices) -> Couplers:
    """Return the couplers of members that were not cut, by the new number of each."""
    stay = parts[couplers.members] == 1
    return Couplers(
        first[couplers.members[stay]],
        couplers.shares[stay],
        couplers.rotation[stay],
        couplers.axial[stay],
    )


def refuse_uncut(model: FrameModel) -> None:
    """Raise ValueError where a beam of `model` bows and has a coupler inside."""
    beams = ~(model.truss | model.tension_only)
    if beams[model.couplers.members].any():
        msg = "a member that may bow has a coupler inside: cut it there first, with subdivide"
        raise ValueError(msg)


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
