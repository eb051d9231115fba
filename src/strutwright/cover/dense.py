"""Pieces packed densely by a strip-packing library, in a process of its own with a clock."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Sequence
from typing import Any, Final

import numpy as np

from strutwright.cover.nest import GAP, nest_in_rows
from strutwright.cover.values import Nest, Placed, StockUse
from strutwright.values import Floats

__all__ = ["pack_densely"]

GRACE: Final = 30
"""s beyond its time that the library is given before its process is ended."""
SEED: Final = 1
_WORK: Final = """
import json, sys
import spyrrow
job = json.load(sys.stdin)
shapes = [[tuple(point) for point in shape] for shape in job["shapes"]]
items = [spyrrow.Item(str(k), shape, 1, [0.0, 180.0]) for k, shape in enumerate(shapes)]
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
    job = {
        "shapes": [outline.tolist() for outline in outlines],
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
        return rows
    return _better(found, outlines, rows)


def _better(found: dict[str, Any], outlines: Sequence[Floats], rows: Nest) -> Nest:
    roll = rows.stock[0]
    if not found["width"] < roll.used:
        return rows
    placed = []
    for k, rotation, x, y in sorted(found["placed"]):
        outline, half = outlines[k], abs(rotation) > 90
        # the library turns about the origin; ours turn within their own box
        box = outline.max(axis=0) if half else np.zeros(2)
        placed.append(Placed(k, 0, x - float(box[0]), y - float(box[1]), half))
    used = float(found["width"])
    density = rows.density * roll.used / used
    return Nest("dense", tuple(placed), (StockUse(roll.width, roll.length, used),), density)
