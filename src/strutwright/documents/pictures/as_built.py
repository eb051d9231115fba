"""The shape as built: movements exaggerated over the design, suspects marked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.documents.pictures.signs import neat_scale
from strutwright.drawing import (
    FINE,
    FRONT,
    GREY,
    INK,
    LIGHT,
    MEDIUM,
    PLAN,
    POINT,
    QUIET,
    SIDE,
    WIDE,
    Circle,
    Line,
    Mark,
    Pen,
    Sheet,
    Text,
    Wish,
    around,
    arrow_head,
    label_marks,
    place_labels,
    project,
)
from strutwright.shape import Shell
from strutwright.survey import SurveyResult
from strutwright.values import HubPoints

__all__ = ["AsBuilt", "as_built", "marked"]

LARGEST: Final = 0.12
"""The largest movement is drawn as this share of the shell, or less: our choice."""
MOST_TIMES: Final = 50
NEAT: Final = (1, 2, 5, 10, 20, 50)
EDGE: Final = 12.0
FOOT: Final = 16.0
ARROW: Final = 9.0
"""Length of the arrow of a pull, mm."""
SUSPECT: Final = 1.2
"""Width of a suspected strut, mm."""
LOOKS: Final = {"plan": PLAN, "front": FRONT, "side": SIDE}


def said(scale: float, factor: int, moved: str) -> tuple[str, str]:
    """Return the lines under the picture in English."""
    return (
        f"Scale 1:{scale:g}; movements drawn {factor} times as large, the largest is {moved}.",
        "Light: design. Grey: as built. Strong, with its number: suspect. Dashed: reading.",
    )


@dataclass(frozen=True)
class AsBuilt:
    """What is asked of a picture of the shape as built.

    Parameters
    ----------
    struts, hubs : tuple of int
        Suspects: struts drawn strong with their numbers, hubs ringed.
    lines : tuple of (int, int)
        Readings, drawn as thin dashes.
    pulls : tuple of (int, float, float)
        Base hubs, and the way in which each is to be pulled: arrows on the plan.
    look : str
        ``plan``, ``front`` or ``side``.
    width, height : float, mm
    show : callable
        Gives a length (m) in the reader's units.
    say : callable
        Gives the two lines under the picture from the scale, how many times larger movements are
        drawn, and the largest as text.
    """

    struts: tuple[int, ...] = ()
    hubs: tuple[int, ...] = ()
    lines: tuple[tuple[int, int], ...] = ()
    pulls: tuple[tuple[int, float, float], ...] = ()
    look: str = "plan"
    width: float = 174.0
    height: float = 170.0
    show: Callable[[float], str] = "{:.3f} m".format
    say: Callable[[float, int, str], tuple[str, str]] = said


def times(design: HubPoints, shape: HubPoints) -> int:
    """Return the neat factor by which movements are drawn larger."""
    moved = float(np.linalg.norm(shape - design, axis=1).max())
    room = LARGEST * float(np.ptp(design, axis=0).max())
    fits = [n for n in NEAT if n * moved <= room]
    return max(fits, default=1) if moved > 0 else 1


def marked(result: SurveyResult) -> AsBuilt:
    """Return the picture that marks the first suspect of `result` and the readings across."""
    first = result.suspects[:1]
    return AsBuilt(
        struts=first[0].struts if first else (),
        hubs=first[0].hubs if first and not first[0].struts else (),
        lines=tuple(
            (one.measure.hubs[0], one.measure.hubs[1])
            for one in result.checked
            if one.measure.kind == "distance"
        ),
    )


def as_built(shell: Shell, shape: HubPoints, asked: AsBuilt) -> Sheet:
    """Return the picture of `shell` as built at `shape` (H, 3) m, larger than life.

    The design is drawn thin and grey, the shape as built dark with its movements multiplied;
    suspects are told by line width and by their numbers, not by colour alone.
    """
    factor = times(shell.hubs, shape)
    camera = LOOKS[asked.look]
    drawn = shell.hubs + factor * (shape - shell.hubs)
    both = project(camera, np.vstack([shell.hubs, drawn]))[:, :2]
    low, high = both.min(axis=0), both.max(axis=0)
    across, up = (high - low).tolist()
    scale = max(
        neat_scale(across, asked.width - 2 * EDGE),
        neat_scale(up, asked.height - 2 * EDGE - FOOT),
    )
    paper = (both - low) * (1000 / scale)
    paper += np.array([(asked.width - across * 1000 / scale) / 2, EDGE + FOOT])
    height = up * 1000 / scale + 2 * EDGE + FOOT
    n = len(shell.hubs)
    at = [(float(x), float(y)) for x, y in paper]
    design, built = at[:n], at[n:]
    marks: list[Mark] = []
    ends = shell.struts.tolist()
    marks += [Line(design[i], design[j], Pen(2 * FINE, LIGHT), "design") for i, j in ends]
    marks += [Line(built[i], built[j], Pen(FINE, QUIET, (2.0, 1.2)), "reading")
              for i, j in asked.lines]  # fmt: skip
    for strut, (i, j) in enumerate(ends):
        if strut not in asked.struts:
            marks.append(Line(built[i], built[j], Pen(FINE * 2, GREY), "built"))
    for strut in asked.struts:
        i, j = ends[strut]
        marks.append(Line(built[i], built[j], Pen(SUSPECT, INK), "suspect"))
    if asked.look == "plan":
        marks += [mark for hub, *way in asked.pulls for mark in _pull(built[hub], way)]
    marks += [Circle(built[hub], 1.8, pen=Pen(WIDE, INK), layer="suspect") for hub in asked.hubs]
    marks += _numbers(asked, ends, built, (asked.width, height))
    marks += _words(factor, scale, float(np.abs(shape - shell.hubs).max()), asked)
    text = (
        f"{asked.look} of the shell as built, movements {factor} times as large, suspected struts "
        f"{', '.join(map(str, asked.struts)) or 'none'}."
    )
    return Sheet(asked.width, height, tuple(marks), "Shape as built", text)


def _pull(at: tuple[float, float], way: Sequence[float]) -> list[Mark]:
    turn = float(np.arctan2(way[1], way[0]))
    tip = (at[0] + ARROW * float(np.cos(turn)), at[1] + ARROW * float(np.sin(turn)))
    return [
        Line(at, tip, Pen(MEDIUM, INK), "pull"),
        arrow_head(tip, turn, size=3.0, colour=INK),
    ]


def _numbers(
    asked: AsBuilt,
    ends: Sequence[Sequence[int]],
    built: Sequence[tuple[float, float]],
    paper: tuple[float, float],
) -> list[Mark]:
    wishes = []
    for strut in asked.struts:
        (x0, y0), (x1, y1) = (built[k] for k in ends[strut])
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        wishes.append(Wish(f"strut {strut}", middle, around(middle, 8.0), 9 * POINT))
    named = {hub for strut in asked.struts for hub in ends[strut]} | set(asked.hubs)
    named |= {hub for line in asked.lines for hub in line} | {hub for hub, *_ in asked.pulls}
    for hub in sorted(named):
        wishes.append(Wish(str(hub), built[hub], around(built[hub], 3.2), 7 * POINT))
    bounds = (1.0, FOOT, paper[0] - 1.0, paper[1] - 1.0)
    lines = np.array([[*built[i], *built[j]] for i, j in ends])
    return list(label_marks(place_labels(wishes, bounds, keep_out=[], lines=lines)))


def _words(factor: int, scale: float, moved: float, asked: AsBuilt) -> list[Mark]:
    first, second = asked.say(scale, factor, asked.show(moved))
    return [
        Text((4.0, 8.0), first, 9 * POINT, "start", colour=QUIET),
        Text((4.0, 3.0), second, 9 * POINT, "start", colour=QUIET),
    ]
