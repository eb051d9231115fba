"""Bars against width: what the size would cost or save within the brief's freedom."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from strutwright.brief import Brief
from strutwright.cutting import BarCount, count_scaled_bars
from strutwright.errors import InputError
from strutwright.parts import Kit, part_choices
from strutwright.sentences import note, sentence
from strutwright.shape.outer import measures
from strutwright.values import Note

__all__ = ["WeighedWidth", "weigh_widths", "width_notes"]

STEPS: Final = 40
"""Widths that are tried from the least to the largest, evenly: our choice."""
FINEST: Final = 0.01
"""m; widths are tried on whole steps of this."""
WORTH: Final = 0.03
"""A peak is proposed when it saves this share of the bars' cost for each m² of floor."""
MOST_PEAKS: Final = 3


@dataclass(frozen=True)
class WeighedWidth:
    """The shell at another width, all its sizes in the same proportion.

    Parameters
    ----------
    width, length, rise : float, m
    floor_area : float, m2
    bars : BarCount
    is_wish : bool
        The size that is built.
    is_peak : bool
        Proposed: no width near it takes less money of bars for each m² of floor.
    """

    width: float
    length: float
    rise: float
    floor_area: float
    bars: BarCount
    is_wish: bool = False
    is_peak: bool = False

    @property
    def cost_of_floor(self) -> float:
        """Cost of the bars for each m² of floor."""
        return self.bars.cost / self.floor_area

    @property
    def share_used(self) -> float:
        """Share of the bars that ends in struts."""
        return self.bars.used / self.bars.bought


def weigh_widths(kit: Kit, brief: Brief) -> tuple[WeighedWidth, ...]:
    """Return the bars that the shell of `kit` takes over the widths of the brief's freedom.

    Empty where the brief gives no freedom; widths whose bars do not suffice are left out.
    """
    free, size = brief.size.freedom, measures(kit.shell)
    if free is None:
        return ()
    low, high = size.width * (1 - (free.share or 0.0)), size.width * (1 + (free.share or 0.0))
    if free.least is not None and free.largest is not None:
        low, high = free.least, free.largest
    longest_piece = part_choices(brief)[0].longest_piece
    even = np.round(np.linspace(low, high, STEPS + 1) / FINEST) * FINEST
    within = even[(even >= low - 1e-9) & (even <= high + 1e-9)]
    apart = np.abs(within - size.width) > FINEST / 2
    rows = []
    for width in sorted({size.width, *within[apart].tolist()}):
        scale = width / size.width
        try:
            bars = count_scaled_bars(kit, brief, scale, longest_piece)
        except InputError:
            continue
        rows.append(
            WeighedWidth(
                width, size.length * scale, size.rise * scale, size.floor_area * scale**2, bars,
                is_wish=scale == 1.0,
            )
        )  # fmt: skip
    return _with_peaks(rows)


def _with_peaks(rows: list[WeighedWidth]) -> tuple[WeighedWidth, ...]:
    """Return `rows` with those marked that are worth proposing, the best few."""
    wish = next((row for row in rows if row.is_wish), None)
    if wish is None:
        return tuple(rows)
    costs = [row.cost_of_floor for row in rows]
    # the least and the largest width are peaks only where no width is better
    beside = [min(costs), *costs, min(costs)]
    peaks = [
        k
        for k, row in enumerate(rows)
        if not row.is_wish
        and costs[k] <= min(beside[k], beside[k + 2])
        and costs[k] <= wish.cost_of_floor * (1 - WORTH)
    ]
    best = sorted(peaks, key=lambda k: (costs[k], k))[:MOST_PEAKS]
    return tuple(replace(row, is_peak=k in best) for k, row in enumerate(rows))


def width_notes(rows: tuple[WeighedWidth, ...]) -> tuple[Note, ...]:
    """Return a note that says which widths would be worth moving to; the size does not move."""
    wish = next((row for row in rows if row.is_wish), None)
    peaks = [row for row in rows if row.is_peak]
    if wish is None or not peaks:
        return ()
    others = tuple(sentence("width-takes", width=row.width, bars=row.bars.bars) for row in peaks)
    values = {"width": wish.width, "bars": wish.bars.bars, "others": others}
    return (note("size-could-move", **values),)
