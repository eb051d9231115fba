"""Where the base hubs go: pegs, distances, check diagonals, widths, and what each may be off by."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from strutwright.sentences import note
from strutwright.shape import Shell
from strutwright.site.tape import crossing_ellipse, skew_from_diagonals
from strutwright.values import Floats, Indices, Note

__all__ = ["Peg", "PegRow", "SettingOut", "Span", "set_out", "skew_of"]

ROUND: Final = 1e-6
"""A hub lies on the circle round the origin when it leaves it by less than this share."""
MOSTLY_ROUND: Final = 0.6
"""A base is round when at least this share of its hubs lies on one circle: our choice."""
SAME_PLACE: Final = 1e-6
"""Hubs lie opposite each other when they do so to within this share of the width."""
NARROW: Final = 0.1
"""Hubs nearer to the middle line than this share of the width face each other too closely for a
width to say anything: our choice."""
NORMAL_95: Final = 1.959964
"""Two-sided 95 % quantile of the normal distribution."""
WORST_CROSSING: Final = np.deg2rad(30)
"""Tapes that cross at less than this, or more than its complement to 180, place a peg badly.

Source: common practice, no source.
"""


@dataclass(frozen=True)
class Peg:
    """A peg that distances are taken from: its name, place (m) and the hub it stands at."""

    name: str
    x: float
    y: float
    hub: int | None = None


@dataclass(frozen=True)
class PegRow:
    """Where one base hub goes.

    Parameters
    ----------
    hub : int
    x, y : float, m
    a, b : str
        Pegs that it is taped from.
    from_a, from_b : float, m
        Level distances.
    crossing : float, rad
        Angle between the two tapes at the hub; 0 for a hub that is a peg.
    ellipse : (float, float, float)
        Semi-axes (m) and direction (rad) of the standard error ellipse.
    band : float, m
        A distance that is off by no more than this is good: what strut ends take up.
    """

    hub: int
    x: float
    y: float
    a: str
    b: str
    from_a: float
    from_b: float
    crossing: float
    ellipse: tuple[float, float, float]
    band: float


@dataclass(frozen=True)
class Span:
    """A distance between two base hubs that is checked: a diagonal, a width, or a ring strut."""

    kind: Literal["diagonal", "width", "ring"]
    i: int
    j: int
    length: float
    band: float


@dataclass(frozen=True)
class SettingOut:
    """The worksheet of a base ring.

    Parameters
    ----------
    pegs : tuple of Peg
        Two, or four at the corners of a rectangle round a long shell.
    frame : tuple of (peg, peg, m)
        Distances between the pegs, diagonals of the rectangle included.
    rows : tuple of PegRow
        Every base hub, in the order of the base ring.
    spans : tuple of Span
        Check diagonals, widths at every bay, and the struts of the ring.
    tape, play : float, m
        Standard deviation of a reading, and play of a strut end, that bands are made from.
    notes : tuple of Note
    """

    pegs: tuple[Peg, ...]
    frame: tuple[tuple[str, str, float], ...]
    rows: tuple[PegRow, ...]
    spans: tuple[Span, ...]
    tape: float
    play: float
    notes: tuple[Note, ...] = ()


def set_out(shell: Shell, ground: Indices, *, tape: float, play: float) -> SettingOut:
    """Return the setting out of the hubs that meet the ground.

    A round base is taped from two pegs on the ring at the ends of a diameter, from which every
    hub is seen at 90 degrees (Thales); another base from the corners of the rectangle round
    it, each hub from the two that place it best.

    Parameters
    ----------
    shell : Shell
    ground : (G,) int array
        Hubs that meet the ground, in order round the base.
    tape : float, m
        Standard deviation of one reading.
    play : float, m
        Play of a strut end in its hub.
    """
    at = shell.hubs[ground, :2]
    pegs = _pegs(at, ground)
    frame = tuple(
        (p.name, q.name, float(np.hypot(p.x - q.x, p.y - q.y)))
        for p, q in itertools.combinations(pegs, 2)
    )
    band = _band(1, tape, play)
    rows = tuple(_row(int(hub), at[k], pegs, tape, band) for k, hub in enumerate(ground))
    poor = [r.hub for r in rows if r.crossing and abs(np.sin(r.crossing)) < np.sin(WORST_CROSSING)]
    notes: tuple[Note, ...] = ()
    if poor:
        notes = (note("setting-out-flat-angle", hubs=tuple(poor)),)
    return SettingOut(pegs, frame, rows, _spans(at, ground, tape, play), tape, play, notes)


def skew_of(sheet: SettingOut, slide: float) -> float | None:
    """Return by how much the diagonals of the pegs differ when one long side slid by `slide`, m.

    None for a round base, which has no sides.
    """
    if len(sheet.pegs) < 4:
        return None
    first, second, third = (np.array([peg.x, peg.y]) for peg in sheet.pegs[:3])
    length, width = np.linalg.norm(second - first), np.linalg.norm(third - second)
    return skew_from_diagonals(float(length), float(width), slide)


def _band(n_struts: int, tape: float, play: float) -> float:
    """Return what a distance over `n_struts` struts may be off by, m.

    Each strut takes up the play of its two ends; over several struts these add as independent
    ones; a reading has its own 95 % band on top.
    """
    return float(2 * play * np.sqrt(n_struts) + NORMAL_95 * tape)


def _pegs(at: Floats, ground: Indices) -> tuple[Peg, ...]:
    start = _on_circle(at)
    if start is not None:
        far = -at[start]
        away = np.hypot(*(at - far).T)
        k = int(np.argmin(away))
        hub = int(ground[k]) if away[k] < SAME_PLACE * float(np.hypot(*far)) else None
        place = at[k] if hub is not None else far
        first = Peg("P", float(at[start, 0]), float(at[start, 1]), int(ground[start]))
        return (first, Peg("Q", float(place[0]), float(place[1]), hub))
    low, high = at.min(axis=0), at.max(axis=0)
    corners = ((low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1]))
    return tuple(
        Peg(name, float(x), float(y)) for name, (x, y) in zip("PQRS", corners, strict=True)
    )


def _on_circle(at: Floats) -> int | None:
    """Return the first hub on the circle round the origin; None where the base is not round.

    A few hubs may lie off it: those of a door stand on the line between two others.
    """
    away = np.hypot(*at.T)
    on = away > away.max() * (1 - ROUND)
    return int(np.argmax(on)) if on.mean() >= MOSTLY_ROUND else None


def _row(hub: int, at: Floats, pegs: tuple[Peg, ...], tape: float, band: float) -> PegRow:
    best: tuple[float, Peg, Peg, float] | None = None
    for p, q in itertools.combinations(pegs, 2):
        to_p, to_q = at - [p.x, p.y], at - [q.x, q.y]
        lengths = np.hypot(*to_p), np.hypot(*to_q)
        if min(lengths) < SAME_PLACE * max(lengths):
            crossing = 0.0
            poorness = 0.0
        else:
            cosine = float(to_p @ to_q / (lengths[0] * lengths[1]))
            crossing = float(np.arccos(np.clip(cosine, -1, 1)))
            poorness = 1 / max(np.sin(crossing), 1e-12)
        if best is None or poorness < best[0] * (1 - 1e-9):
            best = (poorness, p, q, crossing)
    if best is None:
        msg = "setting out needs two pegs"
        raise ValueError(msg)
    _, p, q, crossing = best
    to_p, to_q = at - [p.x, p.y], at - [q.x, q.y]
    return PegRow(
        hub, float(at[0]), float(at[1]), p.name, q.name,
        float(np.hypot(*to_p)), float(np.hypot(*to_q)), crossing,
        _ellipse(to_p, to_q, tape, crossing), band,
    )  # fmt: skip


def _ellipse(
    to_p: Floats, to_q: Floats, tape: float, crossing: float
) -> tuple[float, float, float]:
    if crossing == 0.0:
        return (tape, tape, 0.0)
    a, b = crossing_ellipse(tape, crossing)
    unit_p, unit_q = to_p / np.hypot(*to_p), to_q / np.hypot(*to_q)
    strong = unit_p + unit_q if unit_p @ unit_q >= 0 else unit_p - unit_q
    direction = np.arctan2(strong[0], -strong[1])
    return (float(a), float(b), float(np.mod(direction + np.pi / 2, np.pi) - np.pi / 2))


def _spans(at: Floats, ground: Indices, tape: float, play: float) -> tuple[Span, ...]:
    n = len(ground)

    def span(kind: Literal["diagonal", "width", "ring"], i: int, j: int) -> Span:
        way = min(abs(i - j), n - abs(i - j))
        length = float(np.hypot(*(at[i] - at[j])))
        return Span(kind, int(ground[i]), int(ground[j]), length, _band(way, tape, play))

    ring = [span("ring", k, (k + 1) % n) for k in range(n)]
    diagonals = [span("diagonal", k, k + n // 2) for k in range(n - n // 2)]
    widths = [span("width", i, j) for i, j in _facing(at)]
    return (*diagonals, *widths, *ring)


def _facing(at: Floats) -> list[tuple[int, int]]:
    """Return the pairs of hubs that face each other across a long shell, along x.

    All of them, those of the ends included: diagonals do not see a side that is bowed.
    """
    length, width = np.ptp(at, axis=0)
    if length <= width * (1 + ROUND):
        return []
    pairs = []
    for i in np.flatnonzero(at[:, 1] < -NARROW * width).tolist():
        away = np.hypot(*(at - at[i] * [1, -1]).T)
        j = int(np.argmin(away))
        if away[j] < SAME_PLACE * length:
            pairs.append((i, j))
    return sorted(pairs, key=lambda pair: at[pair[0], 0])
