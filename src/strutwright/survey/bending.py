"""What a hub says about the spokes in it: dips that leave the design bend it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_array, csr_array

from strutwright.shape import Shell
from strutwright.shape.measure import hub_normals
from strutwright.values import Floats, Indices

__all__ = ["SpokeRow", "bend_matrix", "bend_rows"]


@dataclass(frozen=True)
class SpokeRow:
    """One way in which the spokes of a hub can bend.

    Parameters
    ----------
    hub : int
    hubs : (k,) int array
        The hub and its neighbours.
    factors : (k, 3) array, 1/m
        Times their movements: the angle, rad.
    """

    hub: int
    hubs: Indices
    factors: Floats


def bend_rows(shell: Shell) -> tuple[SpokeRow, ...]:
    """Return all independent ways in which spokes leave the dips of their hub; legs left out.

    A spoke that turns by w = n (u_neighbour - u_hub) / length out of the tangent plane of normal
    n bends its end, save for what the hub follows by turning itself: those turns are taken out by
    an orthonormal basis of what is left, valence - 2 rows a hub.
    """
    normals = np.nan_to_num(hub_normals(shell))
    rows: list[SpokeRow] = []
    above = shell.course[shell.struts].min(axis=1) >= 0
    first, second = shell.struts[above].T
    for hub in range(len(shell.hubs)):
        around = np.concatenate([second[first == hub], first[second == hub]])
        if len(around) < 3:
            continue
        steps = shell.hubs[around] - shell.hubs[hub]
        lengths = np.linalg.norm(steps, axis=1)
        normal = normals[hub]
        flat = (steps - (steps @ normal)[:, None] * normal) / lengths[:, None]
        u, sizes, _ = np.linalg.svd(flat, full_matrices=True)
        rank = int((sizes > 1e-6 * max(sizes[0], 1e-12)).sum())
        for mode in u[:, rank:].T:
            parts = (mode / lengths)[:, None] * normal
            factors = np.vstack([-parts.sum(axis=0), parts])
            rows.append(SpokeRow(hub, np.concatenate([[hub], around]), factors))
    return tuple(rows)


def bend_matrix(rows: tuple[SpokeRow, ...], n_hubs: int) -> csr_array:
    """Return the (len(rows), 3 H) matrix of `rows`."""
    row = np.concatenate([np.full(3 * len(one.hubs), k) for k, one in enumerate(rows)])
    column = np.concatenate([(3 * one.hubs[:, None] + np.arange(3)).ravel() for one in rows])
    values = np.concatenate([one.factors.ravel() for one in rows])
    return coo_array((values, (row, column)), shape=(len(rows), 3 * n_hubs)).tocsr()
