"""A shell that gives: struts stretch, joints slip, hubs bend, and the whole comes to rest."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Final

import numpy as np
from scipy.sparse import csr_array

from strutwright.errors import ResultError
from strutwright.parts import Kit
from strutwright.shape.measure import node_lengths
from strutwright.survey.banded import Band, Factor, make_band, pins_of
from strutwright.survey.bending import bend_matrix, bend_rows
from strutwright.survey.settings import CLOSING_FORCE
from strutwright.values import ArrayValue, Floats, HubPoints, Indices, StrutEnds

__all__ = ["AT_REST", "Elastic", "Rest", "Settler", "Way", "make_elastic", "settle"]

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
    bending : (3H, 3H) array, N/m
        Hubs that bend, and the ground.
    datum : (3H, 3) array
        The base ring's mean place and turn, which `GROUND` keeps.
    base : (B,) int array
    block : (S, 6) int array
        Movements of both ends of each strut.
    """

    hubs: HubPoints
    struts: StrutEnds
    lengths: Floats
    stiffness: Floats
    bending: Floats
    datum: Floats
    base: Indices
    block: Indices

    @property
    def heights(self) -> Indices:
        """Return the (B,) movements that are the heights of the base hubs."""
        return 3 * self.base + 2

    @property
    def constant(self) -> Floats:
        """Return the (3H, 3H) stiffness that does not change with the shape, N/m."""
        return self.bending + GROUND * self.datum @ self.datum.T

    @cached_property
    def thin(self) -> csr_array:
        """Return `bending` without its zeros."""
        return csr_array(self.bending)

    @cached_property
    def band(self) -> Band:
        """Return how the stiffness lies in a band; worked out once."""
        pins = pins_of(self.hubs, self.base)
        return make_band(self.bending, self.struts, self.datum, GROUND, pins)


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
    factor : Factor
        Of the stiffness at `shape`.
    steps : int
    """

    shape: HubPoints
    forces: Floats
    along: Floats
    factor: Factor
    steps: int

    def solve(self, forces: Floats) -> Floats:
        """Return the movements (3H, k) under `forces` (3H, k), about the shape at rest, m."""
        return self.factor.solve(forces)


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
    bending = turn * (bends.T @ bends)
    feet = np.flatnonzero(shell.course < 0)
    held = np.concatenate([3 * shell.base + 2, *(3 * feet + axis for axis in range(3))])
    bending[held, held] += GROUND
    datum = _datum(shell.hubs, shell.base, n)
    block = np.concatenate([3 * shell.struts[:, :1], 3 * shell.struts[:, 1:]], axis=1)
    block = (block[:, :, None] + np.arange(3)).reshape(-1, 6)
    return Elastic(shell.hubs, shell.struts, lengths, stiffness, bending, datum, shell.base, block)


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
        n_struts = len(elastic.lengths)
        struts = np.arange(n_struts)[:, None]
        rows = np.zeros((n_struts, elastic.hubs.size))
        rows[struts, elastic.block] = rest.along * elastic.stiffness[:, None]
        self._answers = rest.solve(rows.T)
        self._forces = rows @ self._answers - np.diag(elastic.stiffness)

    def settle_unless(
        self,
        changed: Sequence[tuple[int, float]],
        stop: Callable[[Way], bool],
        most_steps: int = 25,
    ) -> Rest | None:
        """Return the shell at rest with some struts of other lengths, or None.

        Parameters
        ----------
        changed : sequence of (int, float)
            Struts and the length that they are made to, m.
        stop : callable
            Asked on the way and at rest; where it says True the answer is None.
        """
        lengths = self._elastic.lengths.copy()
        first = np.zeros(self._elastic.hubs.size)
        linear = np.zeros(len(lengths))
        for strut, length in changed:
            first += self._answers[:, strut] * (length - lengths[strut])
            linear += self._forces[:, strut] * (length - lengths[strut])
            lengths[strut] = length
        self._work.ask(lengths, None)
        ask = partial(_ask, stop, linear)
        return self._work.come_to_rest(self._elastic.hubs, most_steps, ask, first.reshape(-1, 3))


@dataclass(frozen=True, eq=False)
class Way:
    """A shell on its way to rest.

    Parameters
    ----------
    steps : int
        Done; `AT_REST` at the end.
    shape : (H, 3) array, m
    forces : (S,) array, N
        In the struts.
    linear : (S,) array, N
        What they would be if movements were small.
    """

    steps: int
    shape: HubPoints
    forces: Floats
    linear: Floats


def _ask(
    stop: Callable[[Way], bool], linear: Floats, steps: int, shape: HubPoints, forces: Floats
) -> bool:
    return stop(Way(steps, shape, forces, linear))


def _never(_steps: int, _shape: HubPoints, _forces: Floats) -> bool:
    return False


class _Work:
    """What one solve keeps at hand."""

    def __init__(self, elastic: Elastic) -> None:
        self.elastic = elastic
        self.lengths: Floats = elastic.lengths
        self.load: Floats | None = None
        self.stiffness = elastic.stiffness
        self.ends = elastic.block.ravel()
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
        drift = moved @ self.elastic.datum
        held = float(moved @ (self.elastic.thin @ moved)) + GROUND * float(drift @ drift)
        energy = 0.5 * (float(self.stiffness @ stretch**2) + held)
        if self.load is not None:
            energy -= float(self.load @ moved)
        return energy, step / reach[:, None], stretch

    def step(self, shape: HubPoints, unit: Floats, stretch: Floats) -> Floats:
        """Return the (H, 3) Gauss-Newton step."""
        along, factor = self.factor(unit)
        return -factor.solve(self.force(shape, along, stretch)).reshape(-1, 3)

    def factor(self, unit: Floats) -> tuple[Floats, Factor]:
        along = np.concatenate([-unit, unit], axis=1)
        factor = self.elastic.band.factor(unit, self.stiffness)
        if factor is None:
            raise ResultError(
                "survey-loose",
                "the shell gives way without resistance as its struts are supposed",
                "the shape as built",
                "look for a hub that fewer than three struts hold",
            )
        return along, factor

    def force(self, shape: HubPoints, along: Floats, stretch: Floats) -> Floats:
        pulls = (along * (self.stiffness * stretch)[:, None]).ravel()
        moved = (shape - self.elastic.hubs).ravel()
        total: Floats = np.bincount(self.ends, pulls, len(moved)) + self.elastic.thin @ moved
        total = total + GROUND * self.elastic.datum @ (moved @ self.elastic.datum)
        return total if self.load is None else total - self.load
