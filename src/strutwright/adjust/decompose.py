"""The linear least-squares problem of one step: dense by singular values, large ones sparse."""

from __future__ import annotations

from typing import Final, Protocol

import numpy as np
import scipy.linalg
from scipy.sparse import block_array, csc_array, csr_array
from scipy.sparse.linalg import SuperLU, splu

from strutwright.values import Floats, Indices

__all__ = ["MOST_DENSE", "Decomposition", "decompose", "rigid_motions"]

MOST_DENSE: Final = 60
"""Unknowns up to which singular values are taken; measured: sparse is faster above."""
RANK: Final = 1e-10
"""Singular values below this share of the largest count as nothing."""
TRUSTED: Final = 1e-6
"""Largest relative error of a trial solution with which the sparse factors are used."""


class Decomposition(Protocol):
    """A weighted design matrix A (n, u), taken apart."""

    rank: int

    def step(self, misclosure: Floats) -> Floats:
        """Return the (u,) least-norm x that makes A x nearest to `misclosure` (n,)."""
        ...

    def cofactor(self) -> Floats:
        """Return the (u, u) pseudo-inverse of A^T A."""
        ...

    def leverage(self) -> Floats:
        """Return the (n,) diagonal of A (A^T A)^+ A^T."""
        ...


def decompose(design: csr_array, motions: Floats) -> Decomposition:
    """Return `design` (n, u) taken apart, sparse where its size asks for it.

    Parameters
    ----------
    design : (n, u) sparse array
    motions : (u, k) array
        Movements that may be without any observation, such as those of a rigid body: where they
        are, the least-norm solution is free of them. A defect of another kind is left to the
        dense way.
    """
    if design.shape[1] > MOST_DENSE:
        try:
            return _Sparse(design, motions)
        except (RuntimeError, np.linalg.LinAlgError):  # another defect: singular values see it
            pass
    return _Dense(design.toarray())


class _Dense:
    def __init__(self, design: Floats) -> None:
        self.u, self.singular, self.vt = scipy.linalg.svd(
            design, full_matrices=False, lapack_driver="gesdd"
        )
        self.rank = int((self.singular > RANK * self.singular.max(initial=0.0)).sum())

    def step(self, misclosure: Floats) -> Floats:
        rank = self.rank
        found: Floats = self.vt[:rank].T @ (
            (self.u[:, :rank].T @ misclosure) / self.singular[:rank]
        )
        return found

    def cofactor(self) -> Floats:
        root = self.vt[: self.rank].T / self.singular[: self.rank]
        return np.asarray(root @ root.T)

    def leverage(self) -> Floats:
        return np.asarray((self.u[:, : self.rank] ** 2).sum(axis=1))


class _Sparse:
    """Normal equations bordered by the motions that nothing observes.

    [N G; G^T 0]^-1 has the pseudo-inverse of N in its corner when G spans the null space of N
    with orthonormal columns.
    """

    def __init__(self, design: csr_array, motions: Floats) -> None:
        self.design = csc_array(design)
        normal = csc_array(self.design.T @ self.design)
        self.null = _unobserved(design, motions)
        self.n = design.shape[1]
        self.rank = self.n - self.null.shape[1]
        corner = csc_array(self.null)
        whole = (
            block_array([[normal, corner], [corner.T, None]], format="csc")
            if self.null.shape[1]
            else normal
        )
        self.factors: SuperLU = splu(csc_array(whole))
        trial = np.cos(np.arange(self.n, dtype=float))
        trial -= self.null @ (self.null.T @ trial)
        if np.abs(self._solve(normal @ trial) - trial).max() > TRUSTED:
            msg = "the normal equations have another defect"
            raise np.linalg.LinAlgError(msg)

    def _solve(self, right: Floats) -> Floats:
        padded = np.zeros((self.n + self.null.shape[1], *right.shape[1:]))
        padded[: self.n] = right
        return np.asarray(self.factors.solve(padded))[: self.n]

    def step(self, misclosure: Floats) -> Floats:
        return self._solve(self.design.T @ misclosure)

    def cofactor(self) -> Floats:
        return self._solve(np.eye(self.n) - self.null @ self.null.T)

    def leverage(self) -> Floats:
        found = np.empty(self.design.shape[0])
        rows = csr_array(self.design)
        for start in range(0, len(found), 500):
            block = rows[start : start + 500].toarray()
            found[start : start + 500] = np.einsum("ij,ji->i", block, self._solve(block.T.copy()))
        return found


def _unobserved(design: csr_array, motions: Floats) -> Floats:
    """Return (u, d) orthonormal combinations of `motions` that no row of `design` sees."""
    if not motions.shape[1]:
        return motions
    basis, sizes, _ = scipy.linalg.svd(motions, full_matrices=False)
    basis = basis[:, sizes > RANK * sizes[0]]
    seen = design @ basis
    _, size, vt = scipy.linalg.svd(seen, full_matrices=True)
    size = np.concatenate([size, np.zeros(len(vt) - len(size))])
    least = RANK * float(np.abs(design.data).max(initial=0.0))
    return np.asarray(basis @ vt[size <= least].T)


def rigid_motions(points: Floats, free: Indices) -> Floats:
    """Return (u, k) shifts, turns and growth of `points` (P, D), of the coordinates `free` alone.

    Growth is what bearings and angles without a distance leave open.
    """
    n_points, n_axes = points.shape
    centred = points - points.mean(axis=0)
    columns = []
    for axis in range(n_axes):
        shift = np.zeros((n_points, n_axes))
        shift[:, axis] = 1.0
        columns.append(shift.ravel())
    for first in range(n_axes):
        for second in range(first + 1, n_axes):
            turn = np.zeros((n_points, n_axes))
            turn[:, first], turn[:, second] = -centred[:, second], centred[:, first]
            columns.append(turn.ravel())
    columns.append(centred.ravel())
    return np.column_stack(columns)[free]
