"""Long domes: two half domes with a barrel of bays between them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.sentences import note
from strutwright.shape import topology
from strutwright.shape.archline import ArchLine, arch_line
from strutwright.shape.courses import steps_from
from strutwright.shape.edit import Net, assemble
from strutwright.shape.halving import HalfNet, halve
from strutwright.shape.measure import dihedrals
from strutwright.shape.shell import Recipe, Shell
from strutwright.shape.tube import ClosedNet, closed_net
from strutwright.values import HubPoints, Note

__all__ = ["MOST_BAYS", "LongDomeSpec", "length_range", "long_dome"]

MOST_BAYS: Final = 40
FOLD: Final = np.radians(0.1)
"""A strut whose faces bend inwards by more than this, rad, lies in a valley: our choice."""
SYMMETRIES: Final = (4, 5, 6)
SHORTEST_BAY: Final = 0.65
LONGEST_BAY: Final = 1.5
"""A bay may have these shares of the length that makes its triangles equilateral: our choice;
beyond them the barrel's triangles get angles below 35 or above 90 degrees."""
AGREE: Final = 0.005
"""A length within this share of the width is the width."""


@dataclass(frozen=True)
class LongDomeSpec:
    """What a long dome is made from; lengths in m.

    Parameters
    ----------
    width : float
        Hub to hub across the base.
    length : float or None
        Hub to hub along the base. None: from the bays, with near-equilateral barrel triangles.
    rise : float or None
        Above the base. None: half the width.
    bays : int or None
        0 to 40. None: the number that suits the length best, or 3 without a length.
    cap_symmetry : int
        4, 5 or 6: order of the end about the long direction.
    division : (int, int) or None
        (b, 0) for rows around, (b, b) for rows along. None: b = 1.
    rows : str or None
        ``along`` the length or ``around`` the arch. None: from the division, or ``along``.
    profile : str
        ``circle`` (half circle, higher or lower arc) or ``ellipse``.
    """

    width: float = 2.0
    length: float | None = None
    rise: float | None = None
    bays: int | None = None
    cap_symmetry: int = 6
    division: tuple[int, int] | None = None
    rows: str | None = None
    profile: str = "circle"


@dataclass(frozen=True)
class _Plan:
    """Settings made definite: cap, arch, levels, and the length of a level."""

    symmetry: int
    frequency: int
    rows: str
    arch: ArchLine
    gaps: int
    bays: int
    half_tube: float

    @property
    def quarter(self) -> float:
        """Mean length of the half dome's two meridians, along the base and over the crown, m."""
        return float(np.pi * self.arch.width / 4 + self.arch.half_length) / 2

    @property
    def chord_share(self) -> float:
        """Chord over arc of the rows: see `level_step` of the capsule."""
        return self.arch.chord(self.gaps) * self.gaps / (2 * self.arch.half_length)

    @property
    def even_level(self) -> float:
        """Level that makes barrel triangles equilateral, m."""
        side = 1 / np.sqrt(3) if self.rows == "along" else np.sqrt(3) / 2
        return float(self.arch.chord(self.gaps) * side)

    @property
    def fewest_levels(self) -> int:
        """Even number of levels that two half domes with nothing between them need."""
        caps = 2 * self.frequency * (3 if self.rows == "along" else 1)
        needed = 2 * self.quarter / (self.even_level * self.chord_share)
        return max(caps + 2, 2 * int(np.ceil(needed / 2 - 1e-9)))

    def levels(self, bays: int) -> int:
        """Return the levels from pole to pole; a bay is one period of the net, two levels."""
        return self.fewest_levels + 2 * bays

    def tube(self, bays: int, share: float = 1.0) -> float:
        """Return the length of the barrel, m, for levels of `share` of the even one."""
        along = self.levels(bays) * self.even_level * share * self.chord_share
        return max(0.0, along - 2 * self.quarter) if bays else 0.0


def long_dome(spec: LongDomeSpec) -> Shell:
    """Return the long dome that `spec` describes.

    Raises
    ------
    InputError
        ``shape-bays``, ``shape-cap``, ``shape-rows``, ``shape-profile``, ``size-*``.
    """
    plan = _planned(spec)
    frequency, rows = plan.frequency, plan.rows
    caps = 2 * frequency * (3 if rows == "along" else 1)
    net = closed_net(plan.symmetry, frequency, rows, plan.levels(plan.bays) - caps)
    scale = plan.quarter / (np.pi / 2)
    half = halve(net, plan.half_tube / scale)
    return _shell(spec, plan, net, half)


def length_range(spec: LongDomeSpec, bays: int) -> tuple[float, float]:
    """Return the least and the largest length, m, that `bays` bays can give."""
    plan = _outlined(spec)
    if not bays:
        return spec.width, spec.width
    return tuple(spec.width + plan.tube(bays, share) for share in (SHORTEST_BAY, LONGEST_BAY))  # type: ignore[return-value]


def _outlined(spec: LongDomeSpec) -> _Plan:
    frequency, rows = _cap(spec)
    if spec.profile not in {"circle", "ellipse"}:
        what = f'profile "{spec.profile}" of a long dome is not circle or ellipse'
        raise InputError("shape-profile", what, "shape.profile", "take one of these, or a vault")
    arch = arch_line(spec.profile, spec.width, spec.rise)
    gaps = _gaps(spec.cap_symmetry, frequency, rows)
    return _Plan(spec.cap_symmetry, frequency, rows, arch, gaps, 0, 0.0)


@lru_cache(maxsize=64)
def _gaps(symmetry: int, frequency: int, rows: str) -> int:
    """Return the steps over the arch, which every barrel between such caps has."""
    return halve(closed_net(symmetry, frequency, rows, 2), 0.0).gaps


def _cap(spec: LongDomeSpec) -> tuple[int, str]:
    """Return b and the rows of a cap that can be built."""
    if spec.cap_symmetry not in SYMMETRIES:
        what = f"cap_symmetry {spec.cap_symmetry} is not 4, 5 or 6"
        raise InputError("shape-cap", what, "shape.cap_symmetry", "take 4, 5 or 6")
    if spec.rows not in {None, "along", "around"}:
        what = f'rows "{spec.rows}" is not along or around'
        raise InputError("shape-rows", what, "shape.rows", "take along or around")
    if spec.division is None:
        return 1, spec.rows or "along"
    b, c = spec.division
    if b < 1 or c not in {0, b}:
        what = f"division [{b}, {c}] has no mirror plane, which the two halves of a cap need"
        mend = f"take class I, [{max(b, 1)}, 0], or class II, [{max(b, 1)}, {max(b, 1)}]"
        raise InputError("shape-cap", what, "shape.division", mend)
    rows = "along" if c else "around"
    if spec.rows is not None and spec.rows != rows:
        what = (
            f"the rows of a class {'II' if c else 'I'} cap [{b}, {c}] run {rows}, not {spec.rows}: "
            "other joints of cap and barrel need seven-way hubs"
        )
        mend = f"take division [{b}, {0 if c else b}] or rows {rows}"
        raise InputError("shape-rows", what, "shape.rows", mend)
    return b, rows


def _planned(spec: LongDomeSpec) -> _Plan:
    plan = _outlined(spec)
    bays = spec.bays
    if bays is not None and not 0 <= bays <= MOST_BAYS:
        what = f"{bays} bays are outside 0 to {MOST_BAYS}"
        raise InputError("shape-bays", what, "shape.bays", f"take 0 to {MOST_BAYS} bays")
    if spec.length is None:
        bays = 3 if bays is None else bays
        return _with(plan, bays, plan.tube(bays) / 2)
    tube = spec.length - spec.width
    if not np.isfinite(spec.length) or tube < -AGREE * spec.width:
        what = f"length {spec.length:.4g} m is shorter than the width {spec.width:.4g} m"
        mend = "swap length and width, or lower the width"
        raise InputError("size-length", what, "size.length", mend)
    nearest = _nearest(plan, tube)
    bays = nearest if bays is None else bays
    low, high = length_range(spec, bays)
    slack = AGREE * spec.width
    if not low - slack <= spec.length <= high + slack:
        what = f"length {spec.length:.4g} m: {bays} bays give {low:.4g} m to {high:.4g} m"
        mend = f"take {nearest} bays, or a length in that range"
        raise InputError("size-length", what, "size.length", mend)
    return _with(plan, bays, max(tube, 0.0) / 2 if bays else 0.0)


def _with(plan: _Plan, bays: int, half_tube: float) -> _Plan:
    return _Plan(plan.symmetry, plan.frequency, plan.rows, plan.arch, plan.gaps, bays, half_tube)


def _nearest(plan: _Plan, tube: float) -> int:
    """Return the bays whose natural barrel is nearest to `tube`, m."""
    return min(range(MOST_BAYS + 1), key=lambda bays: abs(plan.tube(bays) - tube))


def _shell(spec: LongDomeSpec, plan: _Plan, net: ClosedNet, half: HalfNet) -> Shell:
    hubs = _placed(plan, half)
    course = steps_from(half.faces, half.base)
    parts = Net(hubs, course, half.faces, half.base.tolist())
    _name_groups(parts, net, half)
    settings = {
        "width": spec.width,
        "length": float(np.ptp(hubs[half.base, 0])),
        "rise": plan.arch.rise,
        "bays": plan.bays,
        "bay_length": _bay_length(hubs, net, half),
        "tube": float(2 * plan.half_tube),
        "cap_symmetry": plan.symmetry,
        "division": [plan.frequency, plan.frequency if plan.rows == "along" else 0],
        "rows": plan.rows,
        "profile": plan.arch.profile,
        "gaps": plan.gaps,
    }
    notes: tuple[Note, ...] = ()
    if half.levelled:
        notes = (note("base-levelled", far=half.levelled),)
    shell = assemble(parts, Recipe("long-dome", settings, plan.arch.radius, "level", notes=notes))
    return shell.with_notes(*_fold_notes(shell))


def _fold_notes(shell: Shell) -> tuple[Note, ...]:
    """Return a note when struts lie in a valley: ribs around the arch are chords between peaks."""
    angles = np.nan_to_num(dihedrals(shell))
    folded = int((angles > np.pi + FOLD).sum())
    if not folded:
        return ()
    return (note("folds-inwards", struts=folded, deep=float(angles.max() - np.pi)),)


def _placed(plan: _Plan, half: HalfNet) -> HubPoints:
    """Return the (H, 3) hubs: the chart laid on barrel and half domes of the arch's profile.

    A very short barrel may have no hub where it is widest or highest: then width and rise are
    brought to what was asked for, which leaves the round shape a little.
    """
    scale = plan.quarter / (np.pi / 2)
    tube = plan.half_tube / scale
    beyond = np.maximum(np.abs(half.along) - tube, 0)
    polar = np.hypot(beyond, half.across)
    share = np.minimum(polar / (np.pi / 2), 1.0)
    share[half.base] = 1.0
    out, height = plan.arch.at(share)
    safe = np.where(polar > 0, polar, 1)
    x = np.sign(half.along) * (np.minimum(np.abs(half.along), tube) * scale + out * beyond / safe)
    y = out * half.across / safe
    hubs = np.stack([x, y, height], axis=1)
    hubs[:, 1] *= plan.arch.width / np.ptp(hubs[half.base, 1])
    hubs[:, 2] *= plan.arch.rise / hubs[:, 2].max()
    hubs[np.abs(hubs) < 1e-12 * plan.arch.width] = 0.0
    return hubs


def _bay_length(hubs: HubPoints, net: ClosedNet, half: HalfNet) -> float:
    """Return the length of two levels at the middle of the barrel, m."""
    level = net.level[half.closed]
    middle = net.levels // 2
    return float(np.ptp(hubs[np.abs(level - middle) <= 1, 0]))


def _name_groups(parts: Net, net: ClosedNet, half: HalfNet) -> None:
    level = net.level[half.closed]
    inner = np.minimum(level, net.levels - level)
    slope = 3 if net.rows == "along" else 1
    five = (inner == net.cap_levels) & (slope * np.abs(net.step[half.closed]) == net.cap_levels)
    in_barrel = inner >= net.cap_levels
    groups = parts.hub_groups
    groups["pole"] = np.flatnonzero(inner == 0).tolist()
    groups["five_way"] = np.flatnonzero(five & ~np.isin(np.arange(len(five)), half.base)).tolist()
    groups["barrel"] = np.flatnonzero(in_barrel).tolist()
    groups["caps"] = np.flatnonzero(~in_barrel).tolist()
    for row in range(net.cap_levels, net.levels - net.cap_levels + 1):
        groups[f"rib.{row - net.cap_levels}"] = np.flatnonzero(level == row).tolist()
    struts = topology.struts_of(half.faces)
    both = in_barrel[struts].all(axis=1)
    parts.strut_groups["barrel"] = [tuple(pair) for pair in struts[both].tolist()]
    parts.strut_groups["caps"] = [tuple(pair) for pair in struts[~both].tolist()]
