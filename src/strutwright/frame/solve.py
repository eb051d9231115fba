"""Linear answer of a frame: factor the stiffness once, then any number of load cases."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.sparse import csc_array
from scipy.sparse.linalg import SuperLU

from strutwright.errors import ResultError
from strutwright.frame.assemble import Pattern, assemble, find_pattern, held_freedoms
from strutwright.frame.element import Elements, elements
from strutwright.frame.inertia import factorise
from strutwright.frame.loads import Loads, clamped_forces, stacked
from strutwright.frame.mechanisms import mechanism_error, seems_loose
from strutwright.frame.model import Flags, FrameModel
from strutwright.values import ArrayValue, Floats, Indices

__all__ = [
    "Factored",
    "Response",
    "factor",
    "freedoms_of",
    "node_forces",
    "respond",
    "scattered",
    "solve",
]


@dataclass(frozen=True, eq=False)
class Response(ArrayValue):
    """What one load case does to the frame.

    Parameters
    ----------
    displacements : (N, 6) array, m and rad
        Of the nodes, global axes.
    end_forces : (M, 2, 6) array, N and Nm
        Of the node upon each end of the flexible part, local axes: a member in tension has
        -N at end 0 and +N at end 1 along x.
    reactions : (N, 6) array, N and Nm
        Of supports and ground springs upon the nodes, global axes; zero elsewhere.
    """

    displacements: Floats
    end_forces: Floats
    reactions: Floats

    @property
    def axial(self) -> Floats:
        """Return (M,) axial force, N, tension positive, mean of both ends."""
        mean: Floats = 0.5 * (self.end_forces[:, 1, 0] - self.end_forces[:, 0, 0])
        return mean


@dataclass(frozen=True, eq=False)
class Factored:
    """A frame whose stiffness is factored, ready for load cases.

    Parameters
    ----------
    model : FrameModel
    elements : Elements
    matrices : (M, 12, 12) array
        Member stiffness in global axes.
    pattern : Pattern
    factors : SuperLU
    live : (N, 6) bool array
        Freedoms that anything resists.
    """

    model: FrameModel
    elements: Elements
    matrices: Floats
    pattern: Pattern
    factors: SuperLU
    live: Flags


def _live(model: FrameModel, matrices: Floats) -> Flags:
    """Return (N, 6) bool: freedoms with any stiffness (the turns of a node of bars have none)."""
    own = np.einsum("mii->mi", matrices).reshape(-1, 6)
    ends = model.members.ravel()
    total = model.springs.copy()
    for freedom in range(6):
        total[:, freedom] += np.bincount(ends, own[:, freedom], minlength=len(total))
    return np.asarray(total > 0.0)


def factor(model: FrameModel) -> Factored:
    """Return the frame with its stiffness factored.

    Contacts count as held and ties as working both ways; `solve_contact` sorts them out.

    Raises
    ------
    ResultError
        Code ``mechanism``: the frame can move without resistance; the error names the nodes.
    """
    elems = elements(model)
    matrices = elems.turn.transpose(0, 2, 1) @ (elems.stiffness @ elems.turn)
    live = _live(model, matrices)
    held = held_freedoms(model)
    free = np.flatnonzero((live & ~held).ravel())
    pattern = find_pattern(model, free)
    return _factor_stiffness(model, elems, matrices, pattern, live)


def _factor_stiffness(
    model: FrameModel, elems: Elements, matrices: Floats, pattern: Pattern, live: Flags
) -> Factored:
    """Return the factored frame, or raise when it is a mechanism."""
    held_by = held_freedoms(model).any() or model.springs.any()
    if not held_by:
        raise ResultError(
            "mechanism",
            "nothing holds the frame: no freedom of any node is fixed or sprung",
            "supports",
            "hold at least one node, or give the ground springs a stiffness",
        )
    stiffness = assemble(pattern, matrices, model.springs)
    try:
        factors = factorise(stiffness)
    except RuntimeError as error:
        raise mechanism_error(stiffness, pattern.free) from error
    if seems_loose(stiffness, factors):
        raise mechanism_error(stiffness, pattern.free)
    return Factored(model, elems, matrices, pattern, factors, live)


def _refuse_unresisted(factored: Factored, forces: Floats) -> None:
    """Raise when a force acts on a freedom that nothing resists and nothing holds."""
    idle = ~factored.live & ~held_freedoms(factored.model)
    loaded = np.argwhere((np.abs(forces) > 0.0).any(axis=0) & idle)
    if len(loaded):
        node, freedom = (int(k) for k in loaded[0])
        word = ("x", "y", "z", "a turn about x", "a turn about y", "a turn about z")[freedom]
        raise ResultError(
            "mechanism",
            f"a load acts along {word} where no member resists it",
            f"node {node}",
            "take the load away or join a member there that is not hinged",
        )


def node_forces(factored: Factored, loads: Sequence[Loads], clamped: Floats | None) -> Floats:
    """Return (C, 6 N) forces on the nodes, members clamped: nodal loads less `clamped` ones.

    Parameters
    ----------
    clamped : (C, M, 12) array or None
        Forces on clamped member ends, local axes.
    """
    model, n = factored.model, len(factored.model.nodes)
    given = stacked(loads, "forces", (n, 6))
    forces = np.zeros((len(loads), n, 6)) if given is None else given
    _refuse_unresisted(factored, forces)
    out = forces.reshape(len(loads), 6 * n)
    if clamped is None:
        return out
    pushed = _turned_back(factored.elements, clamped.transpose(1, 2, 0))
    return out - scattered(freedoms_of(model), pushed, 6 * n).T


def freedoms_of(model: FrameModel) -> Indices:
    """Return (M, 12) node freedoms of each member."""
    return (6 * model.members[:, :, None] + np.arange(6)).reshape(-1, 12)


def _turned_back(elems: Elements, ends: Floats) -> Floats:
    """Return (M, 12, C) forces on the nodes' freedoms from forces on ends, local axes."""
    return elems.turn.transpose(0, 2, 1) @ np.ascontiguousarray(ends)


def respond(factored: Factored, loads: Sequence[Loads]) -> tuple[Response, ...]:
    """Return the response of the factored frame to each load case."""
    model, elems = factored.model, factored.elements
    n, cases = len(model.nodes), len(loads)
    given = stacked(loads, "forces", (n, 6))
    moves = stacked(loads, "moves", (n, 6))
    clamped = clamped_forces(model, elems, loads)
    forces = np.zeros((cases, n, 6)) if given is None else given
    gather = freedoms_of(model)
    loaded = node_forces(factored, loads, clamped)
    u = np.zeros((6 * n, cases))
    if moves is not None:
        held, given_moves = held_freedoms(model).ravel(), moves.reshape(cases, -1).T
        if given_moves[~held].any():
            msg = "moves are given at freedoms that are not held"
            raise ValueError(msg)
        u[held] = given_moves[held]
        loaded = loaded - scattered(gather, factored.matrices @ u[gather], 6 * n).T
    free = factored.pattern.free
    u[free] = factored.factors.solve(np.ascontiguousarray(loaded[:, free].T))
    ends = elems.stiffness @ (elems.turn @ u[gather])
    if clamped is not None:
        ends += clamped.transpose(1, 2, 0)
    inside = scattered(gather, _turned_back(elems, ends), 6 * n).T
    moved = u.T.reshape(cases, n, 6)
    reactions = _reactions(model, inside.reshape(cases, n, 6) - forces, moved)
    shape = (len(gather), 2, 6)
    return tuple(
        Response(moved[case], ends[:, :, case].reshape(shape), reactions[case])
        for case in range(cases)
    )


def scattered(gather: Indices, parts: Floats, size: int) -> Floats:
    """Return (size, C) sums of the members' (M, 12, C) `parts` at the freedoms `gather`."""
    count = gather.size
    sums = csc_array((np.ones(count), gather.ravel(), np.arange(count + 1)), shape=(size, count))
    return np.asarray(sums @ parts.reshape(count, -1))


def _reactions(model: FrameModel, missing: Floats, u: Floats) -> Floats:
    """Return (C, N, 6) support forces: what held freedoms lack, and what ground springs give."""
    held = held_freedoms(model)
    return np.where(held, missing, -model.springs * u)


def solve(model: FrameModel, loads: Sequence[Loads]) -> tuple[Response, ...]:
    """Return the linear response of `model` to each load case, from one factorisation."""
    return respond(factor(model), loads)
