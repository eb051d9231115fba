"""Stiffness in a narrow band: hubs in an order in which only near ones are coupled."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.linalg.lapack import dpbtrf, dpbtrs
from scipy.sparse import csr_array
from scipy.sparse.csgraph import reverse_cuthill_mckee

from strutwright.values import Floats, HubPoints, Indices, StrutEnds

__all__ = ["Band", "Factor", "make_band", "pins_of"]

NOTHING: Final = 1e-12
"""Entries of the constant stiffness below this share of its largest are rounding."""


@dataclass(frozen=True, eq=False)
class Factor:
    """A stiffness matrix, factored.

    The band is that of a shell held by three pins; what turns the pins into the mean of the base
    is a change of rank six (Woodbury's identity).

    Parameters
    ----------
    order : (n,) int array
        Movement at each place of the band.
    band : (w + 1, n) array
        Cholesky factor, lower.
    ends : (n, 6) array
        What is changed, in the order of the band.
    shifts : (n, 6) array
        Movements of the pinned shell under `ends`.
    weight : (6, 6) array
        Of the change.
    """

    order: Indices
    band: Floats
    ends: Floats
    shifts: Floats
    weight: Floats

    def solve(self, forces: Floats) -> Floats:
        """Return the movements under `forces` (n,) or (n, k)."""
        there = dpbtrs(self.band, forces[self.order], lower=1)[0].reshape(forces.shape)
        moved: Floats = np.empty_like(there)
        moved[self.order] = there - self.shifts @ (self.weight @ (self.ends.T @ there))
        return moved


@dataclass(frozen=True, eq=False)
class Band:
    """Where the stiffness of a shell lies once its movements stand in a narrow order.

    Parameters
    ----------
    order : (n,) int array
        Movement at each place.
    constant : (n, w + 1) array, N/m
        What does not change with the shape, pins included: the diagonal and w entries below it.
    gather : (n (w + 1), 9 S) sparse array
        From the 3 by 3 stiffness of every strut to where it stands in `constant` laid out flat.
    ends : (n, 6) array
        The datum and the pins, in the narrow order.
    signs : (6,) array, N/m
        Stiffness of each; that of the pins is taken away.
    """

    order: Indices
    constant: Floats
    gather: csr_array
    ends: Floats
    signs: Floats

    def factor(self, unit: Floats, stiffness: Floats) -> Factor | None:
        """Return the factors at a shape, or None where it gives way without resistance.

        Parameters
        ----------
        unit : (S, 3) array
            Direction of each strut.
        stiffness : (S,) array, N/m
        """
        parts = unit[:, :, None] * (unit * stiffness[:, None])[:, None, :]
        flat = self.gather @ parts.ravel()
        flat += self.constant.ravel()
        held, failed = dpbtrf(flat.reshape(self.constant.shape).T, lower=1, overwrite_ab=1)
        if failed:
            return None
        shifts, _ = dpbtrs(held, self.ends, lower=1)
        weight = np.linalg.inv(np.diag(1 / self.signs) + self.ends.T @ shifts)
        return Factor(self.order, held, self.ends, shifts, weight)


def make_band(
    constant: Floats, struts: StrutEnds, datum: Floats, stiff: float, pins: Floats
) -> Band:
    """Return the band of a shell.

    Parameters
    ----------
    constant : (3H, 3H) array, N/m
        What does not change with the shape, without the datum.
    struts : (S, 2) int array
    datum : (3H, 3) array
        What `stiff` N/m keeps: mean place and turn of the base.
    pins : (3H, 3) array
        Three movements that hold the shell as the datum does, each of one hub.
    """
    n = len(constant)
    rounding = NOTHING * float(np.abs(constant).max(initial=0.0))
    rows, columns = np.nonzero(np.abs(constant) > rounding)
    near = np.concatenate([np.column_stack([rows, columns]) // 3, struts])
    order = _narrow(near, n // 3)
    place = np.empty(n, dtype=np.int64)
    place[order] = np.arange(n)
    at = np.sort(place.reshape(-1, 3)[near], axis=2)
    width = int((at.max(axis=(1, 2)) - at.min(axis=(1, 2))).max())
    ends = np.hstack([datum, pins])[order]
    signs = np.repeat([stiff, -stiff], 3)
    whole = constant + stiff * pins @ pins.T
    band = np.zeros((n, width + 1))
    rows, columns = np.nonzero(np.abs(whole) > rounding)
    i, j = place[rows], place[columns]
    lower = i >= j
    band[j[lower], (i - j)[lower]] = whole[rows, columns][lower]
    blocks = place[(3 * struts[:, :, None] + np.arange(3)).reshape(-1, 6)]
    return Band(order, band, _gather(blocks, band.shape), ends, signs)


def _gather(blocks: Indices, shape: tuple[int, ...]) -> csr_array:
    """Return the way of every strut's 3 by 3 stiffness into a band, its ends at `blocks` (S, 6)."""
    here = np.arange(6)
    i = np.broadcast_to(blocks[:, :, None], (len(blocks), 6, 6))
    j = np.broadcast_to(blocks[:, None, :], i.shape)
    part = 9 * np.arange(len(blocks))[:, None, None] + (3 * (here % 3)[:, None] + here % 3)
    sign = np.where((here[:, None] < 3) == (here < 3), 1.0, -1.0)
    lower = i >= j
    places = (j * shape[1] + (i - j))[lower]
    signs = np.broadcast_to(sign, i.shape)[lower]
    return csr_array((signs, (places, part[lower])), shape=(shape[0] * shape[1], 9 * len(blocks)))


def _narrow(near: StrutEnds, n_hubs: int) -> Indices:
    """Return the movements in an order in which hubs that are `near` (k, 2) stand close."""
    ones = np.ones(len(near))
    graph = csr_array((ones, (near[:, 0], near[:, 1])), shape=(n_hubs, n_hubs))
    graph = csr_array(graph + graph.T)
    hubs = reverse_cuthill_mckee(graph, symmetric_mode=True).astype(np.int64)
    found: Indices = (3 * hubs[:, None] + np.arange(3)).ravel()
    return found


def pins_of(hubs: HubPoints, base: Indices) -> Floats:
    """Return (3H, 3) movements: one base hub on the plan, and the farthest one across to it."""
    here = int(base[0])
    away = hubs[base, :2] - hubs[here, :2]
    there = int(base[np.argmax(np.linalg.norm(away, axis=1))])
    across = hubs[there, :2] - hubs[here, :2]
    pins = np.zeros((hubs.size, 3))
    pins[3 * here, 0] = pins[3 * here + 1, 1] = 1.0
    pins[3 * there : 3 * there + 2, 2] = np.array([-across[1], across[0]]) / np.linalg.norm(across)
    return pins
