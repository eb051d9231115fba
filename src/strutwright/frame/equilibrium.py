"""Balance of a frame in a displaced shape: out-of-balance forces, tangent, and moving on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csc_array

from strutwright.frame.assemble import Pattern, assemble
from strutwright.frame.corotational import Followed, Moving, followed, moving_elements
from strutwright.frame.loads import Loads, clamped_forces
from strutwright.frame.model import FrameModel
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
    slides: Floats
    rounding: float


@dataclass(frozen=True, eq=False)
class Balance:
    """Inner forces (n,) on the free freedoms, the tangent, and the elements they come from."""

    inner: Floats
    tangent: csc_array
    elements: Followed


def _load_on(factored: Factored, loads: Loads) -> tuple[Floats, Floats]:
    """Return (n,) forces on the free freedoms and (M, 12) clamped-end forces of one case."""
    if loads.strain.any() or loads.moves.any():
        msg = "strain and moves are not followed on the nonlinear path: give forces and line loads"
        raise ValueError(msg)
    clamped = clamped_forces(factored.model, factored.elements, [loads])
    forces = node_forces(factored, [loads], clamped)[0]
    still_none = np.zeros((len(factored.model.members), 12))
    return forces[factored.pattern.free], still_none if clamped is None else clamped[0]


def system_of(model: FrameModel, loads: Loads, constant: Loads, element: str) -> System:
    """Return the frame ready for the path; line loads act as their forces on clamped ends.

    Raises
    ------
    ResultError
        Code ``mechanism``: the unloaded frame can move without resistance.
    """
    factored = factor(model)
    load, clamped = _load_on(factored, loads)
    rest, clamped_rest = _load_on(factored, constant)
    free = factored.pattern.free
    gather = freedoms_of(model)
    slides = (free % 6 < 3).astype(float)
    axial = (model.sections.modulus * model.sections.area)[model.section_of]
    rounding = 4.0 * float(np.finfo(float).eps * axial.max() * np.sqrt(len(free)))
    return System(
        model,
        moving_elements(model, element),
        factored.pattern,
        gather,
        load,
        rest,
        clamped,
        clamped_rest,
        slides if slides.any() else np.ones(len(free)),
        rounding,
    )


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


def balance(system: System, shape: Shape) -> Balance:
    """Return the inner forces and the tangent of a displaced frame; ground springs are linear."""
    model = system.model
    parts = followed(model, system.moving, shape.moved, shape.turned)
    inner = scattered(system.gather, parts.forces[:, :, None], 6 * len(model.nodes))[:, 0]
    if model.springs.any():
        inner = inner + (model.springs * shape.displacements()).ravel()
    tangent = assemble(system.pattern, parts.tangent, model.springs)
    return Balance(inner[system.pattern.free], tangent, parts)
