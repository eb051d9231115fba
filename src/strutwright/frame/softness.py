"""The softest movements of a frame that stands: near-mechanisms, before they become mechanisms."""

from __future__ import annotations

import numpy as np
from scipy.sparse.linalg import LinearOperator, eigsh

from strutwright.frame.mechanisms import Mechanism, moving_nodes, spread_out
from strutwright.frame.solve import Factored
from strutwright.values import Floats

__all__ = ["softest_movements"]


def softest_movements(factored: Factored, count: int = 3) -> tuple[Mechanism, ...]:
    """Return the `count` movements of the nodes that least resists, softest first.

    The stiffness of a movement is twice the energy it takes over the sum of the squared
    displacements, turns following freely: the eigenvalues of the stiffness condensed to the
    displacements. Its ratio to the mean E A/L is near 1 for what the members resist by axial
    force and orders of magnitude below for what only bending or a loose spring resists.
    """
    model, free = factored.model, factored.pattern.free
    slides = np.flatnonzero(free % 6 < 3)
    if len(slides) == 0:
        return ()
    size = len(slides)

    def flexibility(force: Floats) -> Floats:
        whole = np.zeros(len(free))
        whole[slides] = np.ravel(force)
        return np.asarray(factored.factors.solve(whole)[slides])

    wanted = min(count, size)
    if wanted >= size - 1 or size < 12:
        table = np.column_stack([flexibility(column) for column in np.eye(size)])
        values, vectors = np.linalg.eigh(0.5 * (table + table.T))
    else:
        operator = LinearOperator((size, size), matvec=flexibility, dtype=float)
        start = np.cos(1.0 + np.sqrt(2.0) * np.arange(size))
        values, vectors = eigsh(operator, k=wanted, which="LA", v0=start)
    of = model.section_of
    axial = (model.sections.modulus * model.sections.area)[of] / factored.elements.length
    out = []
    for rank in np.argsort(-values)[:wanted]:
        push = np.zeros(len(free))
        push[slides] = vectors[:, rank]
        shape = factored.factors.solve(push)
        mode = spread_out(shape, free, 6 * len(model.nodes))
        stiffness = 1.0 / float(values[rank])
        out.append(Mechanism(mode, moving_nodes(mode), stiffness, stiffness / float(axial.mean())))
    return tuple(out)
