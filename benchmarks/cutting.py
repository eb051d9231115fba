"""Published cutting jobs: ours beside first-fit decreasing and an OR-tools model, in one run.

``python -m benchmarks.cutting [waescher_gau|falkenauer|hard28|schwerin_waescher ...] [--every N]``
"""

import sys
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from strutwright.catalogue import Bar
from strutwright.cutting import Piece, cut
from strutwright.cutting.greedy import first_fit
from strutwright.cutting.job import Job

DATA = Path(__file__).parent / "cutting_data"
LIMITS = {"waescher_gau": 15, "falkenauer": 15, "hard28": 60}
OTHER_SECONDS = 10.0


def instances(name: str) -> Iterator[tuple[str, int, list[tuple[int, int]]]]:
    for line in (DATA / f"{name}.txt").read_text().splitlines()[1:]:
        label, capacity, _, *rows = line.split()
        yield label, int(capacity), [(int(w), int(n)) for w, n in (row.split("x") for row in rows)]


def plain(capacity: int, rows: list[tuple[int, int]]) -> int:
    """Bars of first-fit decreasing."""
    widths, demand = (np.array(column) for column in zip(*sorted(rows, reverse=True), strict=True))
    n = int(demand.sum())
    job = Job(
        widths, demand, np.array([capacity]), np.ones(1), np.array([n]), np.zeros(1, int),
        np.zeros(1),
    )  # fmt: skip
    plan = first_fit(job)
    assert plan is not None
    return len(plan)


def other(capacity: int, rows: list[tuple[int, int]], most: int) -> tuple[int, bool]:
    """Bars of the usual assignment model with CP-SAT, and whether it proved them."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    used = [model.new_bool_var("") for _ in range(most)]
    put = [[model.new_int_var(0, n, "") for _ in range(most)] for _, n in rows]
    for (_, n), row in zip(rows, put, strict=True):
        model.add(sum(row) == n)
    for k in range(most):
        load = sum(w * row[k] for (w, _), row in zip(rows, put, strict=True))
        model.add(load <= capacity * used[k])
        if k:
            model.add(used[k - 1] >= used[k])
    model.add(sum(used) >= -(-sum(w * n for w, n in rows) // capacity))
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = OTHER_SECONDS
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    if status not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        return most, False
    return round(solver.objective_value), status == cp_model.OPTIMAL


def run(name: str, every: int) -> None:
    limit = LIMITS.get(name, 60)
    print(f"{name}: job, first-fit bars, ours: bars, bound, proven, processor s; OR-tools likewise")
    ours = theirs = late = n = 0
    for label, capacity, rows in list(instances(name))[::every]:
        start = time.process_time()  # one thread; the machine may have other work
        plan = cut([Piece(str(w), w / 1000, k) for w, k in rows], [Bar(capacity / 1000)])
        took, start = time.process_time() - start, time.process_time()
        simple = plain(capacity, rows)
        bars, proven = other(capacity, rows, simple)
        slow = time.process_time() - start
        n, ours, theirs = n + 1, ours + plan.proven, theirs + proven
        late += took > limit
        bound = plan.bound / (capacity / 1000)
        print(
            f"  {label:10} {simple:4}  {len(plan.bars):4} {bound:7.2f} {plan.proven!s:5} "
            f"{took:6.2f}"
            f"  {bars:4} {proven!s:5} {slow:6.2f}",
            flush=True,
        )
    print(f"  {name}: ours proves {ours} of {n} ({late} over {limit} s), OR-tools {theirs} of {n}")


if __name__ == "__main__":
    words = sys.argv[1:]
    every = int(words[words.index("--every") + 1]) if "--every" in words else 0
    named = [word for word in words if (DATA / f"{word}.txt").exists()]
    for one in named or list(LIMITS):
        run(one, every or (1 if named or one == "waescher_gau" else 10))
