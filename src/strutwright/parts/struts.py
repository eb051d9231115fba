"""Strut types: struts that are sawn alike, by cut length, role and end bevels."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from strutwright.errors import InputError, Problem
from strutwright.parts.choices import PartChoices
from strutwright.parts.cluster import NUMERIC_ANGLE, NUMERIC_LENGTH, chained_groups, interval_groups
from strutwright.parts.labels import band_patterns, label
from strutwright.parts.split import n_pieces, split
from strutwright.parts.values import EndCut, StrutType
from strutwright.sentences import note, sentence
from strutwright.shape.measure import SpokeTable, dihedrals, node_lengths
from strutwright.shape.shell import ROLES, Shell
from strutwright.values import Floats, Indices, Note

__all__ = ["confusable_pairs", "end_angles", "strut_types"]

CONFUSABLE_LENGTH: Final = 10e-3
"""Types closer than this (m) are taken for one another on site; look at `CONFUSABLE_SHARE` too."""
CONFUSABLE_SHARE: Final = 0.015
"""The same as a share of the longer one: the larger of the two counts. Both our choice."""


def strut_types(
    shell: Shell, ends: Floats, table: SpokeTable, choices: PartChoices
) -> tuple[tuple[StrutType, ...], Indices]:
    """Return the strut types, longest first, and the (S,) index of each strut's type.

    Parameters
    ----------
    shell : Shell
    ends : (S, 2) array, m
        Joint allowances.
    table : SpokeTable
        Spokes of the shell's hubs.
    choices : PartChoices

    Raises
    ------
    InputError
        ``strut-too-short``: a cut length is below what the connector can be made on.
    """
    nodes = node_lengths(shell)
    cuts = nodes - ends.sum(axis=1)
    angles = end_angles(shell, table) if choices.stock.material.kind == "timber" else None
    group = _groups(shell, cuts, angles, choices)
    order = np.argsort(group, kind="stable")
    members = np.split(order, np.cumsum(np.bincount(group))[:-1])
    _check_lengths(members, nodes, cuts, choices)
    bands = band_patterns(len(members))
    types = []
    for index, some in enumerate(members):
        cut, name = _middle(cuts[some]), label(index)
        role = str(shell.role[some[0]])
        n = n_pieces(cut, role, choices.longest_piece)
        pieces, couplers = split(name, cut, len(some), n)
        types.append(
            StrutType(
                label=name,
                node_length=_middle(nodes[some]),
                cut_length=cut,
                quantity=len(some),
                struts=some,
                role=role,
                band=bands[index],
                pieces=pieces,
                coupler_at=couplers,
                end_cuts=() if angles is None else _end_cuts(angles[some]),
            )
        )
    return tuple(types), group


def _middle(values: Floats) -> float:
    return float(values.min() + values.max()) / 2


def _groups(shell: Shell, cuts: Floats, angles: Floats | None, choices: PartChoices) -> Indices:
    """Return the type of each strut: types run from the longest down, then by role and bevel."""
    role = np.array([ROLES.index(name) for name in shell.role.tolist()])
    kinds = [role]
    if angles is not None:
        kinds += [_angle_groups(column, choices.angle_tolerance) for column in angles.T]
    _, kind = np.unique(np.stack(kinds, axis=1), axis=0, return_inverse=True)
    kind = kind.ravel()
    fine = np.zeros(len(cuts), dtype=np.int64)
    for one in range(int(kind.max()) + 1):
        mine = kind == one
        if choices.measured_span:
            gap, span = 2 * choices.length_tolerance, choices.measured_span
            fine[mine] = chained_groups(cuts[mine], gap, span)
        else:
            fine[mine] = interval_groups(cuts[mine], choices.length_tolerance, NUMERIC_LENGTH)
    keys, group = np.unique(np.stack([kind, fine], axis=1), axis=0, return_inverse=True)
    group = group.ravel()
    longest = np.full(len(keys), -np.inf)
    np.maximum.at(longest, group, cuts)
    # lengths that differ by rounding alone must not swap labels: order by numeric level first
    level = interval_groups(longest, 0.0, NUMERIC_LENGTH)
    place = np.empty(len(keys), dtype=np.int64)
    place[np.lexsort((keys[:, 1], keys[:, 0], level))] = np.arange(len(keys))
    return np.asarray(place[group])


def _angle_groups(column: Floats, tolerance: float) -> Indices:
    """Return the group of each angle; those that are not there (nan) make a group of their own."""
    group = np.zeros(len(column), dtype=np.int64)
    there = ~np.isnan(column)
    if there.any():
        group[there] = 1 + interval_groups(column[there], tolerance, NUMERIC_ANGLE)
    return group


def end_angles(shell: Shell, table: SpokeTable) -> Floats:
    """Return the (S, 3) angles of the saw cuts of each strut, rad.

    Lower and higher tilt of its two ends (the dips at its hubs), and the bevel of its outer
    edges: half the fold; nan where a strut does not lie between two faces.
    """
    dips = np.empty((len(shell.struts), 2))
    hub = np.repeat(np.arange(len(shell.hubs)), np.diff(table.first))
    dips[table.strut, (hub == shell.struts[table.strut, 1]).astype(int)] = table.dip
    bevel = (np.pi - dihedrals(shell)) / 2
    return np.concatenate([np.sort(dips, axis=1), bevel[:, None]], axis=1)


def _end_cuts(angles: Floats) -> tuple[EndCut, EndCut]:
    bevel = None if np.isnan(angles[0, 2]) else _middle(angles[:, 2])
    return EndCut(_middle(angles[:, 0]), bevel), EndCut(_middle(angles[:, 1]), bevel)


def _check_lengths(
    members: Sequence[Indices], nodes: Floats, cuts: Floats, choices: PartChoices
) -> None:
    connector, least = choices.connector, choices.connector.least_cut
    short = [(index, some) for index, some in enumerate(members) if cuts[some].min() < least]
    if short:
        raise InputError.of(
            Problem(
                "strut-too-short",
                f"cut length of type {label(index)} is {cuts[some].min() * 1000:.0f} mm (node "
                f"length {nodes[some].min() * 1000:.0f} mm), below the {least * 1000:.0f} mm that "
                f"{connector.id} needs",
                "hubs.connector",
                "lower the frequency, raise the width or take a smaller connector",
            )
            for index, some in short
        )


def confusable_pairs(
    types: Sequence[StrutType], tolerance: float
) -> tuple[tuple[tuple[str, str], ...], list[Note]]:
    """Return the pairs of labels that are easily taken for one another, and a note of them.

    Pairs closer than the larger of `CONFUSABLE_LENGTH` and `CONFUSABLE_SHARE` of the longer. Those
    no further apart than `tolerance` (m) that are sawn alike are not among them: they are told
    apart by their job alone, and either serves for the other; the note says so.
    """
    pairs, words, alike = [], [], []
    for index, longer in enumerate(types):
        bound = max(CONFUSABLE_LENGTH, CONFUSABLE_SHARE * longer.cut_length)
        for other in types[index + 1 :]:
            apart = longer.cut_length - other.cut_length
            if apart >= bound:
                break
            if apart <= tolerance and _sawn_alike(longer, other):
                alike.append(f"{longer.label}/{other.label}")
                continue
            pairs.append((longer.label, other.label))
            said = {"first": longer.label, "second": other.label, "apart": apart}
            words.append(sentence("types-confusable-pair", **said))
    notes = []
    if pairs:
        notes.append(note("types-confusable", pairs=tuple(words)))
    if alike:
        notes.append(note("types-alike", pairs=tuple(alike)))
    return tuple(pairs), notes


def _sawn_alike(one: StrutType, other: StrutType) -> bool:
    """Whether two types of one length have the same pieces and no end cuts to tell apart."""
    same_pieces = len(one.pieces) == len(other.pieces)
    return same_pieces and not one.end_cuts and not other.end_cuts
