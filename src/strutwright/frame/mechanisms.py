"""Ways in which a frame can move with little or no resistance, and their names."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csc_array, diags_array
from scipy.sparse.linalg import SuperLU, splu

from strutwright.errors import ResultError
from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["Mechanism", "MechanismError", "mechanism_error", "seems_loose"]

LOOSE = 1e-13
"""Lowest eigenvalue of the stiffness scaled to a unit diagonal that counts as held. Rounding
leaves about 1e-16 in a true mechanism; a cantilever of 500 elements has 4e-11 (our choice)."""

LIFT = 1e-9
"""Stiffness added to a mechanism, as a share of the diagonal, so that its mode can be found."""

MOVING = 0.3
"""Share of the largest movement from which a node counts as part of the mechanism."""


@dataclass(frozen=True, eq=False)
class Mechanism(ArrayValue):
    """A movement that little resists.

    Parameters
    ----------
    mode : (N, 6) array
        Shape of the movement, largest displacement 1.
    nodes : (K,) int array
        Nodes that take part, most moved first.
    stiffness : float, N/m
        Energy measure: mode . K mode over the sum of squared displacements.
    ratio : float
        That stiffness over the mean axial stiffness E A/L of the members.
    """

    mode: Floats
    nodes: Indices
    stiffness: float
    ratio: float


def unit_diagonal(stiffness: csc_array) -> Floats:
    """Return (n,) one over the root of the diagonal."""
    return np.asarray(1.0 / np.sqrt(stiffness.diagonal()))


def _seed(size: int) -> Floats:
    """Return a vector that no symmetry of a frame is likely to be orthogonal to."""
    return np.asarray(np.cos(1.0 + np.sqrt(2.0) * np.arange(size)))


def seems_loose(stiffness: csc_array, factors: SuperLU) -> bool:
    """Return True when one inverse iteration from a mixed start finds almost no stiffness."""
    if stiffness.shape[0] == 0:
        return False
    scale = unit_diagonal(stiffness)
    start = _seed(len(scale))
    grown = factors.solve(start / scale) / scale
    size = float(np.linalg.norm(grown))
    return not np.isfinite(size) or float(np.linalg.norm(start)) < LOOSE * size


def loosest_shape(stiffness: csc_array) -> Floats:
    """Return (n,) the movement with least stiffness on the scale of the diagonal."""
    scale = unit_diagonal(stiffness)
    lifted = diags_array(scale) @ stiffness @ diags_array(scale)
    lifted = csc_array(lifted + LIFT * diags_array(np.ones(len(scale))))
    factors = splu(lifted, permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True})
    shape = _seed(len(scale))
    for _ in range(6):
        shape = factors.solve(shape)
        shape /= np.linalg.norm(shape)
    return np.asarray(shape * scale)


def spread_out(shape: Floats, free: Indices, size: int) -> Floats:
    """Return the movement of free freedoms as (N, 6), largest displacement (or turn) 1."""
    flat = np.zeros(size)
    flat[free] = shape
    mode = flat.reshape(-1, 6)
    largest = np.linalg.norm(mode[:, :3], axis=1).max()
    turning = np.abs(mode[:, 3:]).max()
    return np.asarray(mode / (largest if largest > 1e-9 * turning else turning))


def moving_nodes(mode: Floats) -> Indices:
    """Return the nodes that move by a good share of the largest, most moved first."""
    amount = np.linalg.norm(mode[:, :3], axis=1)
    if amount.max() < 1e-6:
        amount = np.linalg.norm(mode[:, 3:], axis=1)
    order = np.argsort(-amount, kind="stable")
    return np.asarray(order[amount[order] >= MOVING * amount.max()])


class MechanismError(ResultError):
    """The frame can move without resistance; `mode` and `nodes` say how and where."""

    mode: Floats
    nodes: Indices


def mechanism_error(stiffness: csc_array, free: Indices) -> MechanismError:
    """Return the error that names the nodes and the direction of a frame's free movement."""
    mode = spread_out(loosest_shape(stiffness), free, 6 * (int(free[-1]) // 6 + 1))
    nodes = moving_nodes(mode)
    named = ", ".join(str(int(node)) for node in nodes[:8])
    more = f" and {len(nodes) - 8} more" if len(nodes) > 8 else ""
    error = MechanismError(
        "mechanism",
        f"the frame can move without resistance: {_words(mode, int(nodes[0]))}",
        f"nodes {named}{more}",
        "hold these nodes, brace them, or give their joints a stiffness",
    )
    error.mode, error.nodes = mode, nodes
    return error


def _words(mode: Floats, node: int) -> str:
    """Return the movement of `node` in words."""
    slide, turn = mode[node, :3], mode[node, 3:]
    if np.abs(slide).max() >= 1e-6:
        return f"node {node} goes along {_direction(slide)}"
    return f"node {node} turns about {_direction(turn)}"


def _direction(vector: Floats) -> str:
    """Return a direction as its axis, or as three numbers where it lies between axes."""
    unit = vector / np.linalg.norm(vector)
    for axis, part in zip("xyz", unit, strict=True):
        if abs(part) > 0.999:
            return axis
    return "({:.2f}, {:.2f}, {:.2f})".format(*unit)
