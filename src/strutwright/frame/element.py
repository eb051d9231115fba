"""Stiffness of straight members, many at once: beams with springs at their ends, and bars."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from strutwright.errors import ResultError
from strutwright.frame.model import FrameModel
from strutwright.values import Floats, Indices

__all__ = [
    "Elements",
    "Kink",
    "Release",
    "condense",
    "elements",
    "fixed_end_forces",
    "shape_inside",
]

SPRUNG = (3, 4, 5, 9, 10, 11, 0, 6)
"""Local freedoms that may have a spring between node and member end: turns, then the axis."""


@dataclass(frozen=True, eq=False)
class Release:
    """One end freedom condensed out: at the end inside the spring v = u - (row u + share f).

    Parameters
    ----------
    freedom : int
        Local freedom, 0 to 11.
    rows : (R,) int array
        Members it concerns.
    row : (R, 12) array
        Row of the stiffness divided by its diagonal with the spring.
    share : (R,) array
        One over that diagonal; 0 where nothing was left to release.
    """

    freedom: int
    rows: Indices
    row: Floats
    share: Floats


@dataclass(frozen=True, eq=False)
class Kink:
    """One direction in which couplers give, condensed out: how far, g = share (w (k u + p) + b).

    w (k u + p) is what the end forces do there, and b what the line load beyond does.

    Parameters
    ----------
    axis : int
        0 along the member, 1 to 3 a turn about local x, y, z.
    rows : (R,) int array
        Members it concerns, each at most once.
    place : (R,) array, m
        From end 0.
    moved : (R, 12) array
        w: end freedoms of the straight member that is moved by 1 beyond the coupler.
    row : (R, 12) array
        k w, of the stiffness before this coupler was condensed.
    share : (R,) array
        One over what resists the coupler: its spring and w k w.
    """

    axis: int
    rows: Indices
    place: Floats
    moved: Floats
    row: Floats
    share: Floats


@dataclass(frozen=True, eq=False)
class Elements:
    """Members in their local axes.

    Parameters
    ----------
    length : (M,) array, m
        Of the flexible part.
    axes : (M, 3, 3) array
        Rows: local x, y, z in global axes.
    stiffness : (M, 12, 12) array
        Between the outer sides of the end springs, local axes.
    turn : (M, 12, 12) array
        Node freedoms, global, to end freedoms, local: axes and rigid offsets.
    shear : (M, 2) array
        12 E I/(G As L2) for bending in the local xy and xz planes.
    releases : tuple of Release
        In the order in which they were condensed, after all of `kinks`.
    kinks : tuple of Kink
    """

    length: Floats
    axes: Floats
    stiffness: Floats
    turn: Floats
    shear: Floats
    releases: tuple[Release, ...]
    kinks: tuple[Kink, ...] = ()


def local_axes(model: FrameModel) -> tuple[Floats, Floats]:
    """Return lengths (M,), m, of the flexible parts and their local axes (M, 3, 3), as rows."""
    ends = model.nodes[model.members] + model.offsets
    along = ends[:, 1] - ends[:, 0]
    length = np.sqrt(np.einsum("mi,mi->m", along, along))
    x = along / length[:, None]
    y = np.cross(model.reference, x)
    y /= np.sqrt(np.einsum("mi,mi->m", y, y))[:, None]
    return length, np.stack([x, y, np.cross(x, y)], axis=1)


def _beam_stiffness(model: FrameModel, length: Floats) -> tuple[Floats, Floats]:
    """Return (M, 12, 12) stiffness with rigid ends, and the shear factors (M, 2).

    Source: Przemieniecki, Theory of Matrix Structural Analysis (1968), eq. 5.116 (recalled).
    """
    table, of = model.sections, model.section_of
    e, g = table.modulus[of], table.shear_modulus[of]
    k = np.zeros((len(length), 12, 12))
    bending = (e * table.inertia_z[of], e * table.inertia_y[of])
    carrying = (g * table.shear_area_y[of], g * table.shear_area_z[of])
    shear = np.stack(
        [12.0 * ei / (ga * length**2) for ei, ga in zip(bending, carrying, strict=True)], axis=1
    )
    for freedom, rigidity in ((0, e * table.area[of]), (3, g * table.torsion[of])):
        part = rigidity / length
        k[:, freedom, freedom] = k[:, freedom + 6, freedom + 6] = part
        k[:, freedom, freedom + 6] = k[:, freedom + 6, freedom] = -part
    for plane, (side, turning, sense) in enumerate(((1, 5, 1.0), (2, 4, -1.0))):
        phi = shear[:, plane]
        unit = bending[plane] / (length**3 * (1.0 + phi))
        cross = sense * 6.0 * length * unit
        near, far = (4.0 + phi) * length**2 * unit, (2.0 - phi) * length**2 * unit
        a, b, c, d = side, turning, side + 6, turning + 6
        for row, column, part in (
            (a, a, 12.0 * unit),
            (c, c, 12.0 * unit),
            (a, c, -12.0 * unit),
            (a, b, cross),
            (a, d, cross),
            (b, c, -cross),
            (c, d, -cross),
            (b, b, near),
            (d, d, near),
            (b, d, far),
        ):
            k[:, row, column] = k[:, column, row] = part
    return k, shear


def _as_slice(rows: Indices, count: int) -> Indices | slice:
    """Return `rows`, or a slice when they are all: numpy then works in place, without copies."""
    return slice(None) if len(rows) == count else rows


def _springs_of(model: FrameModel, freedom: int) -> Floats:
    """Return the (M,) springs in series with local `freedom`."""
    end, local = divmod(freedom, 6)
    return model.end_axial[:, end] if local == 0 else model.end_rotation[:, end, local - 3]


def _kinks(model: FrameModel, length: Floats, k: Floats) -> tuple[Kink, ...]:
    """Take the couplers' springs into the stiffness `k`, in place, member ends still rigid.

    A coupler moves the member beyond it as a rigid body; the first of every member comes first.
    """
    inside = model.couplers
    found, rank = [], inside.ranks()
    springs = np.column_stack([inside.axial, inside.rotation])
    for number in range(int(rank.max(initial=-1)) + 1):
        for axis in range(4):
            here = np.flatnonzero((rank == number) & np.isfinite(springs[:, axis]))
            if len(here) == 0:
                continue
            rows = inside.members[here]
            place = inside.shares[here] * length[rows]
            moved = np.zeros((len(rows), 12))
            moved[:, (6, 9, 10, 11)[axis]] = 1.0
            if axis > 1:
                arm = length[rows] - place
                moved[:, 8 if axis == 2 else 7] = -arm if axis == 2 else arm
            row = np.einsum("rij,rj->ri", k[rows], moved)
            resisted = springs[here, axis] + np.einsum("ri,ri->r", moved, row)
            k[rows] -= row[:, :, None] * row[:, None, :] / resisted[:, None, None]
            found.append(Kink(axis, rows, place, moved, row, 1.0 / resisted))
    return tuple(found)


def _condensed(model: FrameModel, k: Floats) -> tuple[Release, ...]:
    """Condense the end springs into `k`, in place, one freedom after the other.

    A spring s in series with freedom d turns K into K - K_d K_d^T/(K_dd + s).
    """
    releases = []
    scale = np.einsum("mii->mi", k).copy()
    for freedom in SPRUNG:
        spring = _springs_of(model, freedom)
        rows = np.flatnonzero(np.isfinite(spring))
        if len(rows) == 0:
            continue
        place = _as_slice(rows, len(k))
        column = k[place, freedom].copy()
        own, extra = column[:, freedom], spring[rows]
        held = own > 1e-12 * scale[rows, freedom]
        total = np.where(held, own, 0.0) + extra
        share = np.where(total > 0.0, 1.0 / np.where(total > 0.0, total, 1.0), 0.0)
        row = column * share[:, None]
        k[place] -= row[:, :, None] * column[:, None, :]
        gone = rows[(extra == 0.0) | ~held]
        k[gone, freedom] = 0.0
        k[gone, :, freedom] = 0.0
        releases.append(Release(freedom, rows, row, share))
    bars = np.flatnonzero(model.truss)
    if len(bars):
        axial = np.zeros((12, 12))
        axial[np.ix_((0, 6), (0, 6))] = 1.0
        k[bars] *= axial
    return tuple(releases)


def _turn(model: FrameModel, axes: Floats) -> Floats:
    """Return (M, 12, 12): end freedoms in local axes from node freedoms in global axes."""
    turn = np.zeros((len(axes), 12, 12))
    for first in (0, 3, 6, 9):
        turn[:, first : first + 3, first : first + 3] = axes
    for end in (0, 1):
        arm = model.offsets[:, end]
        if arm.any():  # R (t x e) = R times the matrix whose columns are the unit turns x e
            crossed = np.cross(np.eye(3)[None], arm[:, None, :])
            here, turning = slice(6 * end, 6 * end + 3), slice(6 * end + 3, 6 * end + 6)
            turn[:, here, turning] = axes @ crossed.transpose(0, 2, 1)
    return turn


def elements(model: FrameModel) -> Elements:
    """Return the members' stiffness in local axes, end springs condensed."""
    length, axes = local_axes(model)
    stiffness, shear = _beam_stiffness(model, length)
    kinks = _kinks(model, length, stiffness)
    releases = _condensed(model, stiffness)
    return Elements(length, axes, stiffness, _turn(model, axes), shear, releases, kinks)


def fixed_end_forces(elems: Elements, line: Floats) -> Floats:
    """Return (..., M, 12) forces on clamped ends, local axes, of linearly varying line loads.

    Parameters
    ----------
    line : (..., M, 2, 3) array, N/m
        Load at both ends of the flexible part, local axes.

    Notes
    -----
    The load is split into its mean and a part that changes sign at mid-length; the second was
    derived with shear deformation from the beam's differential equation.
    """
    length = elems.length
    out = np.zeros((*line.shape[:-2], 12))
    first, last = line[..., 0, :], line[..., 1, :]
    out[..., 0] = -(2.0 * first[..., 0] + last[..., 0]) * length / 6.0
    out[..., 6] = -(first[..., 0] + 2.0 * last[..., 0]) * length / 6.0
    for plane, (side, turning, sense) in enumerate(((1, 5, 1.0), (2, 4, -1.0))):
        mean = 0.5 * (first[..., side] + last[..., side]) * length
        slope = 0.5 * (last[..., side] - first[..., side]) * length
        phi = elems.shear[:, plane]
        force = slope * (1.0 / 5.0 + phi / 6.0) / (1.0 + phi)
        moment = 0.5 * force * length - slope * length / 12.0
        out[..., side] = -0.5 * mean + force
        out[..., side + 6] = -0.5 * mean - force
        out[..., turning] = sense * (-mean * length / 12.0 + moment)
        out[..., turning + 6] = sense * (mean * length / 12.0 + moment)
    return out


def _beyond(kink: Kink, length: Floats, line: Floats) -> Floats:
    """Return (..., R) what a line load beyond the couplers does about them: force or moment.

    Parameters
    ----------
    line : (..., R, 2, 3) array, N/m
        Local axes.
    """
    if kink.axis == 1:
        return np.zeros(line.shape[:-2])
    side, sense = ((0, 1.0), (0, 0.0), (2, -1.0), (1, 1.0))[kink.axis]
    last = line[..., 1, side]
    rest = length - kink.place
    here = last + (line[..., 0, side] - last) * rest / length
    if kink.axis == 0:
        return np.asarray(0.5 * (here + last) * rest)
    return np.asarray(sense * (here + 2.0 * last) * rest**2 / 6.0)


def condense(elems: Elements, forces: Floats, line: Floats | None = None) -> Floats:
    """Return clamped-end `forces` (..., M, 12) as felt outside couplers and end springs.

    Parameters
    ----------
    line : (..., M, 2, 3) array, N/m, or None
        The load along the members that belongs to them, local axes.
    """
    out = forces.copy()
    for kink in elems.kinks:
        given = np.einsum("...ri,ri->...r", out[..., kink.rows, :], kink.moved)
        if line is not None:
            given = given + _beyond(kink, elems.length[kink.rows], line[..., kink.rows, :, :])
        out[..., kink.rows, :] -= (given * kink.share)[..., None] * kink.row
    for release in elems.releases:
        rows = _as_slice(release.rows, len(elems.length))
        out[..., rows, :] -= out[..., rows, release.freedom, None] * release.row
        loose = release.rows[release.share == 0.0]
        if len(loose) == 0:
            continue
        if np.abs(out[..., loose, release.freedom]).max() > 1e-12 * np.abs(out).max():
            raise ResultError(
                "mechanism",
                "a member that is free to slide or turn at both ends carries load that way",
                f"member {int(loose[0])}",
                "give one of its end springs a stiffness",
            )
        out[..., loose, release.freedom] = 0.0
    return out


def shape_inside(elems: Elements) -> Floats:
    """Return (M, 12, 12) end freedoms inside the springs from those outside, no load between."""
    count = len(elems.length)
    shape = np.broadcast_to(np.eye(12), (count, 12, 12)).copy()
    for release in elems.releases:
        rows = _as_slice(release.rows, count)
        moved = shape[rows, :, release.freedom]
        shape[rows] -= moved[:, :, None] * release.row[:, None, :]
    return shape
