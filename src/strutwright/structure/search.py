"""The largest load that still passes, for many searches at once."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from strutwright.frame.model import Flags
from strutwright.values import Floats, Indices

__all__ = ["CLOSE", "chord", "largest_passing"]

CLOSE: Final = 1e-4
"""Share by which a load found may be too small; it is never too large."""
ROUNDS: Final = 60
"""Most rounds of a search. Illinois steps need some six; halving alone would need twenty."""

Usage = Callable[[Indices, Floats], Floats]


def largest_passing(usage: Usage, start: Floats, most: float) -> Floats:
    """Return the (B,) largest loads under which the utilisation stays at 1 or below.

    Utilisation is taken to grow with the load once it grows: it is convex in a load that is
    added to others, for sums of stresses and for struts that buckle alike. Where it is above 1
    without the load, the answer is 0.

    Parameters
    ----------
    usage : callable
        Utilisations (b,) of the searches (b,) under loads (b,).
    start : (B,) array
        Where to look first, above 0.
    most : float
        No load is tried above it.

    Examples
    --------
    >>> largest_passing(lambda rows, load: load / 250.0, np.array([1.0]), 1e6).round(1)
    array([250.])
    """
    rows = np.arange(len(start))
    low, high = np.zeros(len(start)), np.minimum(start, most)
    u_low, u_high = np.array(usage(rows, low)), np.array(usage(rows, high))
    done = u_low > 1.0
    for _ in range(ROUNDS):  # outward, until the load is too much
        short = np.flatnonzero(~done & (u_high <= 1.0) & (high < most))
        if not len(short):
            break
        low[short], u_low[short] = high[short], u_high[short]
        high[short] = np.minimum(4.0 * high[short], most)
        u_high[short] = usage(short, high[short])
    held = ~done & (u_high <= 1.0)
    low[held], done = high[held], done | held
    return _closed_in(usage, (low, high), (u_low, u_high), ~done)


def chord(still: Floats, used: Floats) -> Floats:
    """Return the share of a load at which the chord between utilisations reaches 1, at most 1.

    The chord from `still`, without the load, to `used`, with all of it, lies above a utilisation
    that grows ever faster: the share is on the safe side.
    """
    rest = np.maximum(1.0 - still, 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.where(np.isfinite(used), rest / (used - still), 0.0)
    return np.where((used > 1.0) & (used > still), share, np.where(still > 1.0, 0.0, 1.0))


def _closed_in(
    usage: Usage, ends: tuple[Floats, Floats], used: tuple[Floats, Floats], open_: Flags
) -> Floats:
    """Return the lower ends of brackets closed in to `CLOSE`, by the Illinois rule."""
    (low, high), (f_low, f_high) = ends, (used[0] - 1.0, used[1] - 1.0)
    side = np.zeros(len(low), dtype=int)
    for round_ in range(ROUNDS):
        todo = np.flatnonzero(open_ & (high - low > CLOSE * high))
        if not len(todo):
            break
        a, b, fa, fb = low[todo], high[todo], f_low[todo], f_high[todo]
        share = np.where(np.isfinite(fb) & (fb > fa), -fa / np.where(fb > fa, fb - fa, 1.0), 0.5)
        share = np.clip(share, 0.5 * CLOSE, 1.0 - 0.5 * CLOSE)
        if round_ % 3 == 2:
            share[:] = 0.5
        middle = a + share * (b - a)
        f = usage(todo, middle) - 1.0
        up = f <= 0.0
        low[todo[up]], f_low[todo[up]] = middle[up], f[up]
        high[todo[~up]], f_high[todo[~up]] = middle[~up], f[~up]
        f_high[todo[up & (side[todo] == 1)]] *= 0.5
        f_low[todo[~up & (side[todo] == -1)]] *= 0.5
        side[todo] = np.where(up, 1, -1)
    return low
