"""Hub types: hubs that are made alike, by valence and spoke angles up to rotation."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from strutwright.parts.choices import PartChoices
from strutwright.parts.cluster import NUMERIC_ANGLE, complete_groups, same_rows
from strutwright.parts.values import HubType, StrutType
from strutwright.shape.measure import SpokeTable
from strutwright.values import Floats, Indices

__all__ = ["HubSorting", "sort_hubs"]

TIE = 1e-4
"""Weight of the dip when spokes are put in order: a brace under a strut has its azimuth, and
rounding must not decide which of them comes first."""
MOST_DISTANCES = 2_000_000
"""Entries of one block of distances: bounds memory, changes nothing else."""


@dataclass(frozen=True)
class HubSorting:
    """The hub types and how each hub is turned onto its type.

    Parameters
    ----------
    types : tuple of HubType
    type_of : (H,) int array
    socket_start : (H + 1,) int array
    socket_struts : (2 S,) int array
        Strut ids at each hub in the order of its type's spokes.
    is_mirrored : (H,) bool array
    """

    types: tuple[HubType, ...]
    type_of: Indices
    socket_start: Indices
    socket_struts: Indices
    is_mirrored: Indices


@dataclass(frozen=True)
class _Fans:
    """Hubs of one valence: (n,) hubs; (n, V) struts, gaps to the next spoke and dips."""

    hubs: Indices
    struts: Indices
    gaps: Floats
    dips: Floats


def sort_hubs(
    table: SpokeTable,
    strut_type_of: Indices,
    strut_types: tuple[StrutType, ...],
    choices: PartChoices,
) -> HubSorting:
    """Return the hub types of a shell with the spokes `table`.

    First hubs that differ by rounding alone are put together, then groups within the angle
    tolerance, none of which spans more than it. Neither depends on how the shell is turned or
    numbered. Where the connector is not handed, a hub and its mirror image are one type.
    """
    n_hubs = len(table.first) - 1
    struts = np.empty(len(table.strut), dtype=np.int64)
    mirrored = np.zeros(n_hubs, dtype=bool)
    found: list[tuple[int, Indices, Floats]] = []
    for fans in _fans(table):
        group = _group(fans, choices)
        for one in range(int(group.max()) + 1):
            mine = np.flatnonzero(group == one)
            part = _Fans(fans.hubs[mine], fans.struts[mine], fans.gaps[mine], fans.dips[mine])
            spokes, order, turned = _align(part, strut_type_of, choices)
            rows = table.first[part.hubs][:, None] + np.arange(fans.gaps.shape[1])
            struts[rows] = order
            mirrored[part.hubs] = turned
            found.append((fans.gaps.shape[1], part.hubs, spokes))
    found.sort(key=lambda item: (-item[0], -len(item[1]), item[1][0]))
    type_of = np.empty(n_hubs, dtype=np.int64)
    types = []
    for index, (valence, hubs, spokes) in enumerate(found):
        type_of[hubs] = index
        sockets = strut_type_of[struts[table.first[hubs][:, None] + np.arange(valence)]]
        names = tuple(
            "/".join(strut_types[kind].label for kind in np.unique(column)) for column in sockets.T
        )
        types.append(HubType(f"H{index + 1}", valence, len(hubs), hubs, spokes, names))
    return HubSorting(tuple(types), type_of, table.first, struts, mirrored)


def _fans(table: SpokeTable) -> list[_Fans]:
    """Return the hubs by valence, spokes in an order that rounding cannot change."""
    valence = np.diff(table.first)
    hub = np.repeat(np.arange(len(valence)), valence)
    key = np.mod(table.azimuth - TIE * table.dip, 2 * np.pi)
    order = np.lexsort((key, hub))
    strut, azimuth, dip = table.strut[order], table.azimuth[order], table.dip[order]
    fans = []
    for spokes in np.unique(valence):
        hubs = np.flatnonzero(valence == spokes)
        rows = table.first[hubs][:, None] + np.arange(spokes)
        ahead = np.roll(azimuth[rows], -1, axis=1) - azimuth[rows]
        gaps = np.mod(ahead + TIE, 2 * np.pi) - TIE
        fans.append(_Fans(hubs, strut[rows], gaps, dip[rows]))
    return fans


def _turns(gaps: Floats, dips: Floats, *, mirrored: bool) -> tuple[Floats, Floats, Indices]:
    """Return gaps and dips (..., C, V) in all C orders a fan may be read, and their (C, V) spokes.

    First the V rotations; then, where wanted, the V rotations of the mirror image.
    """
    v = gaps.shape[-1]
    turn = (np.arange(v)[:, None] + np.arange(v)) % v
    if not mirrored:
        return gaps[..., turn], dips[..., turn], turn
    back = (np.arange(v)[:, None] - np.arange(v)) % v
    # read backwards, the gap after a spoke is the one before it
    both_gaps = np.concatenate([gaps[..., turn], gaps[..., (back - 1) % v]], axis=-2)
    spokes = np.concatenate([turn, back])
    return both_gaps, dips[..., spokes], spokes


def _distances(fans: _Fans, one: int, among: Indices, *, mirrored: bool) -> Floats:
    """Return the (n, C) largest differences of angle between fan `one` read each way and others."""
    gaps, dips, _ = _turns(fans.gaps[one], fans.dips[one], mirrored=mirrored)
    apart = np.abs(fans.gaps[among, None] - gaps).max(axis=2)
    return np.asarray(np.maximum(apart, np.abs(fans.dips[among, None] - dips).max(axis=2)))


def _group(fans: _Fans, choices: PartChoices) -> Indices:
    """Return the type number of each hub of `fans`."""
    free = not choices.connector.is_handed
    sorted_angles = np.concatenate([np.sort(fans.gaps, 1), np.sort(fans.dips, 1)], axis=1)
    alike = same_rows(sorted_angles, NUMERIC_ANGLE)
    copies = np.full(len(fans.hubs), -1)
    leaders: list[int] = []
    order = np.argsort(alike, kind="stable")
    for some in np.split(order, np.cumsum(np.bincount(alike))[:-1]):
        left = some
        while len(left):
            near = _distances(fans, left[0], left, mirrored=free).min(axis=1) < 10 * NUMERIC_ANGLE
            copies[left[near]] = len(leaders)
            leaders.append(int(left[0]))
            left = left[~near]
    chosen = np.array(leaders)
    apart = np.stack([_distances(fans, k, chosen, mirrored=free).min(axis=1) for k in leaders])
    apart = np.minimum(apart, apart.T)
    np.fill_diagonal(apart, 0.0)
    return np.asarray(complete_groups(apart, choices.angle_tolerance)[copies])


def _align(
    fans: _Fans, strut_type_of: Indices, choices: PartChoices
) -> tuple[Floats, Indices, Indices]:
    """Return the type's (V, 2) spokes, each hub's (n, V) struts in that order, who is mirrored.

    The type is read from the spoke with the first label; a hub that fits in several ways is
    turned so that its labels agree with the type's.
    """
    free = not choices.connector.is_handed
    v = fans.gaps.shape[1]
    labels = strut_type_of[fans.struts]
    start = min(range(v), key=lambda k: tuple(np.roll(labels[0], -k)))
    gaps, dips = np.roll(fans.gaps[0], -start), np.roll(fans.dips[0], -start)
    wanted = np.roll(labels[0], -start)
    every_gap, every_dip, spokes = _turns(fans.gaps, fans.dips, mirrored=free)
    apart = np.maximum(np.abs(every_gap - gaps).max(axis=2), np.abs(every_dip - dips).max(axis=2))
    best = apart.min(axis=1, keepdims=True)
    fits = apart <= np.maximum(best + 10 * NUMERIC_ANGLE, choices.angle_tolerance)
    differing = (labels[:, spokes] != wanted).sum(axis=2)
    choice = np.where(fits, differing, v + 1).argmin(axis=1)
    order = np.take_along_axis(fans.struts, spokes[choice], axis=1)
    azimuth = np.concatenate([[0.0], np.cumsum(gaps)[:-1]])
    return np.stack([azimuth, dips], axis=1), order, choice >= v
