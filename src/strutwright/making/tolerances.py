"""What cut, hole and hub play do to the built shape: spread, closing gap, base ring, swaps.

Small errors of strut lengths move the hubs as the least-squares adjustment of the shell does:
struts are observations of length, pegs observations of the base. Linear propagation; `sampled`
does the same by solving the curved problem for random errors, to be held against it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import scipy.linalg

from strutwright.parts import Kit
from strutwright.sentences import note, sentence
from strutwright.shape import Shell
from strutwright.shape.measure import node_lengths
from strutwright.shape.rigidity import length_jacobian
from strutwright.values import ArrayValue, Floats, Indices, Note

__all__ = ["Craft", "Sampled", "Swap", "Tolerances", "sampled", "tolerances_of"]

NORMAL_95: Final = 1.959964
"""Two-sided 95 % quantile of the normal distribution."""
LOOSE: Final = 0.5
"""m, standard deviation of a hub that nothing holds: keeps a door's loose hub from being without
bound; our choice."""
HELD: Final = 0.02
"""Redundancy below which a strut that is placed last meets no gap: the shell gives; our choice."""
FREE: Final = 0.1
"""m, standard deviation from which lengths alone do not hold a hub; our choice."""
LARGEST: Final = 1000
"""Hubs beyond which the dense inverse takes too long."""
OUTSIDE: Final = ("leg", "tie")
"""Struts under the base ring: they do not shape the shell."""


@dataclass(frozen=True)
class Craft:
    """Standard deviations, m: sawing, play of one strut end, and one taped distance to a peg.

    `step` is what the workshop saws to, m.
    """

    cut: float
    play: float
    tape: float
    step: float | None = None

    @property
    def strut(self) -> float:
        """Return the standard deviation of a node length, m: one cut and the play of two ends."""
        return float(np.hypot(self.cut, np.sqrt(2) * self.play))


@dataclass(frozen=True)
class Swap:
    """Two types taken for one another: difference of length, farthest a hub then moves, m."""

    a: str
    b: str
    difference: float
    shift: float


@dataclass(frozen=True, eq=False)
class Tolerances(ArrayValue):
    """How well the built shell meets its drawing; 95 % values, m.

    Parameters
    ----------
    closing_gap : float
        Gap that the last strut at the crown meets, the worst of them, base held at its pegs.
    gap_of : (S,) array
        For every strut; nan where the shell gives way instead, and for legs and ties.
    ring_misfit : float or None
        How far a base hub lies from its peg when the shell is closed without pegs and then laid
        on them as well as it goes; None where lengths alone let it flex, as a door does.
    hub_spread : (H,) array
        How far each hub lies from its place, base held at its pegs; nan for the feet of legs and
        for hubs that lengths alone do not hold.
    rounding : float
        Farthest that a hub moves because every strut is sawn to the workshop's step.
    swaps : tuple of Swap
        Pairs of types that are easily confused.
    notes : tuple of Note
    """

    closing_gap: float
    gap_of: Floats
    ring_misfit: float | None
    hub_spread: Floats
    rounding: float
    swaps: tuple[Swap, ...]
    notes: tuple[Note, ...]


@dataclass(frozen=True, eq=False)
class Sampled(ArrayValue):
    """The same by sampling: 95 % spread (H,) m and gap (S,) m, nan as in `Tolerances`."""

    hub_spread: Floats
    gap_of: Floats


def tolerances_of(kit: Kit, craft: Craft) -> Tolerances | None:
    """Return how well the shell of `kit` closes; None beyond 1,000 hubs."""
    shell = kit.shell
    if len(shell.hubs) > LARGEST:
        return None
    net = _net(shell)
    on_pegs = _covariance(net, craft, pegs=True)
    gaps = _gaps(net, on_pegs, craft)
    spread = _spread(on_pegs, net, len(shell.hubs))
    move = _moves(net, on_pegs, craft)
    whole = np.full(len(shell.struts), np.nan)
    whole[net.struts] = gaps
    found = Tolerances(
        _last_gap(shell, whole), whole, _ring_misfit(net, craft), spread,
        _rounding(kit, net, move, craft), _swaps(kit, net, move), (),
    )  # fmt: skip
    loose = net.hubs[np.isnan(spread[net.hubs])]
    return replace(found, notes=(_sentence(found, craft, loose),))


@dataclass(frozen=True, eq=False)
class _Net(ArrayValue):
    """The struts that shape the shell, their derivative (s, 3h), and the base among the hubs."""

    struts: Indices
    hubs: Indices
    points: Floats
    ends: Indices
    base: Indices

    @property
    def slope(self) -> Floats:
        """Return the (s, 3h) change of each length with each movement."""
        dense: Floats = length_jacobian(self.points, self.ends).toarray()
        return dense


def _net(shell: Shell) -> _Net:
    struts = np.flatnonzero(~np.isin(shell.role, OUTSIDE))
    hubs = np.unique(np.concatenate([shell.struts[struts].ravel(), shell.base]))
    new = np.full(len(shell.hubs), -1)
    new[hubs] = np.arange(len(hubs))
    return _Net(struts, hubs, shell.hubs[hubs], new[shell.struts[struts]], new[shell.base])


def _covariance(net: _Net, craft: Craft, *, pegs: bool) -> Floats:
    """Return the (3h, 3h) covariance of the hubs, m2; without pegs the base is only level."""
    slope = net.slope
    weight = slope.T @ slope / craft.strut**2
    held = np.full(weight.shape[0], 1 / LOOSE**2)
    axes = (0, 1, 2) if pegs else (2,)
    for axis in axes:
        held[3 * net.base + axis] += 1 / craft.tape**2
    weight[np.diag_indices_from(weight)] += held
    factor = scipy.linalg.cho_factor(weight)
    covariance: Floats = scipy.linalg.cho_solve(factor, np.eye(len(weight)))
    return covariance


def _gaps(net: _Net, covariance: Floats, craft: Craft) -> Floats:
    """Return the 95 % gap that each strut meets when it is placed last.

    The residual of an observation left out has the variance s2 / r, with its redundancy number
    r = 1 - a C a^T / s2. Source: leave-one-out residuals of least squares, recalled.
    """
    slope = net.slope
    told = np.einsum("sk,kl,sl->s", slope, covariance, slope, optimize=True)
    redundancy = 1 - told / craft.strut**2
    with np.errstate(divide="ignore", invalid="ignore"):
        gap = NORMAL_95 * craft.strut / np.sqrt(redundancy)
    return np.where(redundancy > HELD, gap, np.nan)


def _last_gap(shell: Shell, gap_of: Floats) -> float:
    """Return the worst gap at the crown; where all of the crown gives way, a usual one."""
    top = np.flatnonzero(shell.course == shell.course.max())
    at_crown = gap_of[np.isin(shell.struts, top).any(axis=1)]
    if np.isfinite(at_crown).any():
        return float(np.nanmax(at_crown))
    return float(np.nanmedian(gap_of)) if np.isfinite(gap_of).any() else 0.0


def _spread(covariance: Floats, net: _Net, n_hubs: int) -> Floats:
    """Return the (H,) 95 % spread of each hub: 1.96 times the longest axis of its ellipsoid."""
    h = len(net.hubs)
    blocks = covariance.reshape(h, 3, h, 3)[np.arange(h), :, np.arange(h), :]
    spread = np.full(n_hubs, np.nan)
    spread[net.hubs] = NORMAL_95 * np.sqrt(np.linalg.eigvalsh(blocks)[:, -1])
    spread[spread > NORMAL_95 * FREE] = np.nan
    return spread


def _ring_misfit(net: _Net, craft: Craft) -> float | None:
    """Return the 95 % distance of the worst base hub from its peg after the best fit in plan."""
    free = _covariance(net, craft, pegs=False)
    at = (3 * net.base[:, None] + np.arange(2)).ravel()
    x, y = (net.points[net.base] - net.points[net.base].mean(axis=0))[:, :2].T
    n = len(net.base)
    rigid = np.zeros((2 * n, 3))
    rigid[0::2, 0], rigid[1::2, 1] = 1, 1
    rigid[0::2, 2], rigid[1::2, 2] = -y, x
    q, _ = np.linalg.qr(rigid)
    keep = np.eye(2 * n) - q @ q.T
    left = keep @ free[np.ix_(at, at)] @ keep
    blocks = left.reshape(n, 2, n, 2)[np.arange(n), :, np.arange(n), :]
    worst = float(np.sqrt(np.linalg.eigvalsh(blocks)[:, -1].max()))
    return NORMAL_95 * worst if worst < FREE else None


def _moves(net: _Net, covariance: Floats, craft: Craft) -> Floats:
    """Return the (3h, s) movement of the hubs for a metre more in each strut."""
    moved: Floats = covariance @ net.slope.T / craft.strut**2
    return moved


def _rounding(kit: Kit, net: _Net, move: Floats, craft: Craft) -> float:
    """Return the farthest that a hub moves because cuts are rounded to the step, m."""
    if not craft.step:
        return 0.0
    cut = np.array([kind.cut_length for kind in kit.strut_types])
    off = np.round(cut / craft.step) * craft.step - cut
    return _farthest(move @ off[kit.strut_type_of[net.struts]])


def _farthest(moved: Floats) -> float:
    return float(np.linalg.norm(moved.reshape(-1, 3), axis=1).max())


def _swaps(kit: Kit, net: _Net, move: Floats) -> tuple[Swap, ...]:
    """Return what the worst swap of each pair of confusable types does."""
    at = {kind.label: k for k, kind in enumerate(kit.strut_types)}
    type_of = kit.strut_type_of[net.struts]
    reach = np.linalg.norm(move.reshape(len(net.hubs), 3, -1), axis=1).max(axis=0)
    swaps = []
    for a, b in kit.confusable:
        difference = kit.strut_types[at[a]].node_length - kit.strut_types[at[b]].node_length
        one, other = reach[type_of == at[a]], reach[type_of == at[b]]
        if one.size and other.size:
            shift = abs(difference) * float(one.max() + other.max())
            swaps.append(Swap(a, b, abs(difference), shift))
    return tuple(swaps)


def _sentence(found: Tolerances, craft: Craft, loose: Indices) -> Note:
    ring = (
        sentence("tolerances-ring.joints")
        if found.ring_misfit is None
        else sentence("tolerances-ring.misfit", misfit=found.ring_misfit)
    )
    values = {
        "cut": NORMAL_95 * craft.cut,
        "play": NORMAL_95 * craft.play,
        "tape": NORMAL_95 * craft.tape,
        "gap": found.closing_gap,
        "spread": float(np.nanmax(found.hub_spread)),
        "rounding": found.rounding,
        "ring": ring,
    }
    if loose.size:
        return note("tolerances.loose", **values, hubs=tuple(loose.tolist()))
    return note("tolerances", **values)


def sampled(shell: Shell, craft: Craft, struts: Indices, *, n: int, seed: int) -> Sampled:
    """Return spread and gap by solving the curved problem for `n` shells with random errors.

    Parameters
    ----------
    struts : (k,) int array
        Struts whose gap is sampled: each shell is closed once without each of them.
    n : int
        Shells.
    seed : int
    """
    net, random = _net(shell), np.random.default_rng(seed)
    true = node_lengths(shell)[net.struts]
    place = {int(strut): row for row, strut in enumerate(net.struts)}
    off = np.zeros((n, len(net.hubs), 3))
    gaps = np.full((n, len(shell.struts)), np.nan)
    for k in range(n):
        lengths = true + random.normal(0, craft.strut, len(true))
        pegs = net.points[net.base] + random.normal(0, craft.tape, (len(net.base), 3))
        off[k] = _closed(net, lengths, pegs, craft) - net.points
        for strut in struts.tolist():
            row = place[strut]
            kept = np.delete(np.arange(len(true)), row)
            part = _Net(net.struts[kept], net.hubs, net.points, net.ends[kept], net.base)
            points = _closed(part, lengths[kept], pegs, craft)
            i, j = net.ends[row]
            gaps[k, strut] = lengths[row] - np.linalg.norm(points[j] - points[i])
    spread = np.full(len(shell.hubs), np.nan)
    covariance = np.einsum("nha,nhb->hab", off, off) / n
    spread[net.hubs] = NORMAL_95 * np.sqrt(np.linalg.eigvalsh(covariance)[:, -1])
    root = np.sqrt((gaps**2).mean(axis=0))
    return Sampled(spread, NORMAL_95 * root)


def _closed(net: _Net, lengths: Floats, pegs: Floats, craft: Craft) -> Floats:
    """Return the hubs (h, 3) that fit `lengths` and `pegs` best, by Gauss-Newton."""
    points = net.points.copy()
    base = (3 * net.base[:, None] + np.arange(3)).ravel()
    for _ in range(4):
        along = points[net.ends[:, 1]] - points[net.ends[:, 0]]
        slope = length_jacobian(points, net.ends).toarray() / craft.strut
        weight = slope.T @ slope
        right = slope.T @ ((lengths - np.linalg.norm(along, axis=1)) / craft.strut)
        weight[base, base] += 1 / craft.tape**2
        right[base] += (pegs - points[net.base]).ravel() / craft.tape**2
        weight[np.diag_indices_from(weight)] += 1 / LOOSE**2
        right += (net.points - points).ravel() / LOOSE**2
        points = points + scipy.linalg.solve(weight, right, assume_a="pos").reshape(-1, 3)
    return points
