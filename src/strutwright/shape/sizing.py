"""Sizes of a shape that scales as one: from any sufficient set of wishes to its radius.

``width``, ``rise`` and ``floor_area`` fix the size; ``longest_strut`` is a bound from above and
``headroom`` one from below, and each fixes the size where nothing else does. Headroom is the
height that the shell reaches over at least half of its floor.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.optimize import brentq

from strutwright.errors import InputError
from strutwright.sentences import note, sentence, told
from strutwright.shape.measure import floor_area, headroom_area, node_lengths, width
from strutwright.shape.shell import Shell
from strutwright.values import Note

__all__ = ["AGREE", "Sizes", "check_sizes", "measure_sizes", "scale_for"]

AGREE: Final = 0.005
"""Two given sizes agree when they differ by at most this share: our choice, as briefs are rounded
to the centimetre or the half inch."""
NAMES: Final = {
    "width": 1,
    "floor_area": 2,
    "rise": 1,
    "longest_strut": 1,
    "headroom": 1,
}
"""Each size and the power of the radius with which it grows, in order of precedence."""


@dataclass(frozen=True)
class Sizes:
    """Sizes wished for or found, SI; None where not given.

    Parameters
    ----------
    width, rise, longest_strut, headroom : float or None, m
    floor_area : float or None, m²
    freedom : float
        Share by which the size may move.
    width_range : (float, float) or None, m
        The width may lie between these two instead.
    """

    width: float | None = None
    rise: float | None = None
    floor_area: float | None = None
    longest_strut: float | None = None
    headroom: float | None = None
    freedom: float = 0.0
    width_range: tuple[float, float] | None = None


def measure_sizes(shell: Shell, *, headroom: bool = True) -> Sizes:
    """Return the sizes of `shell`; the headroom, which takes a search, only on demand."""
    rise = float(shell.hubs[:, 2].max())
    floor = floor_area(shell)
    clear = None
    if headroom:
        # exact area of a level cut at each trial height; to a micrometre per metre
        clear = float(
            brentq(lambda h: headroom_area(shell, h) - floor / 2, 0.0, rise, xtol=1e-6 * rise)
        )
    return Sizes(width(shell), rise, floor, float(node_lengths(shell).max()), clear)


def scale_for(
    wish: Sizes,
    found: Sizes,
    *,
    scale_rise: bool = False,
    cuts: Sequence[tuple[int, float]] = (),
) -> tuple[float, float, tuple[Note, ...]]:
    """Return the factors, in plan and in height, that bring a shape of sizes `found` to `wish`.

    Parameters
    ----------
    wish, found : Sizes
        What is asked for, and what the shape has now.
    scale_rise : bool
        Whether height may be scaled apart from the plan to reach the rise.
    cuts : sequence of (int, float)
        Courses kept and rise over width of the other cuts of the same sphere, for the mend.

    Raises
    ------
    InputError
        ``size-missing``: nothing is given. ``size-not-positive``: a size is not above zero.
        ``size-contradiction``: two given sizes disagree.
    """
    given = _given(wish)
    fixed: list[str] = [name for name in ("width", "floor_area", "rise") if name in given]
    leading = [*fixed, *given][0]
    factor = _factor(leading, given[leading], found)
    low, high = _room(wish, found, leading, factor)
    tall = 1.0
    for name in fixed[1:]:
        wanted = _factor(name, given[name], found)
        if name == "rise" and scale_rise:
            tall = wanted / factor
        elif not low * (1 - AGREE) <= wanted <= high * (1 + AGREE):
            raise _contradiction((leading, name), given, found, factor, _nearest(name, wish, cuts))
    notes: tuple[Note, ...] = ()
    for name, bound in (("longest_strut", min), ("headroom", max)):
        if name not in given or name == leading or tall != 1.0:
            continue
        limit = _factor(name, given[name], found)
        if bound(factor, limit) == factor:
            continue
        if not low <= limit <= high:
            raise _contradiction((leading, name), given, found, factor, "")
        bound_said = sentence(f"size-said.{name}", x=given[name])
        notes += (note("size-moved", bound=bound_said, by=limit / factor - 1),)
        factor = limit
    return factor, factor * tall, notes


def check_sizes(wish: Sizes, found: Sizes) -> None:
    """Raise InputError ``size-contradiction`` when a bound of `wish` is broken by `found`.

    For shapes whose height was scaled, where struts and headroom do not grow as one.
    """
    for name, sign in (("longest_strut", 1), ("headroom", -1)):
        limit, value = getattr(wish, name), getattr(found, name)
        if limit is None or value is None:
            continue
        if sign * (value - limit) > 1e-9 * limit:
            what = f"the size wanted gives {_say(name, value)}, but {_say(name, limit)} is given"
            mend = "give one of the sizes up, or take another division or cut"
            raise InputError("size-contradiction", what, f"size.{name}", mend)


def _given(wish: Sizes) -> dict[str, float]:
    given = {name: getattr(wish, name) for name in NAMES if getattr(wish, name) is not None}
    for name, value in given.items():
        if not (np.isfinite(value) and value > 0):
            what = f"{name} {value} is not above zero"
            raise InputError("size-not-positive", what, f"size.{name}", "give a size above zero")
    if not given:
        mend = f"give one of {', '.join(NAMES)}"
        raise InputError("size-missing", "no size is given", "size", mend)
    return given


def _factor(name: str, value: float, found: Sizes) -> float:
    return float((value / getattr(found, name)) ** (1 / NAMES[name]))


def _room(wish: Sizes, found: Sizes, leading: str, factor: float) -> tuple[float, float]:
    """Return the least and greatest factor that the freedom allows."""
    if wish.width_range is not None and found.width is not None:
        low, high = (edge / found.width for edge in wish.width_range)
        return low, high
    power = NAMES[leading]
    return factor * (1 - wish.freedom) ** (1 / power), factor * (1 + wish.freedom) ** (1 / power)


def _say(name: str, value: float) -> str:
    return told(sentence(f"size-said.{name}", x=value), system="both")


def _contradiction(
    names: tuple[str, str], given: dict[str, float], found: Sizes, factor: float, mend: str
) -> InputError:
    leading, name = names
    gives = getattr(found, name) * factor ** NAMES[name]
    word = {"longest_strut": "at most ", "headroom": "at least "}.get(name, "")
    what = (
        f"{_say(leading, given[leading])} gives {_say(name, gives)}, "
        f"but {word}{_say(name, given[name])} is given"
    )
    mend = mend or f"give {leading} or {name} up, allow freedom, or take another division or cut"
    return InputError("size-contradiction", what, f"size.{name}", mend)


def _nearest(name: str, wish: Sizes, cuts: Sequence[tuple[int, float]]) -> str:
    """Return the mend that names the cuts whose rise over width comes nearest."""
    if name != "rise" or not cuts or not wish.width or not wish.rise:
        return ""
    ratio = wish.rise / wish.width
    near = sorted(cuts, key=lambda cut: abs(cut[1] - ratio))[:2]
    said = " and ".join(f"truncation = {k} ({_say('rise', r * wish.width)})" for k, r in near)
    return f"the nearest cuts at this width are {said}; or set scale_rise = true"
