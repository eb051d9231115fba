"""Forces and deflection along the members, between their ends."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from strutwright.frame.element import local_axes
from strutwright.frame.loads import Loads, stacked
from strutwright.frame.model import FrameModel
from strutwright.frame.solve import Response
from strutwright.values import ArrayValue, Floats

__all__ = ["Along", "internal_forces"]


@dataclass(frozen=True, eq=False)
class Along(ArrayValue):
    """Section forces and deflection at stations of every member, local axes.

    Parameters
    ----------
    stations : (S,) array
        Share of the flexible length, from end 0.
    forces : (M, S, 6) array, N and Nm
        On the face that looks to end 1: axial force (tension positive), shear along y and z,
        torque, moments about y and z.
    deflection : (M, S, 3) array, m
        Displacement of the axis along local x, y, z.
    """

    stations: Floats
    forces: Floats
    deflection: Floats


def internal_forces(
    model: FrameModel,
    loads: Loads,
    response: Response,
    stations: Floats,
    local: tuple[Floats, Floats] | None = None,
) -> Along:
    """Return section forces and deflections of all members at shares `stations` of their length.

    Parameters
    ----------
    loads : Loads
        The case that `response` answers.
    stations : (S,) array
        Shares from 0 to 1.
    local : pair of arrays
        `local_axes` of the model, where many cases share them; left out: worked out here.

    Notes
    -----
    Exact for the beam equation: forces by equilibrium from end 0, deflection by integrating
    curvature and shear between the displaced ends.
    """
    t = np.asarray(stations, dtype=float)
    if t.ndim != 1 or not ((t >= 0.0) & (t <= 1.0)).all():
        msg = "stations are shares of the length, from 0 to 1"
        raise ValueError(msg)
    length, axes = local_axes(model) if local is None else local
    count = len(length)
    given = stacked((loads,), "line", (count, 2, 3))
    line = np.zeros((count, 2, 3)) if given is None else given[0] @ axes.transpose(0, 2, 1)
    s = length[:, None] * t
    first, growth = line[:, 0], (line[:, 1] - line[:, 0]) / length[:, None]
    start = response.end_forces[:, 0]
    forces = np.empty((count, len(t), 6))
    for axis in range(3):
        run = first[:, axis, None] * s + growth[:, axis, None] * s**2 / 2.0
        forces[..., axis] = -start[:, axis, None] - run
    forces[..., 3] = -start[:, 3, None]
    for side, turning, sense in ((1, 5, 1.0), (2, 4, -1.0)):
        arm = first[:, side, None] * s**2 / 2.0 + growth[:, side, None] * s**3 / 6.0
        forces[..., turning] = -start[:, turning, None] + sense * (start[:, side, None] * s + arm)
    return Along(t, forces, _deflection(model, loads, response, (length, axes), s, line=line))


def _deflection(
    model: FrameModel,
    loads: Loads,
    response: Response,
    local: tuple[Floats, Floats],
    s: Floats,
    *,
    line: Floats,
) -> Floats:
    """Return (M, S, 3) displacement along the member, local axes."""
    length, axes = local
    table, of = model.sections, model.section_of
    e, g = table.modulus[of], table.shear_modulus[of]
    u = response.displacements[model.members]
    tips = u[..., :3]
    if model.offsets.any():
        tips = tips + np.cross(u[..., 3:], model.offsets)
    ends = tips @ axes.transpose(0, 2, 1)
    out = np.empty((*s.shape, 3))
    strain = loads.strain if loads.strain.size else np.zeros(len(length))
    stretch = _axial(model, response, s, line, length[:, None])
    out[..., 0] = stretch + _axial_start(model, response, ends)
    out[..., 0] += strain[:, None] * s
    bending = (e * table.inertia_z[of], e * table.inertia_y[of])
    shearing = (g * table.shear_area_y[of], g * table.shear_area_z[of])
    whole = length[:, None]
    for plane, (side, turning, sense) in enumerate(((1, 5, 1.0), (2, 4, -1.0))):
        data = (response.end_forces[:, 0], line, side, turning, sense)
        inner = _bent(data, s, whole, bending[plane], shearing[plane])
        last = _bent(data, whole, whole, bending[plane], shearing[plane])
        straight = ends[:, 0, side, None] + (ends[:, 1] - ends[:, 0])[:, side, None] * (s / whole)
        out[..., side] = straight + inner - last * (s / whole)
    _add_kinks(model, out, (response.end_forces[:, 0], line), s, whole=length)
    return out


def _add_kinks(
    model: FrameModel, out: Floats, acting: tuple[Floats, Floats], s: Floats, *, whole: Floats
) -> None:
    """Add what the couplers' springs give to the deflections `out` (M, S, 3), in place."""
    inside = model.couplers
    rows = inside.members
    if len(rows) == 0:
        return
    start, line, length = acting[0][rows], acting[1][rows], whole[rows]
    place = inside.shares * length
    growth = (line[:, 1] - line[:, 0]) / length[:, None]
    along, at = s[rows], place[:, None]
    pull = -start[:, 0] - line[:, 0, 0] * place - growth[:, 0] * place**2 / 2.0
    np.add.at(out[..., 0], rows, np.where(along > at, (pull / inside.axial)[:, None], 0.0))
    bow = np.maximum(along - at, 0.0) - (length - place)[:, None] * along / length[:, None]
    for side, turning, sense in ((1, 5, 1.0), (2, 4, -1.0)):
        arm = line[:, 0, side] * place**2 / 2.0 + growth[:, side] * place**3 / 6.0
        moment = -start[:, turning] + sense * (start[:, side] * place + arm)
        turn = moment / inside.rotation[:, turning - 3]
        np.add.at(out[..., side], rows, sense * turn[:, None] * bow)


def _bent(
    data: tuple[Floats, Floats, int, int, float],
    s: Floats,
    whole: Floats,
    bending: Floats,
    shearing: Floats,
) -> Floats:
    """Return deflection from twice integrated curvature and once integrated shear."""
    start, line, side, turning, sense = data
    force, moment = start[:, side, None], sense * start[:, turning, None]
    q, growth = line[:, 0, side, None], (line[:, 1] - line[:, 0])[:, side, None] / whole
    curved = -moment * s**2 / 2 + force * s**3 / 6 + q * s**4 / 24 + growth * s**5 / 120
    sheared = -force * s - q * s**2 / 2 - growth * s**3 / 6
    return np.asarray(curved / bending[:, None] + sheared / shearing[:, None])


def _axial(model: FrameModel, response: Response, s: Floats, line: Floats, whole: Floats) -> Floats:
    """Return stretch from end 0 to `s` by the axial force."""
    table, of = model.sections, model.section_of
    rigidity = (table.modulus * table.area)[of][:, None]
    start = response.end_forces[:, 0, 0, None]
    q, growth = line[:, 0, 0, None], (line[:, 1] - line[:, 0])[:, 0, None] / whole
    return np.asarray((-start * s - q * s**2 / 2 - growth * s**3 / 6) / rigidity)


def _axial_start(model: FrameModel, response: Response, ends: Floats) -> Floats:
    """Return the axial displacement inside the spring of end 0."""
    spring = model.end_axial[:, 0]
    pull = -response.end_forces[:, 0, 0]
    give = np.divide(pull, spring, out=np.zeros_like(pull), where=spring > 0.0)
    return np.asarray((ends[:, 0, 0] + give)[:, None])
