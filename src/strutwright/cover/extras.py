"""Beside the pieces: one sheet draped over all, and the air between layers."""

from __future__ import annotations

import numpy as np

from strutwright.cover.surface import offset_points
from strutwright.cover.values import Drape, LayerFitting, LayerGap
from strutwright.shape import Shell
from strutwright.shape.measure import node_lengths
from strutwright.shape.surface import angle_deficits

__all__ = ["drape", "layer_fittings", "layer_gap"]


def drape(shell: Shell, hem: float) -> Drape:
    """Return the cover as one sheet: its size and the fullness to be folded away at each hub.

    The sheet reaches over the crown from base to base: along the surface, across the width and
    along the length, with a hem at both ends. The fold at a hub is its angle deficit times the
    mean length of its struts.
    """
    deficit = angle_deficits(shell)
    rim = np.isin(np.arange(len(shell.hubs)), shell.base)
    pleats = np.where(rim, 0.0, np.maximum(deficit, 0.0))
    lengths = node_lengths(shell)
    total, count = np.zeros(len(shell.hubs)), np.zeros(len(shell.hubs))
    for column in shell.struts.T:
        np.add.at(total, column, lengths)
        np.add.at(count, column, 1)
    folds = pleats * total / np.maximum(count, 1)
    across = _girth(shell, 1) + 2 * hem
    along = _girth(shell, 0) + 2 * hem
    return Drape(min(across, along), max(across, along), pleats, folds)


def _girth(shell: Shell, axis: int) -> float:
    """Return the longest way over the faces cut by planes square to the other plan axis, m.

    Seven planes through the middle half of the plan are tried.
    """
    other = 1 - axis
    points = shell.hubs[shell.faces]
    reach = float(np.abs(shell.hubs[:, other]).max())
    girths = []
    for at in np.linspace(-0.5, 0.5, 7) * reach + 1e-7 * shell.size:
        side = points[..., other] - at
        total = 0.0
        for k in range(3):
            i, j, m = k, (k + 1) % 3, (k + 2) % 3
            alone = (side[:, i] * side[:, j] < 0) & (side[:, i] * side[:, m] < 0)
            a, b, c = points[alone, i], points[alone, j], points[alone, m]
            s, t = (side[alone, i] / (side[alone, i] - side[alone, q]) for q in (j, m))
            p, q = a + s[:, None] * (b - a), a + t[:, None] * (c - a)
            total += float(np.linalg.norm(p - q, axis=1).sum())
        girths.append(total)
    return max(girths)


def layer_gap(shell: Shell, outer: float, inner: float) -> LayerGap:
    """Return the air between layers whose facing sides lie `outer` and `inner` m outside the hubs.

    Over flat faces and over struts, where both lie against the strut or its standoff, their
    distance; at a hub that of the points where the faces meet.
    """
    apart = offset_points(shell, outer) - offset_points(shell, inner)
    return LayerGap(np.linalg.norm(apart, axis=1), outer - inner, outer - inner)


def layer_fittings(shell: Shell, outer: float, inner: float) -> tuple[LayerFitting, ...]:
    """Return the spacers that hold both layers at the hubs, those alike to the millimetre together.

    Each goes through the hub's centre, square to the shell: as far out and in as the points where
    the faces of each layer meet there. The longest first.
    """
    above, below = (
        np.linalg.norm(offset_points(shell, at) - shell.hubs, axis=1) for at in (outer, inner)
    )
    covered = np.unique(shell.faces)
    groups: dict[tuple[int, int], list[int]] = {}
    for hub in covered.tolist():
        key = (int(np.rint(1000 * above[hub])), int(np.rint(1000 * below[hub])))
        groups.setdefault(key, []).append(hub)
    ordered = sorted(groups.items(), key=lambda item: (-sum(item[0]), item[0]))
    return tuple(
        LayerFitting(f"S{n}", (up + down) / 1000, up / 1000, down / 1000, len(hubs), np.array(hubs))
        for n, ((up, down), hubs) in enumerate(ordered, 1)
    )
