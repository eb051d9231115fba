"""A factored frame with one member taken out, for many members, without factoring again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.errors import ResultError
from strutwright.frame.element import Elements
from strutwright.frame.loads import Loads, clamped_forces
from strutwright.frame.solve import Factored, freedoms_of, respond
from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["MOST_FREEDOMS", "Removed", "removed"]

MOST_FREEDOMS: Final = 6000
"""Free freedoms of the largest frame whose flexibility is kept whole (300 MB)."""
LOOSE: Final = 1e-8
"""Smallest singular value of I - k C below which a frame hangs loose without the member: it is
1 - (share of the member's own stiffness), 1 for a member that nothing asks, 0 for one that
alone holds its nodes."""
TOGETHER: Final = 24
"""Members that are taken out in one go."""


@dataclass(frozen=True, eq=False)
class Removed(ArrayValue):
    """Frames without one member each.

    Parameters
    ----------
    members : (L,) int array
        The one that each lacks.
    loose : (L,) bool array
        Frames that can then move without resistance: their numbers mean nothing.
    displacements : (L, C, N, 6) array, m and rad
    change : (L, C, M, 2, 6) array, N and Nm
        Of the end forces, local axes; of the missing member, minus what it carried.
    """

    members: Indices
    loose: np.ndarray[tuple[int], np.dtype[np.bool_]]
    displacements: Floats
    change: Floats


def removed(factored: Factored, loads: Sequence[Loads], members: Indices) -> Iterator[Removed]:
    """Yield the frame without each of `members`, a few at a time.

    The load along a missing member goes to its nodes in equal halves. Contacts count as held and
    ties as working both ways.

    Source: the inverse of a matrix changed in few directions (Sherman, Morrison, Woodbury):
    u' = u0 + G E (I - k C)^-1 k E' u0 with C = E' G E.

    Raises
    ------
    ResultError
        ``frame-too-large``: more than `MOST_FREEDOMS` free freedoms.
    """
    model, free = factored.model, factored.pattern.free
    if len(free) > MOST_FREEDOMS:
        raise ResultError(
            "frame-too-large",
            f"{len(free)} free freedoms, more than {MOST_FREEDOMS}",
            "loss of one member",
            "take the member out of the model and solve that",
        )
    size = 6 * len(model.nodes)
    flexibility = factored.factors.solve(np.eye(len(free)))
    place = np.full(size, -1)
    place[free] = np.arange(len(free))
    gather = freedoms_of(model)
    shed = _shed(factored, loads)
    held = respond(factored, loads)
    u = np.stack([response.displacements.ravel() for response in held], axis=1)
    ends = np.stack([response.end_forces for response in held])
    for first in range(0, len(members), TOGETHER):
        few = np.asarray(members[first : first + TOGETHER])
        yield _few(factored, few, (flexibility, place, gather), (u, ends, shed))


def _shed(factored: Factored, loads: Sequence[Loads]) -> Floats:
    """Return (M, 12, C) change of nodal forces when a member's own load falls to its nodes."""
    model, elems = factored.model, factored.elements
    clamped = clamped_forces(model, elems, loads)
    if clamped is None:
        return np.zeros((len(model.members), 12, len(loads)))
    pressed = -(elems.turn.transpose(0, 2, 1) @ clamped.transpose(1, 2, 0))
    halves = np.zeros_like(pressed)
    whole = pressed[:, :3] + pressed[:, 6:9]
    halves[:, :3] = halves[:, 6:9] = 0.5 * whole
    return halves - pressed


def _few(
    factored: Factored,
    few: Indices,
    solved: tuple[Floats, Indices, Indices],
    carried: tuple[Floats, Floats, Floats],
) -> Removed:
    (flexibility, place, gather), (u, ends, shed) = solved, carried
    elems: Elements = factored.elements
    cases = u.shape[1]
    loose = np.zeros(len(few), dtype=bool)
    moved = np.zeros((len(few), len(u), cases))
    for k, member in enumerate(few):
        at = gather[member]
        live = place[at] >= 0
        rows = place[at[live]]
        own = factored.matrices[member][np.ix_(live, live)]
        extra = shed[member][live]
        among = flexibility[np.ix_(rows, rows)]
        left = np.eye(len(rows)) - own @ among
        if len(rows) and np.linalg.svd(left, compute_uv=False)[-1] < LOOSE:
            loose[k] = True
            continue
        before = u[at[live]] + among @ extra
        pushed = np.linalg.solve(left, own @ before) + extra if len(rows) else extra
        moved[k, factored.pattern.free] = flexibility[:, rows] @ pushed
    stiff = elems.stiffness @ elems.turn
    change = np.einsum("mij,lmjc->lcmi", stiff, moved[:, gather], optimize=True)
    change = change.reshape(len(few), cases, len(gather), 2, 6)
    change[np.arange(len(few)), :, few] = -ends[:, few].transpose(1, 0, 2, 3)
    shape = (len(few), cases, -1, 6)
    return Removed(few, loose, (u + moved).transpose(0, 2, 1).reshape(shape), change)
