"""Published cutting jobs: ours beside first-fit decreasing and an OR-tools model, in one run.

``python -m benchmarks.cutting [NAME ...] [--every N]`` with ``waescher_gau``, ``falkenauer``,
``hard28``, ``schwerin_waescher`` or ``typical``

``typical`` makes jobs at random, the same every time: 4 to 30 lengths, 50 to 5,000 pieces, one bar
length; and with two bar lengths at different prices.
"""

import sys
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from strutwright.catalogue import Bar
from strutwright.cutting import Piece, Saw, cut
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


def typical(number: int) -> tuple[list[Piece], list[Bar]]:
    """Return job `number`: pieces from 0.3 m to 2.4 m by the millimetre, a bar of 3, 6 or 6.1 m."""
    random = np.random.default_rng(number)
    n = int(random.integers(4, 31))
    lengths = random.choice(np.arange(300, 2400), n, replace=False) / 1000
    every = int(np.exp(random.uniform(np.log(50), np.log(5000))))
    counts = random.multinomial(max(every - n, 0), random.dirichlet(np.ones(n))) + 1
    pieces = [
        Piece(str(k), x, m) for k, (x, m) in enumerate(zip(lengths, counts.tolist(), strict=True))
    ]
    return pieces, [Bar(float(random.choice([3.0, 6.0, 6.1])), 10.0)]


def run_typical(jobs: int = 24) -> None:
    """Print how long typical jobs take, and how near two bar lengths at two prices come."""
    saw = Saw(0.002, 0.005)
    print("typical: job, lengths, pieces; one bar: proven, processor s; two prices: gap, s")
    late = wide = 0
    for number in range(jobs):
        pieces, (bar,) = typical(number)
        other = Bar(bar.length * 0.7, bar.price * 0.72)
        start = time.process_time()
        one = cut(pieces, [bar], saw)
        took, start = time.process_time() - start, time.process_time()
        two = cut(pieces, [bar, other], saw)
        slow = time.process_time() - start
        late += not one.proven or took > 2
        wide += two.gap > 0.003 or slow > 10
        print(
            f"  {number:4} {len(pieces):4} {sum(p.quantity for p in pieces):6}  {one.proven!s:5} "
            f"{took:6.2f}   {100 * two.gap:.3f} % {slow:6.2f}",
            flush=True,
        )
    print(f"  not proven in 2 s: {late} of {jobs}; gap above 0.3 % or over 10 s: {wide} of {jobs}")


if __name__ == "__main__":
    words = sys.argv[1:]
    every = int(words[words.index("--every") + 1]) if "--every" in words else 0
    named = [word for word in words if (DATA / f"{word}.txt").exists()]
    if "typical" in words or not words:
        run_typical()
    for one in named or ([] if words else list(LIMITS)):
        run(one, every or (1 if named or one == "waescher_gau" else 10))
