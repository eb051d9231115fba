"""Linear buckling: the load factors at which a frame has a neighbouring shape, and the shapes."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.linalg import eigh
from scipy.sparse import csc_array
from scipy.sparse.linalg import ArpackNoConvergence, LinearOperator, SuperLU, eigsh

from strutwright.frame.assemble import assemble
from strutwright.frame.divide import Division, divide_loads, refuse_uncut, subdivide
from strutwright.frame.element import Elements, shape_inside
from strutwright.frame.inertia import factorise, negative_pivots
from strutwright.frame.loads import Loads
from strutwright.frame.mechanisms import spread_out
from strutwright.frame.model import FrameModel
from strutwright.frame.solve import Factored, Response, factor, respond
from strutwright.values import ArrayValue, Floats

__all__ = ["Buckling", "buckle", "buckling", "geometric_stiffness", "mode_kind"]

DENSE = 60
"""Freedoms up to which all eigenvalues are found at once (our choice: both ways are instant)."""

NO_BUCKLING = 1e-9
"""Share of the largest eigenvalue of the stress against the stiffness below which a load is
taken as one that does not buckle the frame at all (rounding leaves about 1e-12)."""

ROUNDS = 300
"""Restarts of the Lanczos search before it gives back what it has."""

BEYOND = 1e3
"""Multiple of the load scale (what the largest stress of either sign would take to match the
stiffness) up to which buckling is ruled out before a load is said not to buckle the frame."""


@dataclass(frozen=True, eq=False)
class Buckling(ArrayValue):
    """Lowest positive buckling factors of one load case.

    Parameters
    ----------
    factors : (k,) array
        Multiples of the load, ascending; empty when no multiple buckles the frame.
    modes : (k, N, 6) array
        Shapes, largest displacement 1.
    ended : str
        ``found``; ``none`` when the load does not buckle the frame; ``cut short`` when the
        search gave fewer factors than asked for; ``constant load`` when what stays buckles it.
    """

    factors: Floats
    modes: Floats
    ended: str


def _member_stress(elems: Elements, axial: Floats) -> Floats:
    """Return (M, 12, 12) geometric stiffness of rigidly joined members, local axes.

    Source: consistent matrix of cubic shapes, Przemieniecki (1968), eq. 15.26 (recalled);
    without the axial-torsion term. Bars end up with the string term alone by condensation.
    """
    length = elems.length
    out = np.zeros((len(length), 12, 12))
    for side, turning, sense in ((1, 5, 1.0), (2, 4, -1.0)):
        a, b, c, d = side, turning, side + 6, turning + 6
        sway, cross = 6.0 / 5.0 / length, sense / 10.0 * np.ones_like(length)
        for row, column, part in (
            (a, a, sway),
            (c, c, sway),
            (a, c, -sway),
            (a, b, cross),
            (a, d, cross),
            (b, c, -cross),
            (c, d, -cross),
            (b, b, 2.0 / 15.0 * length),
            (d, d, 2.0 / 15.0 * length),
            (b, d, -length / 30.0),
        ):
            out[:, row, column] = out[:, column, row] = axial * part
    return out


def _released(elems: Elements, stress: Floats) -> Floats:
    """Return `stress` felt outside the end springs: T^T G T, T the static shape inside them."""
    shape = shape_inside(elems)
    return shape.transpose(0, 2, 1) @ stress @ shape


def _arms(model: FrameModel, elems: Elements, response: Response) -> Floats:
    """Return (M, 12, 12) what end forces do on rigid arms that turn: (e f + f e)/2 - e.f I."""
    out = np.zeros((len(elems.length), 12, 12))
    force = response.end_forces[:, :, :3] @ elems.axes
    for end in (0, 1):
        arm, pull = model.offsets[:, end], force[:, end]
        if not arm.any():
            continue
        outer = arm[:, :, None] * pull[:, None, :]
        turning = slice(6 * end + 3, 6 * end + 6)
        out[:, turning, turning] = 0.5 * (outer + outer.transpose(0, 2, 1))
        out[:, turning, turning] -= np.einsum("mi,mi->m", arm, pull)[:, None, None] * np.eye(3)
    return out


def _chord_stress(elems: Elements, axial: Floats) -> Floats:
    """Return (M, 12, 12) geometric stiffness of strings between the ends, local axes."""
    out = np.zeros((len(elems.length), 12, 12))
    for side in (1, 2):
        for row, column, sense in ((side, side, 1), (side, side + 6, -1), (side + 6, side + 6, 1)):
            out[:, row, column] = out[:, column, row] = sense * axial / elems.length
    return out


def geometric_stiffness(
    factored: Factored, response: Response, *, chords: bool = False
) -> csc_array:
    """Return the sparse change of stiffness by the forces of `response`, free freedoms.

    The axial force is the mean over each element; moments and torque are left out, as usual for
    frames (the nonlinear path has them). With `chords` only the turning of the lines between
    nodes counts, not the bow of members.
    """
    elems = factored.elements
    stress = (
        _chord_stress(elems, response.axial)
        if chords
        else _released(elems, _member_stress(elems, response.axial))
    )
    turned = elems.turn.transpose(0, 2, 1) @ stress @ elems.turn
    turned += _arms(factored.model, elems, response)
    return assemble(factored.pattern, turned, np.zeros_like(factored.model.springs))


def buckling(
    factored: Factored,
    response: Response,
    count: int = 3,
    *,
    constant: Response | None = None,
    chords: bool = False,
) -> Buckling:
    """Return the lowest `count` positive buckling factors of a frame under `response`.

    The frame is taken as it is: cut its members first (`subdivide`), since one element a member
    gives factors up to a third too high. The static factorisation serves again: the largest
    eigenvalues of -G against K, whose inverses are the factors. With `chords`, on a frame that is
    not cut, it finds how far the nodes are from moving, however early members bow between them.

    The factors multiply `response` alone; the forces of `constant` stay as they are.
    """
    if not chords:
        refuse_uncut(factored.model)
    stress = geometric_stiffness(factored, response, chords=chords)
    size = stress.shape[0]
    empty = Buckling(np.empty(0), np.empty((0, len(factored.model.nodes), 6)), "none")
    if size == 0 or abs(stress).max() == 0.0:
        return empty
    whole, factors = _stiffened(factored, constant, chords=chords)
    if factors is None:
        return replace(empty, ended="constant load")
    if size <= DENSE:
        values, vectors = eigh(-stress.toarray(), whole.toarray())
        complete = True
    else:
        values, vectors, complete = _largest(whole, factors, stress, count)
    order = [k for k in np.argsort(-values) if values[k] > NO_BUCKLING * np.abs(values).max()]
    order = order[:count]
    if not complete and len(order) < count and not _buckles(whole, factors, stress):
        return empty
    if not order:
        return empty if complete else Buckling(empty.factors, empty.modes, "cut short")
    free, nodes = factored.pattern.free, len(factored.model.nodes)
    modes = [spread_out(vectors[:, k], free, 6 * nodes) for k in order]
    return Buckling(1.0 / values[order], np.array(modes), "found" if complete else "cut short")


def _stiffened(
    factored: Factored, constant: Response | None, *, chords: bool
) -> tuple[csc_array, SuperLU | None]:
    """Return the stiffness under a constant load and its factors, None where it has buckled."""
    whole = assemble(factored.pattern, factored.matrices, factored.model.springs)
    if constant is None:
        return whole, factored.factors
    whole = csc_array(whole + geometric_stiffness(factored, constant, chords=chords))
    try:
        factors = factorise(whole)
    except RuntimeError:
        return whole, None
    return whole, None if negative_pivots(whole, factors) else factors


def _largest(
    whole: csc_array, factors: SuperLU, stress: csc_array, count: int
) -> tuple[Floats, Floats, bool]:
    """Return the largest eigenvalues of -stress against the stiffness, and whether all came."""
    size = stress.shape[0]
    back = LinearOperator((size, size), matvec=factors.solve, dtype=float)
    start = np.cos(1.0 + np.sqrt(2.0) * np.arange(size))
    try:
        values, vectors = eigsh(
            -stress,
            k=count,
            M=whole,
            Minv=back,
            which="LA",
            v0=start,
            ncv=min(size, max(4 * count, 24)),
            maxiter=ROUNDS,
            tol=1e-9,
        )
    except ArpackNoConvergence as cut:
        return np.asarray(cut.eigenvalues), np.asarray(cut.eigenvectors), False
    return values, vectors, True


def _buckles(whole: csc_array, factors: SuperLU, stress: csc_array) -> bool:
    """Return True when some multiple of the stress, up to `BEYOND`, takes the stiffness away."""
    back = LinearOperator(whole.shape, matvec=factors.solve, dtype=float)
    start = np.cos(1.0 + np.sqrt(2.0) * np.arange(whole.shape[0]))
    largest = eigsh(
        stress, k=1, M=whole, Minv=back, which="LM", v0=start, tol=1e-2, return_eigenvectors=False
    )
    pressed = csc_array(whole + (BEYOND / abs(float(largest[0]))) * stress)
    return negative_pivots(pressed, factorise(pressed)) > 0


def buckle(
    model: FrameModel,
    loads: Loads,
    *,
    constant: Loads | None = None,
    pieces: int = 2,
    count: int = 3,
) -> tuple[Buckling, Division]:
    """Return the lowest buckling factors of one load case, and the cut model of the modes.

    Parameters
    ----------
    constant : Loads
        What stays while `loads` grow: prestress, self-weight.
    pieces : int
        Elements a member: 2 is within about 1 % of many, 1 is unsafe.
    """
    division = subdivide(model, pieces)
    factored = factor(division.model)
    cases = [loads] if constant is None else [loads, constant]
    response, *stays = respond(factored, [divide_loads(division, case) for case in cases])
    return buckling(factored, response, count, constant=stays[0] if stays else None), division


def mode_kind(division: Division, mode: Floats, nodes: int) -> str:
    """Return ``hub`` when the mode moves the nodes of the uncut model, ``member`` when it bows.

    Parameters
    ----------
    mode : (N, 6) array
        Of the cut model.
    nodes : int
        Nodes of the model before cutting.

    Notes
    -----
    Hub when the largest move of a node is over half of the largest bow: what the inner nodes
    move from the straight line between the member's ends.
    """
    inner = np.flatnonzero(division.span[:, 1] < 1.0)
    if len(inner) == 0:
        return "hub"
    first = np.searchsorted(division.parent, division.parent[inner], side="left")
    last = np.searchsorted(division.parent, division.parent[inner], side="right") - 1
    ends = division.model.members
    start, stop = mode[ends[first, 0], :3], mode[ends[last, 1], :3]
    share = division.span[inner, 1, None]
    bow = mode[ends[inner, 1], :3] - start - share * (stop - start)
    moved = np.linalg.norm(mode[:nodes, :3], axis=1).max()
    return "hub" if moved > 0.5 * np.linalg.norm(bow, axis=1).max() else "member"
