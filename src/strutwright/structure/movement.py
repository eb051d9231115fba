"""How a kit that does not stand moves, in words of the shell, and what would hold it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.catalogue import Source
from strutwright.errors import ResultError
from strutwright.frame import MechanismError, factor, softest_movements
from strutwright.frame.model import Flags
from strutwright.sentences import note, sentence
from strutwright.shape import Shell
from strutwright.shape.measure import node_lengths
from strutwright.shape.rigidity import NO_STIFFNESS, count_mechanisms, length_jacobian
from strutwright.shape.riser import feet_of
from strutwright.structure.check import Check, Subject
from strutwright.structure.model import Model
from strutwright.values import ArrayValue, Floats, Indices, Note

__all__ = [
    "Movement",
    "extra_struts",
    "free_movement",
    "mechanism_check",
    "movement_words",
    "soft_movement",
]

SOURCE: Final = Source("equilibrium of the kit with its joints", how="computed")
FEW: Final = 4
"""Hubs up to which a movement counts as that of single hubs, not of the shell."""
SOFT: Final = 1e-5
"""Stiffness of a movement over the mean E A/L of the struts below which the reader is told.

Our choice: what struts resist by axial force is above 1e-3, a bolt's friction below 1e-6.
"""
FLAT: Final = 1e-3
"""Sine of the largest angle at which struts of a hub count as lying in one plane."""
LONGEST: Final = 1.6
"""Extra strut that is proposed, at most, as a multiple of the longest strut of the shell."""


@dataclass(frozen=True, eq=False)
class Movement(ArrayValue):
    """A movement of the hubs that nothing, or almost nothing, resists.

    Parameters
    ----------
    mode : (H, 3) array
        Its shape.
    words : str
        What it does, in words of the shell.
    """

    mode: Floats
    words: str


def free_movement(shell: Shell, error: ResultError) -> Movement | None:
    """Return the movement behind a mechanism error; None where no hub moves or none is known."""
    if not isinstance(error, MechanismError):
        return None
    mode = error.mode[: len(shell.hubs), :3]
    return Movement(mode, movement_words(shell, mode)) if np.abs(mode).max() > 0.0 else None


def mechanism_check(shell: Shell, error: ResultError, *, joints: str) -> Check:
    """Return the failed check of a kit that can move without resistance.

    Parameters
    ----------
    joints : str
        What stiffer joints would do, as a sentence part, or empty.
    """
    mode = error.mode[: len(shell.hubs), :3] if isinstance(error, MechanismError) else None
    said = f"{error.what} ({error.where})" if mode is None else movement_words(shell, mode)
    struts = extra_struts(shell)
    mends = [
        "a strut more from " + ", ".join(f"hub {i} to hub {j}" for i, j in struts)
        if struts
        else "",
        joints,
    ]
    mend = "; or ".join(text for text in mends if text) or error.mend
    first = [] if mode is None else _movers(mode)[:1].tolist()
    subject = Subject("hub", first[0]) if first else Subject("shell")
    return Check.made(
        "mechanism", subject, 1.0, 0.0, unit="-", source=SOURCE, note=f"{said}; mend: {mend}"
    )


def movement_words(shell: Shell, mode: Floats) -> str:
    """Return a movement of the hubs (H, 3) in words of the shell."""
    movers = _movers(mode)
    if len(movers) == 0:
        return sentence("moves.turns")
    if len(movers) <= FEW:
        return sentence("joined", all=tuple(_hub_words(shell, int(h), mode) for h in movers))
    feet = feet_of(shell)
    moved = np.linalg.norm(mode[feet, :2], axis=1)
    largest = np.linalg.norm(mode, axis=1).max()
    if len(feet) and moved.max() > 0.3 * largest:
        return _base_words(shell, mode, feet, moved)
    mean = mode[movers].mean(axis=0)
    if np.linalg.norm(mean[:2]) > 0.6 * largest:
        return sentence("moves.sways", hubs=len(movers))
    crown = int(np.argmax(shell.hubs[:, 2]))
    if mode[crown, 2] < -0.3 * largest or mode[crown, 2] > 0.3 * largest:
        return sentence("moves.crown", hub=crown, others=len(movers) - 1)
    return sentence("moves.racks", hubs=len(movers), hub=int(movers[0]))


def _movers(mode: Floats) -> Indices:
    size = np.linalg.norm(mode, axis=1)
    if size.max() <= 0:
        return np.empty(0, dtype=np.int64)
    order = np.argsort(-size, kind="stable")
    return np.asarray(order[size[order] >= 0.3 * size.max()])


def _base_words(shell: Shell, mode: Floats, feet: Indices, moved: Floats) -> str:
    at = shell.hubs[feet, :2]
    middle = shell.hubs[:, :2].mean(axis=0)
    outward = (mode[feet, :2] * (at - middle)).sum(axis=1)
    most = int(np.argmax(moved))
    same_way = np.linalg.norm(mode[feet, :2].sum(axis=0)) > 0.6 * moved.sum()
    if same_way:
        return sentence("moves.base-slides")
    if shell.recipe.family != "dome":
        half = np.ptp(shell.hubs[:, 0]) / 2
        if abs(at[most, 0] - middle[0]) < 0.5 * half and outward[most] != 0:
            return sentence("moves.base-middle")
    return sentence("moves.base-hub", hub=int(feet[most]))


def _hub_words(shell: Shell, hub: int, mode: Floats) -> str:
    ends = shell.struts[(shell.struts == hub).any(axis=1)]
    other = np.where(ends[:, 0] == hub, ends[:, 1], ends[:, 0])
    along = shell.hubs[other] - shell.hubs[hub]
    along /= np.linalg.norm(along, axis=1)[:, None]
    flat = np.linalg.svd(along, compute_uv=False)[-1] < FLAT if len(along) > 2 else True
    parts = [name.split(".")[1] for name, hubs in shell.groups.items()
             if name.startswith("hubs.") and name.endswith(".frame") and hub in hubs]  # fmt: skip
    why = sentence("moves.flat" if flat else "moves.unheld", struts=len(other))
    up = abs(mode[hub, 2]) > 0.9 * np.linalg.norm(mode[hub])
    key = "moves.hub-up" if up else "moves.hub-side"
    if parts:
        return sentence(f"{key}.frame", hub=hub, name=parts[0], why=why)
    return sentence(key, hub=hub, why=why)


def extra_struts(shell: Shell, most: int = 4) -> tuple[tuple[int, int], ...]:
    """Return struts that would hold every hub of the pin-jointed shell, or none.

    Each is the shortest of those that take a mechanism away and are not much longer than the
    longest strut, tried by the rank of the length derivative; at most `most` of them.
    """
    fixed = np.zeros((len(shell.hubs), 3), dtype=bool)
    fixed[feet_of(shell)] = True
    struts = shell.struts
    left = count_mechanisms(shell.hubs, struts, fixed).mechanisms
    found: list[tuple[int, int]] = []
    if left > most:
        return ()
    while left:
        better = _one_more(shell, struts, fixed, left)
        if better is None:
            return ()
        found.append(better)
        struts = np.vstack([struts, [better]])
        left -= 1
    return tuple(found)


def _one_more(shell: Shell, struts: Indices, fixed: Flags, left: int) -> tuple[int, int] | None:
    """Return the shortest strut that takes one of `left` mechanisms away."""
    reach = LONGEST * float(node_lengths(shell).max())
    known = {tuple(sorted(row)) for row in struts.tolist()}
    for hub in _loose_hubs(shell, struts, fixed):
        far = np.linalg.norm(shell.hubs - shell.hubs[hub], axis=1)
        for other in np.argsort(far, kind="stable"):
            two = tuple(sorted((int(hub), int(other))))
            barred = two in known or _across_opening(shell, *two)
            if other == hub or barred or far[other] > reach:
                continue
            more = np.vstack([struts, [two]])
            if count_mechanisms(shell.hubs, more, fixed).mechanisms < left:
                return two[0], two[1]
    return None


def _across_opening(shell: Shell, i: int, j: int) -> bool:
    """Return whether a strut between two hubs would bar an opening: both are of its frame."""
    frames = [
        set(hubs.tolist())
        for name, hubs in shell.groups.items()
        if name.startswith("hubs.") and name.endswith(".frame")
    ]
    return any(i in frame and j in frame for frame in frames)


def _loose_hubs(shell: Shell, struts: Indices, fixed: Flags) -> list[int]:
    """Return the hubs that move most in the mechanisms of the pin-jointed shell."""
    free = np.flatnonzero(~fixed.ravel())
    table = length_jacobian(shell.hubs, struts).tocsc()[:, free].toarray()
    _, sizes, ways = np.linalg.svd(table)
    rank = int((sizes > NO_STIFFNESS * sizes[0]).sum())
    moved = np.zeros(fixed.size)
    moved[free] = (ways[rank:] ** 2).sum(axis=0)
    by_hub = moved.reshape(-1, 3).sum(axis=1)
    order = np.argsort(-by_hub, kind="stable")
    return [int(k) for k in order[by_hub[order] > 0.1 * by_hub.max()]]


def soft_movement(shell: Shell, model: Model) -> tuple[Movement | None, tuple[Note, ...]]:
    """Return a movement that almost nothing resists, a near-mechanism, and the note on it."""
    try:
        (softest,) = softest_movements(factor(model.frame), 1)
    except ResultError:
        return None, ()
    if softest.ratio >= SOFT:
        return None, ()
    mode = softest.mode[: len(shell.hubs), :3]
    moving = Movement(mode, movement_words(shell, mode))
    return moving, (note("near-mechanism", words=moving.words, ratio=softest.ratio),)
