"""The stiffness of the whole frame as one sparse matrix over the freedoms that are not held."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csc_array

from strutwright.frame.model import Flags, FrameModel
from strutwright.values import Floats, Indices

__all__ = ["Pattern", "assemble", "find_pattern", "held_freedoms"]


@dataclass(frozen=True, eq=False)
class Pattern:
    """Where the blocks of the members go; made once for each set of free freedoms.

    Parameters
    ----------
    order, starts : int arrays
        The 4 M member blocks sorted by place, and where each place starts.
    take : (nnz,) int array
        Entry of the summed blocks that stands at each place of the sparse data.
    indices, indptr : int arrays
        Compressed columns.
    free : (n,) int array
        Free freedoms among the 6 N.
    diagonal : (n,) int array
        Place of each diagonal entry in the sparse data.
    """

    order: Indices
    starts: Indices
    take: Indices
    indices: Indices
    indptr: Indices
    free: Indices
    diagonal: Indices


def held_freedoms(model: FrameModel) -> Flags:
    """Return (N, 6) bool: held by a support, or by a contact as the linear solver takes it."""
    held = model.fixed.copy()
    touching = model.contacts
    held[touching.nodes, touching.axis] = True
    rough = np.flatnonzero(touching.friction > 0.0)
    for other in (1, 2):
        held[touching.nodes[rough], (touching.axis[rough] + other) % 3] = True
    return held


def find_pattern(model: FrameModel, free: Indices) -> Pattern:
    """Return where each member block goes when the freedoms `free` of 6 N are kept."""
    count = len(model.nodes)
    ends = model.members
    rows = ends[:, [0, 0, 1, 1]].ravel()
    columns = ends[:, [0, 1, 0, 1]].ravel()
    key = columns * count + rows
    order = np.argsort(key, kind="stable")
    ordered = key[order]
    first = np.flatnonzero(np.concatenate([[True], ordered[1:] != ordered[:-1]]))
    column, row = np.divmod(ordered[first], count)
    blocks = np.bincount(column, minlength=count)
    before = np.concatenate([[0], np.cumsum(blocks)])[:-1]
    # entry (r, c) of block t stands at place 36 before + 6 c blocks + 6 (t - before) + r
    start, tall = before[column], blocks[column]
    rank = np.arange(len(first)) - start
    six = np.arange(6)
    place = (36 * start + 6 * rank)[:, None, None] + six[:, None] + 6 * tall[:, None, None] * six
    number = np.full(6 * count, -1)
    number[free] = np.arange(len(free))
    entry_row = np.broadcast_to(number[6 * row[:, None] + six][:, :, None], place.shape)
    entry_column = np.broadcast_to(number[6 * column[:, None] + six][:, None, :], place.shape)
    kept = np.flatnonzero((entry_row.ravel() >= 0) & (entry_column.ravel() >= 0))
    where = np.empty(place.size, dtype=np.int64)
    where[place.ravel()] = np.arange(place.size)
    keep = np.zeros(place.size, dtype=bool)
    keep[kept] = True
    take = where[keep[where]]
    indices, in_column = entry_row.ravel()[take], entry_column.ravel()[take]
    indptr = np.concatenate([[0], np.cumsum(np.bincount(in_column, minlength=len(free)))])
    diagonal = np.flatnonzero(indices == in_column)
    return Pattern(
        order, first, take, indices.astype(np.int32), indptr.astype(np.int32), free, diagonal
    )


def assemble(pattern: Pattern, matrices: Floats, springs: Floats) -> csc_array:
    """Return the sparse (n, n) sum of the members' (M, 12, 12) `matrices`, global axes.

    Parameters
    ----------
    springs : (N, 6) array
        Added on the diagonal; a held freedom's spring is left out with it.
    """
    blocks = matrices.reshape(-1, 2, 6, 2, 6).transpose(0, 1, 3, 2, 4).reshape(-1, 36)
    summed = np.add.reduceat(blocks[pattern.order], pattern.starts, axis=0)
    data = summed.ravel()[pattern.take]
    data[pattern.diagonal] += springs.ravel()[pattern.free]
    size = len(pattern.free)
    return csc_array((data, pattern.indices, pattern.indptr), shape=(size, size))
