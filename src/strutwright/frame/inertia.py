"""Factorisation of a symmetric matrix that may be indefinite, and its count of negative pivots."""

from __future__ import annotations

import numpy as np
from scipy.linalg import eigvalsh
from scipy.sparse import csc_array
from scipy.sparse.linalg import SuperLU, splu

__all__ = ["factorise", "negative_pivots"]


def factorise(matrix: csc_array) -> SuperLU:
    """Return the factors of a symmetric sparse matrix, pivots on the diagonal.

    Raises
    ------
    RuntimeError
        The matrix is exactly singular.
    """
    return splu(
        matrix,
        permc_spec="MMD_AT_PLUS_A",
        diag_pivot_thresh=0.0,
        options={"SymmetricMode": True},
    )


def negative_pivots(matrix: csc_array, factors: SuperLU) -> int:
    """Return how many eigenvalues of a symmetric matrix are negative.

    By Sylvester's law the pivots have the signs of the eigenvalues, as long as no rows were
    exchanged; where they were, the eigenvalues are computed.
    """
    if np.array_equal(factors.perm_r, factors.perm_c):
        return int((factors.U.diagonal() < 0.0).sum())
    return int((eigvalsh(matrix.toarray()) < 0.0).sum())
