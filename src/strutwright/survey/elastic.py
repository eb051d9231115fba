"""A shell that gives: struts stretch, joints slip, hubs bend, and the whole comes to rest."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
import scipy.linalg
from scipy.linalg.lapack import spotrf, spotrs

from strutwright.parts import Kit
from strutwright.shape.measure import node_lengths
from strutwright.survey.bending import bend_matrix, bend_rows
from strutwright.survey.settings import CLOSING_FORCE
from strutwright.values import ArrayValue, Floats, HubPoints, Indices, StrutEnds

__all__ = ["AT_REST", "Elastic", "Rest", "Settler", "make_elastic", "settle"]

GROUND: Final = 1e6
"""Stiffness of the ground under a base hub, N/m: 1 mm for 1 kN. Our choice."""
LEAST_FIXITY: Final = 0.01
"""kL/EI of a hub that counts as a hinge: friction alone. Our choice; it decides nothing that the
struts hold."""
LEAST_SLIP: Final = 0.0005
"""Slip of a strut end whose connector says none, m. Our choice."""
SETTLED: Final = 1e-5
"""Iteration ends when no hub moves by more than this share of the shell."""
SMALL_FALL: Final = 1e-3
"""Or when the energy falls by less than this share of itself."""
AT_REST: Final = 0
"""What stands for the number of steps once a shell is at rest."""
LEAST_SHARE: Final = 1e-3
"""A step that raises the energy is halved down to this share."""


@dataclass(frozen=True, eq=False)
class Elastic(ArrayValue):
    """A shell of springs.

    Parameters
    ----------
    hubs : (H, 3) array, m
        As designed.
    struts : (S, 2) int array
    lengths : (S,) array, m
        Between hub centres, without force, as designed.
    stiffness : (S,) array, N/m
        Along each strut, joints included; 0 for legs, which are no part of it.
    constant : (3H, 3H) array, N/m
        Hubs that bend, the ground, and what keeps the base ring's mean place and turn.
    base : (B,) int array
    block : (S, 6) int array
        Movements of both ends of each strut.
    """

    hubs: HubPoints
    struts: StrutEnds
    lengths: Floats
    stiffness: Floats
    constant: Floats
    base: Indices
    block: Indices

    @property
    def heights(self) -> Indices:
        """Return the (B,) movements that are the heights of the base hubs."""
        return 3 * self.base + 2


@dataclass(frozen=True, eq=False)
class Rest:
    """A shell at rest.

    Parameters
    ----------
    shape : (H, 3) array, m
    forces : (S,) array, N
        In the struts, tension positive.
    along : (S, 6) array
        Derivative of each strut's length by the movements of its ends.
    factor : cho_factor's result
        Of the stiffness matrix at `shape`.
    steps : int
    """

    shape: HubPoints
    forces: Floats
    along: Floats
    factor: tuple[Any, bool]
    steps: int

    def solve(self, forces: Floats) -> Floats:
        """Return the movements (3H, k) under `forces` (3H, k), about the shape at rest, m."""
        moved: Floats = scipy.linalg.cho_solve(self.factor, forces, check_finite=False)
        return moved


def make_elastic(kit: Kit) -> Elastic:
    """Return the shell of `kit` as springs.

    A strut stretches by EA / L, and its ends give as the connector says; where it does not, an
    end gives its slip under `CLOSING_FORCE`. Hubs bend with the low end of their stiffness: that
    is how most wrong struts can be forced in. Legs are left out, their base hubs stay.
    """
    shell, section, material = kit.shell, kit.stock.section, kit.stock.material
    lengths = node_lengths(shell)
    connector = kit.connector
    slip = max(connector.slip or 0.0, LEAST_SLIP)
    end = connector.axial_stiffness[0] if connector.axial_stiffness else CLOSING_FORCE / slip
    stiffness = 1.0 / (lengths / (material.modulus * section.area) + 2.0 / end)
    stiffness[shell.course[shell.struts].min(axis=1) < 0] = 0.0
    n = 3 * len(shell.hubs)
    rows = bend_rows(shell)
    bends = bend_matrix(rows, len(shell.hubs)).toarray()
    if connector.rotational_stiffness is not None:
        turn = connector.rotational_stiffness[0]
    else:
        fixity = connector.fixity[0] if connector.fixity else 0.0
        modulus = material.modulus * section.inertia_z
        turn = max(fixity, LEAST_FIXITY) * modulus / float(np.median(lengths))
    constant = turn * (bends.T @ bends)
    feet = np.flatnonzero(shell.course < 0)
    held = np.concatenate([3 * shell.base + 2, *(3 * feet + axis for axis in range(3))])
    constant[held, held] += GROUND
    datum = _datum(shell.hubs, shell.base, n)
    constant += GROUND * datum @ datum.T
    block = np.concatenate([3 * shell.struts[:, :1], 3 * shell.struts[:, 1:]], axis=1)
    block = (block[:, :, None] + np.arange(3)).reshape(-1, 6)
    return Elastic(shell.hubs, shell.struts, lengths, stiffness, constant, shell.base, block)


def _datum(hubs: HubPoints, base: Indices, n: int) -> Floats:
    columns = np.zeros((n, 3))
    columns[3 * base, 0] = 1.0
    columns[3 * base + 1, 1] = 1.0
    centred = hubs[base] - hubs[base].mean(axis=0)
    columns[3 * base, 2] = -centred[:, 1]
    columns[3 * base + 1, 2] = centred[:, 0]
    unit: Floats = columns / np.linalg.norm(columns, axis=0)
    return unit


def settle(
    elastic: Elastic,
    lengths: Floats,
    *,
    start: HubPoints | None = None,
    load: Floats | None = None,
    most_steps: int = 25,
) -> Rest:
    """Return the shape at which struts made to `lengths` (S,) m come to rest.

    Gauss-Newton on the energy of struts, hubs and ground, each step halved until the energy
    falls. What closes without force is found to second order; what must be forced is near.

    Parameters
    ----------
    start : (H, 3) array, m, optional
        Where to begin; the design when left out.
    load : (3H,) array, N, optional
        On the hubs.
    """
    work = _Work(elastic)
    work.ask(lengths, load)
    found = work.come_to_rest(elastic.hubs if start is None else start, most_steps, _never)
    if found is None:
        msg = "a rest that nothing stops was given up"
        raise RuntimeError(msg)
    return found


class Settler:
    """One shell that is brought to rest again and again with other struts.

    The first step from the design is the same linear answer for all, so it is worked out once.
    """

    def __init__(self, elastic: Elastic) -> None:
        self._elastic, self._work = elastic, _Work(elastic)
        rest = settle(elastic, elastic.lengths)
        pulls = np.zeros((elastic.hubs.size, len(elastic.lengths)))
        struts = np.arange(len(elastic.lengths))[:, None]
        pulls[elastic.block, struts] = rest.along * elastic.stiffness[:, None]
        self._answers = rest.solve(pulls)

    def settle_unless(
        self,
        changed: Sequence[tuple[int, float]],
        stop: Callable[[int, HubPoints, Floats], bool],
        most_steps: int = 25,
    ) -> Rest | None:
        """Return the shell at rest with some struts of other lengths, or None.

        Parameters
        ----------
        changed : sequence of (int, float)
            Struts and the length that they are made to, m.
        stop : callable
            Of the steps done (`AT_REST` at the end), the shape (H, 3) and the forces in the struts
            (S,) N; where it says True the answer is None.
        """
        lengths = self._elastic.lengths.copy()
        first = np.zeros(self._elastic.hubs.size)
        for strut, length in changed:
            first += self._answers[:, strut] * (length - lengths[strut])
            lengths[strut] = length
        self._work.ask(lengths, None)
        return self._work.come_to_rest(self._elastic.hubs, most_steps, stop, first.reshape(-1, 3))


def _never(_steps: int, _shape: HubPoints, _forces: Floats) -> bool:
    return False


class _Work:
    """What one solve keeps at hand."""

    def __init__(self, elastic: Elastic) -> None:
        self.elastic = elastic
        self.lengths: Floats = elastic.lengths
        self.load: Floats | None = None
        self.stiffness = elastic.stiffness
        block = elastic.block
        self.n = 3 * len(elastic.hubs)
        flat = (block[:, :, None] * self.n + block[:, None, :]).ravel()
        self.places, self.place_of = np.unique(flat, return_inverse=True)
        self.first, self.second = elastic.struts.T

    def ask(self, lengths: Floats, load: Floats | None) -> None:
        self.lengths, self.load = lengths, load

    def come_to_rest(
        self,
        shape: HubPoints,
        most_steps: int,
        stop: Callable[[int, HubPoints, Floats], bool],
        first: Floats | None = None,
    ) -> Rest | None:
        energy, unit, stretch = self.energy(shape)
        size = float(np.ptp(self.elastic.hubs, axis=0).max())
        steps, is_at_rest = 0, False
        while not is_at_rest and steps < most_steps:
            step = self.step(shape, unit, stretch) if first is None else first
            first = None
            share, tried = self.reach(shape, step, energy)
            if tried is None:
                break
            steps += 1
            fall = energy - tried[0]
            shape = shape + share * step
            energy, unit, stretch = tried
            is_at_rest = bool(
                np.abs(share * step).max() < SETTLED * size or fall < SMALL_FALL * abs(energy)
            )
            if stop(steps, shape, self.stiffness * stretch):
                return None
        forces = self.stiffness * stretch
        if stop(AT_REST, shape, forces):
            return None
        along, factor = self.factor(unit)
        return Rest(shape, forces, along, factor, steps)

    def reach(
        self, shape: HubPoints, step: HubPoints, energy: float
    ) -> tuple[float, tuple[float, Floats, Floats] | None]:
        """Return the share of `step` at which the energy falls, and the energy there."""
        share = 1.0
        while share > LEAST_SHARE:
            tried = self.energy(shape + share * step)
            if tried[0] <= energy:
                return share, tried
            share /= 2
        return 0.0, None

    def energy(self, shape: HubPoints) -> tuple[float, Floats, Floats]:
        """Return the energy (Nm), the (S, 3) directions and the (S,) stretches."""
        step = shape[self.second] - shape[self.first]
        reach = np.sqrt(np.einsum("ij,ij->i", step, step))
        stretch = reach - self.lengths
        moved = (shape - self.elastic.hubs).ravel()
        held = float(moved @ (self.elastic.constant @ moved))
        energy = 0.5 * (float(self.stiffness @ stretch**2) + held)
        if self.load is not None:
            energy -= float(self.load @ moved)
        return energy, step / reach[:, None], stretch

    def step(self, shape: HubPoints, unit: Floats, stretch: Floats) -> Floats:
        """Return the (H, 3) Gauss-Newton step, from single-precision factors where they do."""
        along, matrix = self.matrix(unit)
        force = self.force(shape, along, stretch)
        coarse, failed = spotrf(matrix.astype(np.float32), lower=1, clean=0, overwrite_a=1)
        if not failed:
            step, failed = spotrs(coarse, force.astype(np.float32), lower=1)
        if failed:
            step = scipy.linalg.solve(matrix, force, assume_a="pos", check_finite=False)
        return -np.asarray(step, dtype=float).reshape(-1, 3)

    def factor(self, unit: Floats) -> tuple[Floats, tuple[Any, bool]]:
        along, matrix = self.matrix(unit)
        return along, scipy.linalg.cho_factor(matrix, overwrite_a=True, check_finite=False)

    def matrix(self, unit: Floats) -> tuple[Floats, Floats]:
        along = np.concatenate([-unit, unit], axis=1)
        parts = (self.stiffness[:, None] * along)[:, :, None] * along[:, None, :]
        matrix = self.elastic.constant.copy()
        matrix.ravel()[self.places] += np.bincount(self.place_of, parts.ravel())
        return along, matrix

    def force(self, shape: HubPoints, along: Floats, stretch: Floats) -> Floats:
        pulls = (along * (self.stiffness * stretch)[:, None]).ravel()
        total: Floats = np.bincount(self.elastic.block.ravel(), pulls, self.n).astype(float)
        total = total + self.elastic.constant @ (shape - self.elastic.hubs).ravel()
        return total if self.load is None else total - self.load
