"""Which doors and slots a shell can give, and what is said of one that it cannot."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.shape.corridor import Corridor
from strutwright.shape.measure import dihedrals, node_lengths
from strutwright.shape.shell import Shell

__all__ = [
    "HIGHEST_SHARE",
    "Door",
    "Slot",
    "endwise_slot",
    "is_endwise",
    "is_sound",
    "loose_slot",
    "no_fit",
    "way_of",
    "widest",
    "widest_door",
]

HIGHEST_SHARE: Final = 0.9
"""The hole of a door reaches at most this share of the rise: our choice, so that the crown
stays closed above it."""
WIDEST_SHARE: Final = 0.6
"""A door or slot takes at most this share of the width of the shell, in its long side too: our
choice, so that the shell on both sides still meets the ground at an angle that carries."""
ENDWISE: Final = np.cos(np.pi / 4)
"""An opening that faces within 45 degrees of the length of a vault is one of its end."""
HEAD_SPAN: Final = 1.5
"""The head of a door spans at most so many bays (of a dome: longest struts): our choice, a quarter
of a bay is then left to the next hub of the base row on both sides, and the head, which is one
strut, is not much longer than the others."""
DOUBLE_DOOR: Final = 2.0
"""m; a door up to this width may have a longer head than that in a fine shell: our choice."""
SHORT: Final = 0.12
"""No strut of an opening is shorter than this share of a usual one: our choice, between two hubs
there must be room for a strut."""
FOLDED: Final = np.radians(150)
"""Faces beside an opening fold inwards by less than this: our choice, beyond it one lies on the
other and no cover fits between them."""
TRIED: Final = 12
"""Sizes tried at even steps below the one asked for when the largest that fits is sought."""
HALVINGS: Final = 9
"""Halvings of a step after that: to 1 cm in any shell of a few metres."""


@dataclass(frozen=True)
class Door:
    """A door.

    Parameters
    ----------
    name : str
    width : float, m
        Between the centre lines of the jambs.
    height : float, m
        From the ground to the centre line of the head.
    azimuth : float, rad
        Direction it faces, anticlockwise from +x.
    riser : float, m
        Height of the base ring above the ground; the door passes through it.
    """

    name: str
    width: float
    height: float
    azimuth: float
    riser: float = 0.0


@dataclass(frozen=True)
class Slot:
    """A slot from the base to past the apex: clear width (m) and direction (rad)."""

    name: str
    width: float
    azimuth: float


def way_of(opening: Door | Slot) -> Corridor:
    """Return the way that `opening` keeps free."""
    if isinstance(opening, Slot):
        return Corridor(opening.azimuth, opening.width, np.inf, back=opening.width / 2)
    return Corridor(opening.azimuth, opening.width, opening.height - opening.riser)


def widest(shell: Shell, azimuth: float) -> float:
    """Return the width of the widest opening towards `azimuth` that leaves enough standing, m."""
    feet = shell.hubs[shell.base]
    across = Corridor(azimuth, 1.0, np.inf).local(feet)[:, 1]
    return WIDEST_SHARE * float(min(np.ptp(across), *np.ptp(feet[:, :2], axis=0)))


def head_span(shell: Shell) -> tuple[float, float]:
    """Return how far the head of a door may span, and the bay or strut it goes by, m."""
    bay = shell.recipe.settings.get("bay_length")
    step = float(node_lengths(shell).max()) if bay is None else float(bay)
    return max(DOUBLE_DOOR, HEAD_SPAN * step), step


def widest_door(shell: Shell, azimuth: float) -> float:
    """Return the width of the widest door towards `azimuth`, m, if its place has room for it."""
    return min(widest(shell, azimuth), head_span(shell)[0])


def is_sound(before: Shell, after: Shell) -> bool:
    """Return whether the opening in `after` left no stubs and no faces that lie on one another."""
    lengths = node_lengths(before)
    shortest = min(float(lengths.min()), SHORT * float(np.median(lengths)))
    if float(node_lengths(after).min()) < shortest * (1 - 1e-9):
        return False
    deepest = max(float(np.nanmax(dihedrals(before))), np.pi + FOLDED)
    return bool(np.nanmax(dihedrals(after)) <= deepest * (1 + 1e-9))


Make = Callable[[Shell, Door | Slot], Shell | None]


def no_fit(shell: Shell, opening: Door | Slot, make: Make) -> InputError:
    """Return the error for an opening that `make` cannot cut, with the largest that it can.

    Parameters
    ----------
    make : callable (shell, opening) -> Shell or None
        Cuts an opening just where it is asked for; None when it does not fit.
    """
    kind = type(opening).__name__.lower()
    width = _largest(lambda w: make(shell, replace(opening, width=w)), opening.width)
    asked = f"{opening.width:.2f} m wide"
    best = f"{width:.2f} m wide" if width else "none of any width"
    if isinstance(opening, Door):
        tall = _largest(lambda h: make(shell, replace(opening, height=h)), opening.height)
        asked += f" and {opening.height:.2f} m high"
        best = f"{best} at that height, or {tall:.2f} m high at that width" if tall else best
    what = f"a {kind} {asked} does not fit; the largest that does is {best}; "
    return InputError(
        "opening-does-not-fit",
        what + _limit(shell, opening),
        f"openings.{opening.name}",
        _mend(shell, opening),
    )


def is_endwise(shell: Shell, opening: Door | Slot) -> bool:
    """Return whether `opening` faces the end of a vault rather than its side."""
    return shell.recipe.family == "vault" and abs(np.cos(opening.azimuth)) > ENDWISE


def endwise_slot(slot: Slot) -> InputError:
    """Return the error for a slot towards the end of a vault."""
    return InputError(
        "opening-does-not-fit",
        f"a slot {slot.width:.2f} m wide towards the end of a vault would cut its end rib "
        "and the arch along half its length; the largest that does is none of any width",
        f"openings.{slot.name}",
        "let it face a long side, or take a long dome",
    )


def loose_slot(slot: Slot, left: int) -> InputError:
    """Return the error for a slot whose sides could move though no strut changes its length."""
    return InputError(
        "opening-does-not-fit",
        f"a slot {slot.width:.2f} m wide leaves {left} movements that no strut resists, and no "
        "post can stand where it would hold them",
        f"openings.{slot.name}",
        "make it narrower or wider by a quarter of a bay, or turn it to another direction",
    )


def _limit(shell: Shell, opening: Door | Slot) -> str:
    """Return in words what limits `opening`: a share of the width, the head, or a course."""
    said = ""
    share, (span, step) = widest(shell, opening.azimuth), head_span(shell)
    if isinstance(opening, Door) and share > span and opening.width > span:
        is_bay = shell.recipe.settings.get("bay_length") is not None
        what = f"a bay of {step:.2f} m" if is_bay else f"a strut of {step:.2f} m"
        said = f"{what} can give a head of {span:.2f} m; "
    elif opening.width > share:
        said = f"an opening takes at most {WIDEST_SHARE:.0%} of the shell, {share:.2f} m; "
    crown = shell.hubs[:, 2] > HIGHEST_SHARE * shell.hubs[:, 2].max()
    limit = int(shell.course[crown].min())
    if isinstance(opening, Slot):
        return said + f"it must leave course 0 standing on both sides up to course {limit}"
    return said + f"course {limit} and what is above it must stay closed"


def _mend(shell: Shell, opening: Door | Slot) -> str:
    if isinstance(opening, Door):
        return "make it smaller, raise the shell with [site] riser, or use a larger shell"
    if shell.recipe.family in {"long-dome", "vault"}:
        return "let it face a long side, make it narrower, or use a larger shell"
    return "make it narrower, turn it, or use a larger shell"


def _largest(make: Callable[[float], Shell | None], asked: float) -> float:
    """Return the largest size below `asked` that was found to fit, m, to 1 cm; 0 for none."""
    step = asked / TRIED
    for k in range(TRIED - 1, 0, -1):
        if make(k * step) is None:
            continue
        low, high = k * step, (k + 1) * step
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            low, high = (low, middle) if make(middle) is None else (middle, high)
        floor = float(np.floor(low * 100 + 1e-6) / 100)
        return floor if floor <= k * step or make(floor) is not None else k * step
    return 0.0
