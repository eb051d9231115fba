"""What acts on a frame in one load case."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from strutwright.frame.element import Elements, condense, fixed_end_forces
from strutwright.frame.model import FrameModel, left_out
from strutwright.values import ArrayValue, Floats

__all__ = ["Loads", "combine", "over_node_length"]


@dataclass(frozen=True, eq=False)
class Loads(ArrayValue):
    """One load case; what is left out is zero.

    Parameters
    ----------
    forces : (N, 6) array, N and Nm
        On the nodes, global axes.
    line : (M, 3) or (M, 2, 3) array, N/m
        On the flexible length of the members, global axes: uniform, or at both ends with a
        straight course between.
    strain : (M,) array
        Stretch that the member would take if free: thermal, or negative for a short member.
    moves : (N, 6) array, m and rad
        Forced displacements, at held freedoms only.
    """

    forces: Floats = field(default_factory=left_out)
    line: Floats = field(default_factory=left_out)
    strain: Floats = field(default_factory=left_out)
    moves: Floats = field(default_factory=left_out)

    def __post_init__(self) -> None:
        """Refuse what is not finite; give a uniform line load its two ends."""
        for name in self.__dataclass_fields__:
            value = np.asarray(getattr(self, name), dtype=float)
            if not np.isfinite(value).all():
                msg = f"{name} has a value that is not finite"
                raise ValueError(msg)
            if name == "line" and value.ndim == 2:
                value = np.stack([value, value], axis=1)
            object.__setattr__(self, name, value)
        super().__post_init__()


def combine(loads: Sequence[Loads], factors: Sequence[float]) -> Loads:
    """Return the sum of load cases, each times its factor."""
    if len(loads) != len(factors):
        msg = f"{len(loads)} load cases but {len(factors)} factors"
        raise ValueError(msg)
    sums: dict[str, Floats] = {}
    for name in Loads.__dataclass_fields__:
        parts = [
            factor * getattr(load, name)
            for load, factor in zip(loads, factors, strict=True)
            if getattr(load, name).size
        ]
        sums[name] = np.sum(parts, axis=0) if parts else left_out()
    return Loads(**sums)


def over_node_length(model: FrameModel, line: Floats) -> Floats:
    """Return line loads on the flexible parts with the resultant of `line` from node to node.

    Parameters
    ----------
    line : (M, 3) or (M, 2, 3) array, N/m
        Load per metre between the nodes; offsets shorten or lengthen the part that takes it.
    """
    points = model.nodes[model.members]
    ends = points + model.offsets
    whole = np.linalg.norm(points[:, 1] - points[:, 0], axis=1)
    flexible = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    share: Floats = (whole / flexible).reshape(-1, *[1] * (np.ndim(line) - 1))
    return np.asarray(line) * share


def stacked(loads: Sequence[Loads], name: str, shape: tuple[int, ...]) -> Floats | None:
    """Return field `name` of all load cases as (C, *shape), or None where all leave it out."""
    if not any(getattr(load, name).size for load in loads):
        return None
    out = np.zeros((len(loads), *shape))
    for case, load in enumerate(loads):
        value = getattr(load, name)
        if value.size:
            if value.shape != shape:
                msg = f"{name} of load case {case} has shape {value.shape}, not {shape}"
                raise ValueError(msg)
            out[case] = value
    return out


def clamped_forces(model: FrameModel, elems: Elements, loads: Sequence[Loads]) -> Floats | None:
    """Return (C, M, 12) forces on clamped member ends outside the springs, local axes."""
    count = len(model.members)
    line = stacked(loads, "line", (count, 2, 3))
    strain = stacked(loads, "strain", (count,))
    if line is None and strain is None:
        return None
    out, local = np.zeros((len(loads), count, 12)), None
    if line is not None:
        rows = line.transpose(1, 0, 2, 3).reshape(count, -1, 3) @ elems.axes.transpose(0, 2, 1)
        local = rows.reshape(count, len(loads), 2, 3).transpose(1, 0, 2, 3)
        out = fixed_end_forces(elems, local)
    if strain is not None:
        of = model.section_of
        force = strain * (model.sections.modulus * model.sections.area)[of]
        out[..., 0] += force
        out[..., 6] -= force
    return condense(elems, out, local)
