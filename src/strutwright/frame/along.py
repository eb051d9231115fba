"""Forces and deflection along the members, between their ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from strutwright.frame.element import local_axes
from strutwright.frame.loads import Loads, stacked
from strutwright.frame.model import FrameModel
from strutwright.frame.solve import Response
from strutwright.values import ArrayValue, Floats

__all__ = ["Along", "forces_along", "internal_forces"]

PLANES = ((1, 5, 1.0), (2, 4, -1.0))
"""Side and turn of bending in the local xy and xz planes, and the sense of their moment."""


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


def internal_forces(model: FrameModel, loads: Loads, response: Response, stations: Floats) -> Along:
    """Return section forces and deflections of all members at shares `stations` of their length.

    Parameters
    ----------
    loads : Loads
        The case that `response` answers.
    stations : (S,) array
        Shares from 0 to 1.

    Notes
    -----
    Exact for the beam equation: forces by equilibrium from end 0, deflection by integrating
    curvature and shear between the displaced ends.
    """
    forces, deflection = forces_along(model, (loads,), (response,), stations)
    return Along(np.asarray(stations, dtype=float), forces[0], deflection[0])


def forces_along(
    model: FrameModel, loads: Sequence[Loads], responses: Sequence[Response], stations: Floats
) -> tuple[Floats, Floats]:
    """Return the section forces (C, M, S, 6) and deflections (C, M, S, 3) of many cases at once.

    As `internal_forces` has them, one case after the other.
    """
    t = np.asarray(stations, dtype=float)
    if t.ndim != 1 or not ((t >= 0.0) & (t <= 1.0)).all():
        msg = "stations are shares of the length, from 0 to 1"
        raise ValueError(msg)
    length, axes = local_axes(model)
    count, turn = len(length), axes.transpose(0, 2, 1)
    given = stacked(loads, "line", (count, 2, 3))
    line = np.zeros((1, count, 2, 3)) if given is None else given @ turn
    ends = np.stack([response.end_forces for response in responses])
    cases = _Cases(
        length,
        length[:, None] * t,
        ends[:, :, 0],
        line[:, :, 0],
        (line[:, :, 1] - line[:, :, 0]) / length[:, None],
    )
    return _section_forces(cases), _deflection(model, cases, loads, responses, turn)


@dataclass(frozen=True, eq=False)
class _Cases:
    """Members (M,), their stations s (M, S), and what acts in C cases: forces on end 0, loads.

    The line load (C or 1, M, 3) is `first` at end 0 and grows by `growth` a metre.
    """

    length: Floats
    s: Floats
    start: Floats
    first: Floats
    growth: Floats


def _section_forces(cases: _Cases) -> Floats:
    """Return (C, M, S, 6) forces on the face that looks to end 1."""
    s, start, first, growth = cases.s, cases.start, cases.first, cases.growth
    forces = np.empty((*start.shape[:2], s.shape[1], 6))
    for axis in range(3):
        run = first[..., axis, None] * s + growth[..., axis, None] * (s**2 / 2.0)
        forces[..., axis] = -start[..., axis, None] - run
    forces[..., 3] = -start[..., 3, None]
    for side, turning, sense in PLANES:
        arm = first[..., side, None] * (s**2 / 2.0) + growth[..., side, None] * (s**3 / 6.0)
        moment = sense * (start[..., side, None] * s + arm)
        forces[..., turning] = moment - start[..., turning, None]
    return forces


def _deflection(
    model: FrameModel,
    cases: _Cases,
    loads: Sequence[Loads],
    responses: Sequence[Response],
    turn: Floats,
) -> Floats:
    """Return (C, M, S, 3) displacement along the member, local axes."""
    table, of = model.sections, model.section_of
    e, g = table.modulus[of], table.shear_modulus[of]
    u = np.stack([response.displacements for response in responses])[:, model.members]
    tips = u[..., :3]
    if model.offsets.any():
        tips = tips + np.cross(u[..., 3:], model.offsets)
    ends = tips @ turn
    out = np.empty((*cases.start.shape[:2], cases.s.shape[1], 3))
    out[..., 0] = _stretched(cases, e * table.area[of])
    out[..., 0] += _axial_start(model, cases.start, ends)[..., None]
    strain = stacked(loads, "strain", (len(of),))
    if strain is not None:
        out[..., 0] += strain[..., None] * cases.s
    bending = (e * table.inertia_z[of], e * table.inertia_y[of])
    shearing = (g * table.shear_area_y[of], g * table.shear_area_z[of])
    share = cases.s / cases.length[:, None]
    whole = replace(cases, s=cases.length[:, None])
    for plane, data in enumerate(PLANES):
        side = data[0]
        inner = _bent(cases, data, bending[plane], shearing[plane])
        last = _bent(whole, data, bending[plane], shearing[plane])
        first, far = ends[..., 0, side, None], ends[..., 1, side, None]
        out[..., side] = first + inner + (far - first - last) * share
    _add_kinks(model, out, cases)
    return out


def _add_kinks(model: FrameModel, out: Floats, cases: _Cases) -> None:
    """Add what the couplers' springs give to the deflections `out` (C, M, S, 3), in place."""
    inside = model.couplers
    rows = inside.members
    if len(rows) == 0:
        return
    start, first, growth = cases.start[:, rows], cases.first[:, rows], cases.growth[:, rows]
    length = cases.length[rows]
    place = inside.shares * length
    along, at = cases.s[rows], place[:, None]
    bow = np.maximum(along - at, 0.0) - (length - place)[:, None] * along / length[:, None]
    pull = -start[..., 0] - first[..., 0] * place - growth[..., 0] * place**2 / 2.0
    added = np.zeros((len(rows), len(out), along.shape[1], 3))
    gap = (pull / inside.axial)[..., None] * (along > at)
    added[..., 0] = gap.transpose(1, 0, 2)
    for side, turning, sense in PLANES:
        arm = first[..., side] * place**2 / 2.0 + growth[..., side] * place**3 / 6.0
        moment = sense * (start[..., side] * place + arm) - start[..., turning]
        kink = sense * moment / inside.rotation[:, turning - 3]
        added[..., side] = (kink[..., None] * bow).transpose(1, 0, 2)
    for row, more in zip(rows, added, strict=True):
        out[:, row] += more


def _bent(
    cases: _Cases, plane: tuple[int, int, float], bending: Floats, shearing: Floats
) -> Floats:
    """Return deflection from twice integrated curvature and once integrated shear."""
    side, turning, sense = plane
    s, bend, shear = cases.s, bending[:, None], shearing[:, None]
    force, moment = cases.start[..., side, None], sense * cases.start[..., turning, None]
    q, growth = cases.first[..., side, None], cases.growth[..., side, None]
    pulled = force * (s**3 / (6.0 * bend) - s / shear) - moment * (s**2 / (2.0 * bend))
    loaded = q * (s**4 / (24.0 * bend) - s**2 / (2.0 * shear))
    loaded = loaded + growth * (s**5 / (120.0 * bend) - s**3 / (6.0 * shear))
    return np.asarray(pulled + loaded)


def _stretched(cases: _Cases, rigidity: Floats) -> Floats:
    """Return stretch from end 0 to the stations by the axial force."""
    s, ea = cases.s, rigidity[:, None]
    q, growth = cases.first[..., 0, None], cases.growth[..., 0, None]
    loaded = q * (s**2 / (2.0 * ea)) + growth * (s**3 / (6.0 * ea))
    return np.asarray(-cases.start[..., 0, None] * (s / ea) - loaded)


def _axial_start(model: FrameModel, start: Floats, ends: Floats) -> Floats:
    """Return the axial displacement inside the spring of end 0."""
    spring = model.end_axial[:, 0]
    give = np.divide(1.0, spring, out=np.zeros_like(spring), where=spring > 0.0)
    return np.asarray(ends[..., 0, 0] - start[..., 0] * give)
