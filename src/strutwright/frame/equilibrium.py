"""Balance of a frame in a displaced shape: out-of-balance forces, tangent, and moving on."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.sparse import csc_array

from strutwright.frame.assemble import Pattern, assemble
from strutwright.frame.corotational import Followed, Moving, followed, moving_elements
from strutwright.frame.loads import Loads, clamped_forces, stacked
from strutwright.frame.model import FrameModel, left_out
from strutwright.frame.rotation import rotation_matrix, rotation_vector
from strutwright.frame.solve import Factored, factor, freedoms_of, node_forces, scattered
from strutwright.values import Floats, Indices

__all__ = ["Balance", "Shape", "System", "advance", "balance", "still", "system_of"]


@dataclass(frozen=True, eq=False)
class Shape:
    """Displacements (N, 3), m, and rotations (N, 3, 3) of the nodes."""

    moved: Floats
    turned: Floats

    def displacements(self) -> Floats:
        """Return (N, 6) displacements and rotation vectors, m and rad."""
        return np.hstack([self.moved, rotation_vector(self.turned)])


@dataclass(frozen=True, eq=False)
class System:
    """A frame with its load made ready for the path.

    Parameters
    ----------
    model : FrameModel
    moving : Moving
    pattern : Pattern
    gather : (M, 12) int array
        Freedoms of each member.
    load, constant : (n,) array
        Forces on the free freedoms: what the load factor multiplies, and what stays.
    clamped, clamped_constant : (M, 12) array
        Their clamped-end forces, local axes.
    free, free_constant : (M,) array, m
        Their free stretches of the elements.
    slides : (n,) array
        1 for displacements, 0 for turns: what the length of a step counts.
    rounding : float
        Force, N, below which an imbalance is rounding.
    """

    model: FrameModel
    moving: Moving
    pattern: Pattern
    gather: Indices
    load: Floats
    constant: Floats
    clamped: Floats
    clamped_constant: Floats
    free: Floats
    free_constant: Floats
    slides: Floats
    rounding: float


@dataclass(frozen=True, eq=False)
class Balance:
    """A frame in a displaced shape.

    Parameters
    ----------
    inner : (n,) array
        Forces of the members on the free freedoms.
    tangent : sparse array
    elements : Followed
        What they come from.
    push : (n,) array
        What a unit of load factor adds: forces on the nodes, and on members that would stretch.
    """

    inner: Floats
    tangent: csc_array
    elements: Followed
    push: Floats


def _load_on(factored: Factored, loads: Loads) -> tuple[Floats, Floats, Floats]:
    """Return what one case puts on a frame that moves far.

    (n,) forces on the free freedoms, (M, 12) clamped-end forces of line loads, and (M,) free
    stretches of the elements, which turn with them.
    """
    if loads.moves.any():
        msg = "moves are not followed on the nonlinear path: give forces, line loads and strain"
        raise ValueError(msg)
    model = factored.model
    strain = stacked([loads], "strain", (len(model.members),))
    clamped = clamped_forces(model, factored.elements, [replace(loads, strain=left_out())])
    forces = node_forces(factored, [loads], clamped)[0]
    return (
        forces[factored.pattern.free],
        np.zeros((len(model.members), 12)) if clamped is None else clamped[0],
        factored.elements.length * (0.0 if strain is None else strain[0]),
    )


def system_of(model: FrameModel, loads: Loads, constant: Loads, element: str) -> System:
    """Return the frame ready for the path; line loads act as their forces on clamped ends.

    Raises
    ------
    ResultError
        Code ``mechanism``: the unloaded frame can move without resistance.
    """
    factored = factor(model)
    load, clamped, stretch = _load_on(factored, loads)
    rest, clamped_rest, stretch_rest = _load_on(factored, constant)
    free = factored.pattern.free
    gather = freedoms_of(model)
    slides = (free % 6 < 3).astype(float)
    return System(
        model,
        moving_elements(model, element),
        factored.pattern,
        gather,
        load,
        rest,
        clamped,
        clamped_rest,
        stretch,
        stretch_rest,
        slides if slides.any() else np.ones(len(free)),
        _rounding(factored),
    )


def _rounding(factored: Factored) -> float:
    """Return the force below which an imbalance is rounding of the nodes' places, N."""
    model, length = factored.model, factored.elements.length
    axial = (model.sections.modulus * model.sections.area)[model.section_of]
    size = float(np.linalg.norm(np.ptp(model.nodes, axis=0)))
    stiffest = float((axial / length).max())
    rounding = 4.0 * float(np.finfo(float).eps)
    return rounding * stiffest * size * float(np.sqrt(len(factored.pattern.free)))


def still(model: FrameModel) -> Shape:
    """Return the undisplaced shape."""
    count = len(model.nodes)
    return Shape(np.zeros((count, 3)), np.broadcast_to(np.eye(3), (count, 3, 3)).copy())


def advance(system: System, shape: Shape, step: Floats) -> Shape:
    """Return `shape` after a small `step` (n,) of the free freedoms, turns in space."""
    whole = np.zeros(6 * len(shape.moved))
    whole[system.pattern.free] = step
    change = whole.reshape(-1, 6)
    return Shape(shape.moved + change[:, :3], rotation_matrix(change[:, 3:]) @ shape.turned)


def balance(system: System, shape: Shape, load_factor: float) -> Balance:
    """Return the inner forces and the tangent of a displaced frame; ground springs are linear."""
    model = system.model
    free = system.free_constant + load_factor * system.free
    parts = followed(model, system.moving, shape.moved, shape.turned, free)
    inner = scattered(system.gather, parts.forces[:, :, None], 6 * len(model.nodes))[:, 0]
    if model.springs.any():
        inner = inner + (model.springs * shape.displacements()).ravel()
    tangent = assemble(system.pattern, parts.tangent, model.springs)
    push = system.load
    if system.free.any():
        pushed = system.free[:, None] * parts.stretching
        heat = scattered(system.gather, pushed[:, :, None], 6 * len(model.nodes))[:, 0]
        push = push + heat[system.pattern.free]
    return Balance(inner[system.pattern.free], tangent, parts, push)
