"""The skirt: what closes the band between base ring and ground where a shell stands on legs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

import numpy as np

from strutwright.cover.film import FLAP, HEM, SEAM
from strutwright.cover.fit import fit_on_sheets
from strutwright.cover.nest import nest_in_rows
from strutwright.cover.unroll import polygon_area
from strutwright.cover.values import Nest, Skirt, SkirtPart
from strutwright.errors import InputError
from strutwright.shape import Shell
from strutwright.shape.riser import feet_of
from strutwright.values import Floats, Indices

__all__ = ["Bay", "bays_of", "film_skirt", "sheet_skirt"]

ALIKE: Final = 0.001
"""m: parts whose sides differ by less are cut alike."""


@dataclass(frozen=True)
class Bay:
    """Between two legs: the base strut over it, its width, and its height at both sides, m."""

    strut: int
    wide: float
    left: float
    right: float


def bays_of(shell: Shell, offset: float) -> tuple[tuple[Bay, ...], ...]:
    """Return the bays under the base ring in runs that no door parts; none without a riser.

    Their widths are those `offset` m outside the ring, whose corners open by the turn there.
    """
    feet = feet_of(shell)
    if not len(feet) or not (shell.hubs[feet, 2] < -1e-6).any():
        return ()
    base = shell.base.tolist()
    n = len(base)
    number = {tuple(pair): k for k, pair in enumerate(shell.struts.tolist())}
    step = np.roll(shell.hubs[shell.base, :2], -1, axis=0) - shell.hubs[shell.base, :2]
    way = np.unwrap(np.arctan2(step[:, 1], step[:, 0]))
    turn = np.mod(way - np.roll(way, 1) + np.pi, 2 * np.pi) - np.pi
    high = _legs(shell, feet)
    found: list[Bay | None] = []
    for k in range(n):
        after = (k + 1) % n
        pair = (min(base[k], base[after]), max(base[k], base[after]))
        more = offset * (math.tan(turn[k] / 2) + math.tan(turn[after] / 2))
        wide = float(np.linalg.norm(step[k])) + more
        strut = number.get(pair)
        found.append(
            None if strut is None else Bay(strut, wide, float(high[k]), float(high[after]))
        )
    return _runs(found)


def _runs(bays: Sequence[Bay | None]) -> tuple[tuple[Bay, ...], ...]:
    """Return the bays in runs, the first after a gap first; a ring without gaps is one run."""
    gaps = [k for k, bay in enumerate(bays) if bay is None]
    start = gaps[0] + 1 if gaps else 0
    runs: list[list[Bay]] = [[]]
    for bay in [*bays[start:], *bays[:start]]:
        if bay is not None:
            runs[-1].append(bay)
        elif runs[-1]:
            runs.append([])
    return tuple(tuple(run) for run in runs if run)


def film_skirt(
    runs: Sequence[Sequence[Bay]], width: float, lengths: Sequence[float], *, parted: bool
) -> Skirt | None:
    """Return the skirt of film from rolls of `width`; None without bays.

    The film laps under the hem of the cover and is buried or weighted at the ground. It lies along
    the roll; where it is higher than the roll is wide, each bay is a piece that runs down it.

    Parameters
    ----------
    runs : sequence of sequences of Bay
    width, lengths : float and sequence of float, m
        Of the roll, and of rolls sold.
    parted : bool
        Doors part the ring: ends of runs have flaps, not seams.
    """
    if not runs:
        return None
    highest = max(max(bay.left, bay.right) for run in runs for bay in run) + SEAM + HEM
    most = max(lengths)
    side = FLAP if parted else SEAM
    on_end = highest > width
    pieces: list[list[Bay]] = []
    for run in runs:
        if on_end:
            pieces += [[part] for bay in run for part in _parts(bay, width - 2 * side)]
        else:
            pieces += _split(run, most - 2 * side)
    outlines = [_film(piece, side) for piece in pieces]
    if on_end:
        outlines = [_on_end(outline) for outline in outlines]
    return _skirt(pieces, outlines, nest_in_rows(outlines, width, lengths), HEM)


def sheet_skirt(
    runs: Sequence[Sequence[Bay]], sheet: tuple[float, float], gap: float, *, directed: bool
) -> Skirt | None:
    """Return the skirt of panels, flutes upright; None without bays.

    A bay wider than the sheet is parted into equal panels, with a post behind each joint.

    Raises
    ------
    InputError
        ``sheet-too-small``: the band is higher than the sheet is long.
    """
    if not runs:
        return None
    across, along = sheet
    pieces: list[list[Bay]] = []
    for bay in (bay for run in runs for bay in run):
        high = max(bay.left, bay.right)
        room = across if directed or high > across else along
        if high > along:
            raise InputError(
                "sheet-too-small",
                f"the skirt under the base ring is {high:.3f} m high, and the sheet {along:.2f} m "
                "long",
                "cover.sheet",
                "take a longer sheet or a lower riser",
            )
        pieces += [[part] for part in _parts(bay, room, gap)]
    outlines = [_panel(piece[0], gap) for piece in pieces]
    turns = (math.pi / 2, -math.pi / 2) if directed else tuple(k * math.pi / 2 for k in range(4))
    return _skirt(pieces, outlines, fit_on_sheets(outlines, [turns] * len(outlines), sheet), 0.0)


def _legs(shell: Shell, feet: Indices) -> Floats:
    """Return the height of the leg under each base hub, (B,), m."""
    apart = shell.hubs[shell.base, None, :2] - shell.hubs[None, feet, :2]
    under = np.argmin(np.linalg.norm(apart, axis=2), axis=1)
    return np.asarray(-shell.hubs[feet[under], 2])


def _parts(bay: Bay, room: float, gap: float = 0.0) -> list[Bay]:
    """Return a bay in equal parts that are no wider than `room` with a `gap` between, m."""
    count = max(math.ceil((bay.wide - gap) / room - 1e-9), 1)
    sides = np.linspace(bay.left, bay.right, count + 1).tolist()
    return [Bay(bay.strut, bay.wide / count, a, b) for a, b in pairwise(sides)]


def _split(run: Sequence[Bay], most: float) -> list[list[Bay]]:
    """Return a run in pieces no longer than `most`, as even as the bays allow."""
    total = sum(bay.wide for bay in run)
    share = total / max(math.ceil(total / most), 1)
    pieces: list[list[Bay]] = [[]]
    for bay in run:
        done = sum(one.wide for one in pieces[-1])
        if pieces[-1] and done + bay.wide > min(share * 1.001 + bay.wide / 2, most):
            pieces.append([])
        pieces[-1].append(bay)
    return pieces


def _film(piece: Sequence[Bay], side: float) -> Floats:
    """Return the outline to be cut: top edge level, allowances added, in its box from (0, 0)."""
    x = np.concatenate([[0.0], np.cumsum([bay.wide for bay in piece])])
    low = np.array([piece[0].left, *(bay.right for bay in piece)])
    x[0], x[-1] = x[0] - side, x[-1] + side
    bottom = np.column_stack([x, -low - HEM])
    top = np.array([[x[-1], SEAM], [x[0], SEAM]])
    outline = np.concatenate([bottom, top])
    return np.asarray(outline - outline.min(axis=0))


def _on_end(outline: Floats) -> Floats:
    turned = np.column_stack([outline[:, 1], -outline[:, 0]])
    return np.asarray(turned - turned.min(axis=0))


def _panel(bay: Bay, gap: float) -> Floats:
    wide = bay.wide - gap
    points = np.array([[0.0, -bay.left], [wide, -bay.right], [wide, 0.0], [0.0, 0.0]])
    return np.asarray(points - points.min(axis=0))


def _skirt(
    pieces: Sequence[Sequence[Bay]], outlines: Sequence[Floats], nest: Nest, buried: float
) -> Skirt:
    """Return the pieces sorted into parts that are cut alike."""
    groups: dict[tuple[tuple[int, int], ...], list[int]] = {}
    for k, outline in enumerate(outlines):
        key = tuple((int(x), int(y)) for x, y in np.rint(outline / ALIKE).tolist())
        groups.setdefault(key, []).append(k)
    parts: list[SkirtPart] = []
    of: dict[int, int] = {}
    for n, members in enumerate(groups.values(), 1):
        first = outlines[members[0]]
        wide, high = np.ptp(first, axis=0).tolist()
        struts = np.array([pieces[k][0].strut for k in members])
        area = abs(polygon_area(first))
        parts.append(SkirtPart(f"K{n}", len(members), struts, first, wide, high, area))
        of |= dict.fromkeys(members, n - 1)
    bays = [bay for piece in pieces for bay in piece]
    placed = tuple(replace(one, item=of[one.item]) for one in nest.placed)
    return Skirt(
        parts=tuple(parts),
        nest=replace(nest, placed=placed),
        around=sum(bay.wide for bay in bays),
        area=sum(bay.wide * (bay.left + bay.right) / 2 for bay in bays),
        highest=max(max(bay.left, bay.right) for bay in bays),
        buried=buried,
    )
