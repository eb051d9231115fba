"""A shallow toggle: its linear buckling load, and the load at which it truly snaps through.

Williams (1964) tested two clamped legs of half span 12.943 in and rise 0.386 in (recalled); units
are inch and pound. Linear buckling overrates a shallow frame; the path tells what it carries.
"""

import numpy as np

from strutwright.frame import (
    FrameModel,
    Loads,
    PathSettings,
    Sections,
    buckle,
    divide_loads,
    subdivide,
    trace,
)


def toggle() -> FrameModel:
    """Two legs that meet rigidly in the middle, clamped at their feet, held in one plane."""
    nodes = [[-12.943, 0, 0], [0, 0, 0.386], [12.943, 0, 0]]
    fixed = np.zeros((3, 6), dtype=bool)
    fixed[:, [1, 3, 5]] = True
    fixed[[0, 2]] = True
    # E = 1 and EA, EI in place of A, I: only the products count
    table = Sections(1.885e6, 9.27e3, 9.27e5, 1e5, 1.0, 1.0)
    return FrameModel(nodes, [[0, 1], [1, 2]], table, fixed=fixed)


def main() -> dict[str, float]:
    """Print the buckling load and the limit load with two elements a leg and with sixteen."""
    model = toggle()
    down = np.zeros((3, 6))
    down[1, 2] = -1.0
    pull = Loads(forces=down)
    eigen, _ = buckle(model, pull, pieces=8)
    found = {"linear buckling load, lb": float(eigen.factors[0])}
    for pieces in (2, 16):
        division = subdivide(model, pieces)
        loads = divide_loads(division, pull)
        path = trace(division.model, loads, PathSettings(target=100.0, first=0.02))
        if path.limit_load_factor is not None:
            found[f"limit load with {pieces} elements a leg, lb"] = path.limit_load_factor
    for name, value in found.items():
        print(f"{name}: {value:.2f}")
    return found


if __name__ == "__main__":
    main()
