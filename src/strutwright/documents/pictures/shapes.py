"""Deflected and buckled shapes of a shell, struts coloured and dashed by their utilisation."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.drawing import (
    FINE,
    ISOMETRIC,
    LIGHT,
    POINT,
    WIDE,
    Line,
    Mark,
    Pen,
    Point,
    Sheet,
    Text,
    project,
)
from strutwright.shape import Shell
from strutwright.values import Floats

__all__ = ["BANDS", "ShapeWords", "moved_shell"]

BANDS: Final = ((0.5, "#4798b2", ()), (0.8, "#25400a", ()), (1.0, "#b28d1b", ()))
"""Upper end, colour and dash of a band of utilisation; what lies above is red and dashed."""
ABOVE: Final = ("#a3201f", (1.6, 0.9))
SHOWN: Final = 0.06
"""The largest movement is drawn as long as this share of the shell's size."""
EDGE: Final = 6.0
FOOT: Final = 12.0
WIDTH: Final = 174.0


@dataclass(frozen=True)
class ShapeWords:
    """Words on a moved shape: `to` and `above` of the legend, `drawn` of how much is enlarged."""

    to: str = "used to {top}"
    above: str = "used above 1"
    drawn: str = "movements drawn {times} times"


def moved_shell(
    shell: Shell,
    moves: Floats,
    used: Floats | None,
    words: str,
    labels: ShapeWords | None = None,
) -> Sheet:
    """Return `shell` in grey, and moved by `moves` (H, 3), in the colours of `used` (S,).

    Movements are enlarged until they are seen; `words` stand at the foot with how much. Without
    `used` all struts are drawn alike.
    """
    said = labels or ShapeWords()
    largest = float(np.linalg.norm(moves, axis=1).max(initial=0.0))
    scale = SHOWN * shell.size / largest if largest > 0 else 0.0
    still = project(ISOMETRIC, shell.hubs)
    moved = project(ISOMETRIC, shell.hubs + scale * moves)
    both = np.vstack([still, moved])[:, :2]
    low, high = both.min(axis=0), both.max(axis=0)
    to_paper = (WIDTH - 2 * EDGE) / float(high[0] - low[0])
    height = float(high[1] - low[1]) * to_paper + 2 * EDGE + FOOT

    def at(points: Floats, hub: int) -> Point:
        x, y = (points[hub, :2] - low) * to_paper + [EDGE, EDGE + FOOT]
        return (float(x), float(y))

    marks: list[Mark] = [
        Line(at(still, i), at(still, j), Pen(FINE, LIGHT)) for i, j in shell.struts.tolist()
    ]
    for strut, (i, j) in enumerate(shell.struts.tolist()):
        pen = Pen(WIDE) if used is None else _pen(float(used[strut]))
        marks.append(Line(at(moved, i), at(moved, j), pen))
    if used is not None:
        marks += _legend(FOOT - 2.0, said)
    text = f"{words}; " + said.drawn.format(times=f"{scale:.3g}")
    marks.append(Text((EDGE, 2.0), text, 8 * POINT))
    return Sheet(WIDTH, height, tuple(marks), words, text)


def _pen(used: float) -> Pen:
    for top, colour, dash in BANDS:
        if used <= top:
            return Pen(WIDE, colour, dash)
    return Pen(2 * WIDE, *ABOVE)


def _legend(y: float, said: ShapeWords) -> list[Mark]:
    marks: list[Mark] = []
    rows = [
        (said.to.format(top=f"{top:g}"), Pen(WIDE, colour, dash)) for top, colour, dash in BANDS
    ]
    for k, (words, pen) in enumerate([*rows, (said.above, Pen(2 * WIDE, *ABOVE))]):
        x = EDGE + 40.0 * k
        marks.append(Line((x, y + 1.0), (x + 9.0, y + 1.0), pen))
        marks.append(Text((x + 11.0, y), words, 8 * POINT))
    return marks
