"""Pieces packed densely by a strip-packing library, in a process of its own with a clock."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from strutwright.cover.fit import fit_on_sheets
from strutwright.cover.nest import GAP, nest_in_rows
from strutwright.cover.unroll import polygon_area, turned
from strutwright.cover.values import Nest, Placed, StockUse
from strutwright.values import Floats

__all__ = ["pack_densely", "pack_sheets"]

GRACE: Final = 30
"""s beyond its time that the library is given before its process is ended."""
SEED: Final = 1
SEARCH: Final = 2
"""s that one search of a sheet takes."""
FULL: Final = 0.93
"""Share of a sheet that triangles can hardly fill: more are not tried together."""
_WORK: Final = """
import json, sys
import spyrrow
job = json.load(sys.stdin)
shapes = [[tuple(point) for point in shape] for shape in job["shapes"]]
items = [spyrrow.Item(str(k), shape, 1, job["turns"][k]) for k, shape in enumerate(shapes)]
config = spyrrow.StripPackingConfig(
    early_termination=True, total_computation_time=None, exploration_time=job["seconds"],
    compression_time=max(1, job["seconds"] // 4), num_workers=1, seed=job["seed"],
    min_items_separation=job["gap"] or None)
found = spyrrow.StripPackingInstance("pieces", job["height"], items).solve(config)
json.dump({"width": found.width, "placed": [
    [int(p.id), p.rotation, *p.translation] for p in found.placed_items]}, sys.stdout)
"""


def pack_densely(
    outlines: Sequence[Floats],
    width: float,
    lengths: Sequence[float],
    *,
    seconds: int = 10,
    gap: float = GAP,
) -> Nest:
    """Return the pieces packed by the library, or in rows where those are shorter.

    The library works against a clock: the same job may give another plan on another machine.
    It is not asked where the rows need more than one roll, and its plan is dropped where its
    process fails or takes too long.

    Parameters
    ----------
    outlines, width, lengths : as for `nest_in_rows`
    seconds : int
        For the search.
    gap : float, m
        Left between pieces.
    """
    rows = nest_in_rows(outlines, width, lengths, gap)
    if len(rows.stock) != 1:
        return rows
    half = [(0.0, math.pi)] * len(outlines)
    strip = _strip(outlines, half, width, seconds, gap)
    roll = rows.stock[0]
    if strip is None or not strip.used < roll.used:
        return rows
    stock = (StockUse(roll.width, roll.length, strip.used),)
    return Nest("dense", strip.placed, stock, rows.density * roll.used / strip.used)


def pack_sheets(
    outlines: Sequence[Floats],
    turns: Sequence[Sequence[float]],
    sheet: tuple[float, float],
    *,
    seconds: int = 40,
    gap: float = GAP,
) -> Nest:
    """Return panels packed by the library sheet by sheet, the rest fitted when its time is up.

    Of the panels that are left the largest are taken until their area fills a sheet to `FULL`; a
    strip of them that comes out longer than the sheet is tried again without the last.

    Parameters
    ----------
    outlines, turns, sheet, gap : as for `fit_on_sheets`
    seconds : int
        For all searches together.
    """
    area = [abs(polygon_area(outline)) for outline in outlines]
    left = sorted(range(len(outlines)), key=lambda k: (-round(area[k], 6), k))
    placed: list[Placed] = []
    stock: list[StockUse] = []
    search = _Search(outlines, turns, sheet, gap, seconds // SEARCH, {})
    while left and (found := search.fill(_first(area, left, FULL * sheet[0] * sheet[1]))):
        taken, strip = found
        placed += [replace(p, item=taken[p.item], stock=len(stock)) for p in strip.placed]
        stock.append(StockUse(sheet[0], sheet[1], strip.used))
        left = [k for k in left if k not in taken]
    if left:
        rest = fit_on_sheets([outlines[k] for k in left], [turns[k] for k in left], sheet, gap)
        placed += [replace(p, item=left[p.item], stock=len(stock) + p.stock) for p in rest.placed]
        stock += rest.stock
    rows = tuple(sorted(placed, key=lambda one: one.item))
    return Nest("dense", rows, tuple(stock), sum(area) / (len(stock) * sheet[0] * sheet[1]))


def _first(area: Sequence[float], left: Sequence[int], room: float) -> list[int]:
    """Return the panels of `left`, in order, as many as have `room` (m2) for their `area`."""
    taken = []
    for k in left:
        if area[k] <= room:
            taken.append(k)
            room -= area[k]
    return taken


@dataclass(frozen=True)
class _Strip:
    placed: tuple[Placed, ...]
    used: float


@dataclass(frozen=True)
class _Search:
    outlines: Sequence[Floats]
    turns: Sequence[Sequence[float]]
    sheet: tuple[float, float]
    gap: float
    most: int
    known: dict[tuple[bytes, ...], _Strip | None]

    def fill(self, taken: list[int]) -> tuple[list[int], _Strip] | None:
        """Return as many of the panels `taken` as one sheet holds; None when time is up."""
        while taken:
            own = [self.outlines[k] for k in taken]
            name = tuple(outline.tobytes() for outline in own)
            if name not in self.known:
                if len(self.known) >= self.most:
                    return None
                turns = [self.turns[k] for k in taken]
                self.known[name] = _strip(own, turns, self.sheet[0], SEARCH // 2, self.gap)
            strip = self.known[name]
            if strip is not None and strip.used <= self.sheet[1] + 1e-9:
                return taken, strip
            # as many go as stand over the end, by their area
            share = 1.0 if strip is None else self.sheet[1] / strip.used
            taken = self.within(taken, share)
        return None

    def within(self, taken: list[int], share: float) -> list[int]:
        """Return the first of `taken`, fewer than all, that make up no more than `share`."""
        areas = np.cumsum([abs(polygon_area(self.outlines[k])) for k in taken])
        return taken[: min(int((areas <= share * areas[-1]).sum()), len(taken) - 1)]


def _strip(
    outlines: Sequence[Floats],
    turns: Sequence[Sequence[float]],
    width: float,
    seconds: int,
    gap: float,
) -> _Strip | None:
    """Return the pieces as the library lays them on one strip; None where it gives no answer."""
    job = {
        "shapes": [outline.tolist() for outline in outlines],
        "turns": [np.degrees(own).tolist() for own in turns],
        "height": width,
        "seconds": seconds,
        "seed": SEED,
        "gap": gap,
    }
    try:
        done = subprocess.run(
            [sys.executable, "-c", _WORK],
            input=json.dumps(job),
            capture_output=True,
            text=True,
            check=True,
            timeout=2 * seconds + GRACE,
        )
        found = json.loads(done.stdout)
    except (subprocess.SubprocessError, json.JSONDecodeError):
        return None
    placed = []
    for k, rotation, x, y in sorted(found["placed"]):
        # the library turns about the origin; ours turn within their own box
        angle = min(
            turns[k], key=lambda a: abs(math.remainder(a - np.radians(rotation), 2 * math.pi))
        )
        low = turned(outlines[k], angle).min(axis=0) - outlines[k].min(axis=0)
        placed.append(Placed(k, 0, x + float(low[0]), y + float(low[1]), angle))
    return _Strip(tuple(placed), float(found["width"]))
