"""The linear program over patterns, kept warm between rounds of column generation."""

from __future__ import annotations

from typing import Final

import highspy
import numpy as np

from strutwright.cutting.job import Job, Pattern
from strutwright.values import Floats

__all__ = ["NONE_LEFT", "Master", "whole_amounts", "whole_plan"]

NONE_LEFT: Final = 1e-6
"""Pieces missing from a plan count when they are more than this: below, it is rounding."""
MISSING: Final = 1e4
"""Cost of a missing piece, as a multiple of the dearest bar: only when nothing else is left."""


class _Quiet(highspy.Highs):
    """The solver without the banner that its own constructor writes to standard output."""

    def __init__(self) -> None:
        """Set up the solver past the constructor of `highspy.Highs`."""
        super(highspy.Highs, self).__init__()
        self.setOptionValue("output_flag", False)
        self.setOptionValue("threads", 1)


class Master:
    """Patterns with amounts such that all pieces are cut at the least cost.

    Holds a linear program of the HiGHS library: pieces of each width at least as many as wanted,
    bars of each kind at most as many as there are.
    """

    def __init__(self, job: Job) -> None:
        """Set up the rows of `job` and a column for the missing pieces of each width."""
        self.patterns: dict[Pattern, int] = {}
        self._m = len(job.widths)
        self._job = job
        self._first = 0
        self.solver = solver = _Quiet()
        for wanted in job.demand.tolist():
            solver.addRow(wanted, highspy.kHighsInf, 0, [], [])
        for there in job.quantities.tolist():
            solver.addRow(-highspy.kHighsInf, there, 0, [], [])
        stop = MISSING * float(job.costs.max())
        for row in range(self._m):
            solver.addCol(stop, 0.0, highspy.kHighsInf, 1, [row], [1.0])

    def add(self, patterns: list[Pattern]) -> None:
        """Take in those of `patterns` that are not known yet."""
        for one in patterns:
            if one in self.patterns:
                continue
            self.patterns[one] = len(self.patterns)
            rows = [k for k, n in enumerate(one.counts) if n]
            values = [float(one.counts[k]) for k in rows]
            rows.append(self._m + int(self._job.source[one.bar]))
            values.append(1.0)
            cost = self._job.cost(one)
            self.solver.addCol(cost, 0.0, highspy.kHighsInf, len(rows), rows, values)

    def ask(self, job: Job) -> None:
        """Ask for the pieces and bars of `job`, and for no pattern that makes more than wanted."""
        for row, wanted in enumerate(job.demand.tolist()):
            self.solver.changeRowBounds(row, wanted, highspy.kHighsInf)
        for row, there in enumerate(job.quantities.tolist()):
            self.solver.changeRowBounds(self._m + row, -highspy.kHighsInf, there)
        if self.patterns:
            made = np.array([one.counts for one in self.patterns])
            over = np.asarray((made > job.demand).any(axis=1))
            for column, is_over in enumerate(over.tolist(), start=self._m):
                top = 0.0 if is_over else highspy.kHighsInf
                self.solver.changeColBounds(column, 0.0, top)

    def solve(self) -> tuple[Floats, float, Floats, Floats]:
        """Return amounts, missing pieces, value of a piece of each width, scarcity of each bar.

        Amounts are in the order of `patterns`; scarcity is zero or below: what one bar more of a
        kind would save.
        """
        self.solver.run()
        if self.solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            msg = f"the linear program ended as {self.solver.getModelStatus()}"
            raise ArithmeticError(msg)
        solution = self.solver.getSolution()
        amounts, price = np.array(solution.col_value), np.array(solution.row_dual)
        values = np.maximum(price[: self._m], 0.0)
        scarcity = np.minimum(price[self._m :], 0.0)
        return amounts[self._m :], float(amounts[: self._m].sum()), values, scarcity


def whole_amounts(job: Job, patterns: tuple[Pattern, ...], most_nodes: int) -> list[int] | None:
    """Return whole amounts of `patterns` that cut all pieces cheaply, None where none is found.

    Branch and bound of HiGHS, ended after `most_nodes` nodes: work, not time.
    """
    master = Master(job)
    master.add(list(patterns))
    solver = master.solver
    n = len(master.patterns)
    columns = np.arange(len(job.widths), len(job.widths) + n, dtype=np.int32)
    kinds = np.full(n, highspy.HighsVarType.kInteger)
    solver.changeColsIntegrality(n, columns, kinds)
    for column in range(len(job.widths)):
        solver.changeColBounds(column, 0.0, 0.0)
    solver.setOptionValue("mip_max_nodes", most_nodes)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.run()
    values = np.array(solver.getSolution().col_value)
    if solver.getInfo().primal_solution_status != 2:
        return None
    return [int(value) for value in np.rint(values[len(job.widths) :])]


def whole_plan(
    job: Job, patterns: list[Pattern], target: float, most_nodes: int
) -> tuple[list[Pattern] | None, float]:
    """Return the cheapest plan of `patterns` that costs `target` or less, and a cost below none.

    The second value is infinite where there is no such plan.
    """
    master = Master(job)
    master.add(patterns)
    solver, m = master.solver, len(job.widths)
    names = list(master.patterns)
    if not names:
        return None, highspy.kHighsInf
    columns = np.arange(m, m + len(names), dtype=np.int32)
    for column in range(m):
        solver.changeColBounds(column, 0.0, 0.0)
    costs = [job.cost(one) for one in names]
    solver.addRow(-highspy.kHighsInf, target * (1 + 1e-9), len(names), columns, np.array(costs))
    kinds = np.full(len(names), highspy.HighsVarType.kInteger)
    solver.changeColsIntegrality(len(names), columns, kinds)
    solver.setOptionValue("mip_max_nodes", most_nodes)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.run()
    if solver.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
        return None, highspy.kHighsInf
    info = solver.getInfo()
    least = float(info.mip_dual_bound)
    if info.primal_solution_status != 2:
        return None, least
    amounts = np.rint(np.array(solver.getSolution().col_value)[m:]).astype(int).tolist()
    return [one for one, n in zip(names, amounts, strict=True) for _ in range(n)], least
