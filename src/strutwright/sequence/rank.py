"""Mechanisms of half-built shells, from the rank of the equilibrium matrix with its props.

A state is made stiff by its props as it grows (each new hub is held along three unlike
directions), so that the rows of struts and props together have full rank. Then the free
movements of the struts alone are the eigenvalues 1 of P (A^T A)^-1 P^T, with P the rows of the
props and A the rows of both: such a movement stretches no strut, so all its A x is in P x.
One sparse factorisation answers the count and which props can go.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.sparse import csc_array, csr_array, vstack
from scipy.sparse.linalg import splu

from strutwright.sequence.values import Prop
from strutwright.shape.rigidity import length_jacobian
from strutwright.values import Floats, HubPoints, Indices, StrutEnds

__all__ = ["Looseness", "looseness", "prop_rows", "removable"]

NO_STIFFNESS: Final = 1e-9
"""A prop whose share is nearer to 1 than this is never taken away (our choice: on the safe side,
the struts would stretch 3e-5 of what they take over)."""
NEAR: Final = 1e-6
"""Eigenvalues of P (A^T A)^-1 P^T nearer to 1 than this are looked at again."""
NO_STRETCH: Final = 1e-7
"""Such a movement, of size 1 at the props, is free when it stretches the struts by less. The
solution leaves about 1e-10; hubs out of their plane by a thousandth of a strut give 1e-3."""


@dataclass(frozen=True)
class Looseness:
    """Mechanisms of the struts alone, and the (P, P) matrix P (A^T A)^-1 P^T of the props.

    Its diagonal is 1 for a prop that cannot be taken away, less for one that can.
    """

    mechanisms: int
    inner: Floats


def prop_rows(hubs: HubPoints, props: Sequence[Prop]) -> csr_array[np.float64]:
    """Return the (P, 3H) change of length of each prop for a unit movement of each hub."""
    at = np.array([prop.hub for prop in props], dtype=np.int64)
    along = hubs[at] - np.array([prop.foot for prop in props]).reshape(-1, 3)
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    columns = (3 * at[:, None] + np.arange(3)).ravel()
    starts = np.arange(len(props) + 1) * 3
    return csr_array((along.ravel(), columns, starts), shape=(len(props), 3 * len(hubs)))


def looseness(
    hubs: HubPoints, struts: StrutEnds, free: Indices, props: Sequence[Prop]
) -> Looseness:
    """Return what the pin-jointed `struts` leave loose when the `free` hubs are not on the ground.

    Parameters
    ----------
    hubs : (H, 3) array, m
    struts : (S, 2) int array
        Those placed.
    free : (K,) int array
        Placed hubs that are not held by the ground.
    props : sequence of Prop
        Together with the struts they must hold everything.
    """
    if not props or not len(free):
        return Looseness(0, np.zeros((len(props), len(props))))
    columns = (3 * free[:, None] + np.arange(3)).ravel()
    rows = prop_rows(hubs, props)[:, columns]
    whole = vstack([length_jacobian(hubs, struts)[:, columns], rows]).tocsc()
    factors = splu(
        csc_array(whole.T @ whole),
        permc_spec="MMD_AT_PLUS_A",
        diag_pivot_thresh=0.0,
        options={"SymmetricMode": True},
    )
    dense = np.asarray(rows.toarray(), dtype=np.float64)
    inner = dense @ factors.solve(dense.T)
    inner = np.asarray((inner + inner.T) / 2)
    values, vectors = np.linalg.eigh(inner)
    near = vectors[:, values > 1.0 - NEAR]
    stretch = length_jacobian(hubs, struts)[:, columns] @ factors.solve(dense.T @ near)
    sizes = np.linalg.svd(stretch, compute_uv=False) if near.size else np.empty(0)
    return Looseness(int(near.shape[1] - (sizes > NO_STRETCH).sum()), inner)


def removable(found: Looseness) -> Indices:
    """Return props that can all go, one after the other, the least needed first.

    Taking a prop away is a change of rank one: (A^T A - p p^T)^-1 adds m m^T / (1 - m_pp) to the
    matrix of the others (Sherman and Morrison).
    """
    inner = found.inner.copy()
    left = list(range(len(inner)))
    order = []
    while left:
        best = min(left, key=lambda k: (round(float(inner[k, k]), 9), k))
        if inner[best, best] > 1.0 - NO_STIFFNESS:
            break
        inner += np.outer(inner[:, best], inner[best]) / (1.0 - inner[best, best])
        left.remove(best)
        order.append(best)
    return np.array(order, dtype=np.int64)
