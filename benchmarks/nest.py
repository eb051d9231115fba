"""Published strip-packing jobs through the cover's own nesting, beside the density on record.

Instances ``blaz1`` and ``albano`` (pieces turned by 0 or 180 degrees) and ``fu`` (convex pieces, by
quarter turns) of the collection of the EURO working group on cutting and packing (ESICUP). Records:
Elkeran, European Journal of Operational Research 231 (2013), densities recalled.
`python -m benchmarks.nest`.
"""

import math
import time

import numpy as np

from strutwright.cover import fit_on_sheets, nest_in_rows, pack_densely, pack_sheets

BLAZ1 = (
    4,
    ((0, 0), (2, -1), (4, 0), (4, 3), (2, 4), (0, 3)),
    ((0, 0), (3, 0), (2, 2), (3, 4), (3, 5), (1, 5), (-1, 3), (-1, 1)),
    ((0, 0), (2, 0), (3, 1), (3, 3), (2, 4), (0, 4), (-1, 3), (-1, 1)),
    ((0, 0), (2, 1), (4, 0), (3, 2), (4, 5), (2, 4), (0, 5), (1, 3)),
    ((0, 0), (5, 0), (5, 5), (4, 5), (3, 3), (2, 2), (0, 1)),
    ((0, 0), (2, 3), (-2, 3)),
    ((0, 0), (2, 0), (2, 2), (0, 2)),
)
ALBANO = (
    (2, ((0, 86), (966, 142), (1983, 0), (2185, 238), (2734, 217), (3000, 767), (2819, 900),
         (2819, 1360), (3000, 1493), (2734, 2043), (2185, 2022), (1983, 2260), (966, 2118),
         (0, 2174))),
    (2, ((0, 0), (3034, 0), (3034, 261), (0, 261))),
    (4, ((0, 173), (1761, 0), (2183, 650), (2183, 1010), (1761, 1660), (0, 1487))),
    (4, ((74, 0), (870, 119), (1666, 0), (1740, 125), (870, 305), (0, 125))),
    (4, ((0, 0), (411, 65), (800, 0), (1189, 65), (1600, 0), (1500, 368), (800, 286),
         (100, 368))),
    (4, ((0, 0), (936, 0), (936, 659), (0, 659))),
    (2, ((56, 73), (1066, 143), (1891, 0), (2186, 288), (2573, 241), (2676, 926), (2594, 1366),
         (0, 1366))),
    (2, ((0, 0), (2499, 0), (2705, 387), (2622, 934), (2148, 967), (1920, 1152), (1061, 1059),
         (0, 1125))),
)  # fmt: skip
FU = (
    ((0, 0), (10, 0), (10, 10), (0, 10)),
    ((0, 0), (10, 0), (10, 10), (0, 10)),
    ((0, 0), (14, 0), (14, 9), (0, 9)),
    ((0, 0), (14, 0), (7, 7)),
    ((0, 9), (0, 0), (14, 9)),
    ((0, 0), (14, 0), (14, 14), (0, 14)),
    ((0, 0), (10, 4), (10, 9), (0, 9)),
    ((0, 0), (5, 0), (5, 9), (0, 9)),
    ((0, 0), (14, 0), (14, 14)),
    ((0, 0), (10, 0), (10, 10), (0, 14)),
    ((0, 8), (4, 0), (8, 8)),
    ((0, 0), (14, 0), (7, 12)),
)
QUARTERS = tuple(quarter * math.pi / 2 for quarter in range(4))


def boxed(points, scale):
    outline = np.array(points, dtype=np.float64) * scale
    return outline - outline.min(axis=0)


def job(name):
    """Outlines (m), width of the strip (m) and density on record of a published job."""
    if name == "fu":
        return [boxed(shape, 1.0) for shape in FU], 38.0, 0.9241
    if name == "blaz1":
        count, *shapes = BLAZ1
        return [boxed(s, 1.0) for s in shapes for _ in range(count)], 15.0015, 0.8484
    return [boxed(s, 1e-3) for count, s in ALBANO for _ in range(count)], 4.9, 0.8958


def main() -> None:
    for name in ("blaz1", "albano"):
        outlines, width, record = job(name)
        start = time.perf_counter()
        rows = nest_in_rows(outlines, width, (1000.0,), 0.0)
        middle = time.perf_counter()
        dense = pack_densely(outlines, width, (1000.0,), seconds=30, gap=0.0)
        end = time.perf_counter()
        print(
            f"{name:8} rows {rows.density:6.1%} in {middle - start:5.2f} s, library "
            f"{dense.density:6.1%} in {end - middle:5.1f} s, on record {record:.1%} (recalled); "
            f"rows/record {rows.density / record:.2f}, library/record {dense.density / record:.2f}"
        )
    outlines, width, record = job("fu")
    turns = [QUARTERS] * len(outlines)
    for how, pack in (("fitted", fit_on_sheets), ("library", pack_sheets)):
        start = time.perf_counter()
        # on one endless sheet it is a strip
        nest = pack(outlines, turns, (width, 1000.0), gap=0.0)
        found = nest.density * 1000.0 / nest.length
        spent = time.perf_counter() - start
        print(f"fu       {how} {found:6.1%} in {spent:5.1f} s, on record {record:.1%} (recalled)")


if __name__ == "__main__":
    main()
