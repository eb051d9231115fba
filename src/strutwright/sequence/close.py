"""The strut to leave for last, and how much it gives."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from scipy.sparse import csc_array, eye_array
from scipy.sparse.linalg import splu

from strutwright.errors import ResultError
from strutwright.frame import Loads, factor, respond
from strutwright.sequence.state import PUSH, Bench, partial_frame
from strutwright.sequence.values import Prop
from strutwright.shape import Shell
from strutwright.shape.rigidity import length_jacobian
from strutwright.values import Floats, Indices

__all__ = ["give", "slack_of"]

SOFT_GROUND: Final = 1e-6
"""Spring to ground at every hub, against struts of stiffness 1: keeps a half-built state that
still has a mechanism from dividing by nothing, and far below any strut."""
MOST_GIVE: Final = 0.05
"""m; a strut whose ends move further than this under the pull is simply loose."""


def give(shell: Shell, struts: Indices, free: Indices, asked: Indices) -> Floats:
    """Return (n,) how much the ends of each of the `asked` struts give when it alone is missing.

    Relative, with all struts equally stiff along their length and pin-jointed: the flexibility
    f / (1 - f) along the strut, f that of the whole. The largest is the loosest strut.
    """
    if not len(free) or not len(asked):
        return np.zeros(len(asked))
    columns = (3 * free[:, None] + np.arange(3)).ravel()
    rows = length_jacobian(shell.hubs, shell.struts[struts])[:, columns].tocsr()
    matrix = csc_array(rows.T @ rows + SOFT_GROUND * eye_array(len(columns)))
    factors = splu(matrix, permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True})
    pulls = length_jacobian(shell.hubs, shell.struts[asked])[:, columns].toarray()
    own = np.einsum("ij,ji->i", pulls, factors.solve(pulls.T))
    return np.asarray(own / np.maximum(1.0 - own, 1e-12))


def slack_of(
    bench: Bench, struts: Sequence[int], ground: Indices, props: Sequence[Prop], strut: int
) -> float:
    """Return how far a pull of 100 N moves the ends of `strut` together before it is in, m."""
    rest = np.array([s for s in struts if s != strut], dtype=np.int64)
    frame, nodes = partial_frame(bench, rest, ground, props)
    ends = bench.frame.members[strut]
    if not np.isin(ends, nodes).all():
        return MOST_GIVE
    at = np.searchsorted(nodes, ends)
    along = frame.nodes[at[1]] - frame.nodes[at[0]]
    along = along / np.linalg.norm(along)
    forces = np.zeros((len(frame.nodes), 6))
    forces[at[0], :3], forces[at[1], :3] = PUSH * along, -PUSH * along
    try:
        (answer,) = respond(factor(frame), [Loads(forces=forces)])
    except ResultError:
        return MOST_GIVE
    moved = answer.displacements[at, :3]
    return min(MOST_GIVE, float((moved[0] - moved[1]) @ along))
