"""Which orbits of struts share a length: the search over numbers of lengths, best of each kept."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Final

import numpy as np

from strutwright.progress import Progress, step
from strutwright.shape import fewer_solve as fs
from strutwright.shape.fewer_model import Reduced
from strutwright.shape.fewer_propose import Proposal, merge_chain, merges, splits, transfers
from strutwright.shape.fewer_solve import Bounds, Fit
from strutwright.values import Indices

__all__ = ["Best", "search", "settle"]

WORTH: Final = 1.1
"""A candidate foretold to cost this many times the best known is not solved: our choice."""
PROMISING: Final = 1.5
"""A fit that costs this many times the best known is not polished: our choice."""
HOPELESS: Final = np.radians(0.5)
"""Two numbers of lengths in a row whose folds miss their floor by more end the way down."""
WORK: Final = 60
"""Fits that second thoughts may take for a small shell: about a second, with those below."""
LIGHT: Final = 40
"""Orbits of struts up to which a shell is small."""
WORK_LARGE: Final = 8000
"""Fits times orbits that second thoughts may take for a large shell: a few seconds."""
LEVELS_LARGE: Final = 40_000
"""Numbers of lengths times orbits that are solved for a large shell."""
LEAST_LEVELS: Final = 12
"""Numbers of lengths that are solved for any shell."""
SWEEPS: Final = 3
"""Times that the search runs up and down again over the numbers of lengths."""
FINE_MOST: Final = 30
"""Above this many lengths a merge is taken as it is; below, struts also change class."""
POLISHES: Final = 8
"""Steps of the finish of each number of lengths."""


@dataclass
class Budget:
    """Fits that may still be solved; counted down by the search that owns it."""

    left: int

    def take(self) -> bool:
        """Count one fit; False when none is left."""
        self.left -= 1
        return self.left >= 0


Best = dict[int, Fit]
Propose = Callable[[Reduced, Fit], list[Proposal]]


def search(
    model: Reduced, bounds: Bounds, top: Fit, aims: tuple[int, ...], progress: Progress
) -> tuple[Best, Best]:
    """Return the best fits that keep `bounds`, for numbers of lengths below that of `top`.

    With them, for other numbers, the fits that came nearest and break a bound.

    aims : numbers that are tried in any case; a large shell skips some of the others.

    Fits solved are counted, not timed, so that the same shell gives the same answer anywhere.
    """
    work, levels = _effort(len(model.struts), len(top.class_lengths), aims)
    budget = Budget(work)
    best: Best = {len(top.class_lengths): top}
    _descend(model, bounds, best, (levels, budget), progress)
    for sweep in range(SWEEPS):
        step(progress, "fewer lengths: second thoughts", sweep / SWEEPS)
        up = _again(model, bounds, best, (splits, budget), 1)
        down = _again(model, bounds, best, (merges, budget), -1)
        if not (up or down):
            break
    return _finish(model, bounds, best, len(top.class_lengths), progress)


def _effort(n_orbits: int, first: int, aims: tuple[int, ...]) -> tuple[int, list[int]]:
    """Return fits to spend on second thoughts, and the numbers of lengths to solve, falling."""
    work = int(WORK * min(1.0, LIGHT / n_orbits)) + min(2 * first, WORK_LARGE // n_orbits)
    n_levels = max(LEAST_LEVELS, LEVELS_LARGE // n_orbits)
    if first - 1 <= n_levels:
        return work, list(range(first - 1, 0, -1))
    spaced = np.unique(np.rint(np.geomspace(1, first - 1, n_levels)).astype(int)).tolist()
    return work, sorted({*spaced, *(k for k in aims if 0 < k < first)}, reverse=True)


def _descend(
    model: Reduced,
    bounds: Bounds,
    best: Best,
    how: tuple[list[int], Budget],
    progress: Progress,
) -> None:
    levels, budget = how
    above = first = max(best)
    hopeless = 0
    for k in levels:
        step(progress, "fewer lengths: merging", (first - k) / first)
        propose = merges if above - k == 1 else partial(merge_chain, down_to=k)
        _try(model, bounds, best, best[above], (propose, budget))
        if k not in best:
            break
        if best[k].slack > -HOPELESS:
            _transfer(model, bounds, best, k, budget)
        hopeless = hopeless + 1 if best[k].slack < -HOPELESS else 0
        if hopeless > 1:
            break
        above = k


def _again(
    model: Reduced, bounds: Bounds, best: Best, how: tuple[Propose, Budget], way: int
) -> bool:
    """Return True when some number of lengths got better from its neighbour."""
    better = False
    propose, budget = how
    for k in sorted(best, reverse=way < 0)[1:]:
        if k - way not in best:
            continue
        if budget.left <= 0 or k == max(best) or best[k - way].slack < -HOPELESS:
            continue
        if _try(model, bounds, best, best[k - way], (propose, budget)):
            better = True
            _transfer(model, bounds, best, k, budget)
    return better


def _transfer(model: Reduced, bounds: Bounds, best: Best, k: int, budget: Budget) -> None:
    while (
        k <= FINE_MOST
        and budget.left > 0
        and _try(model, bounds, best, best[k], (transfers, budget))
    ):
        pass


def _try(
    model: Reduced, bounds: Bounds, best: Best, origin: Fit, how: tuple[Propose, Budget]
) -> bool:
    """Solve what is proposed from `origin`; keep in `best` what is better; True when some was."""
    propose, budget = how
    found = False
    for foretold, class_of in propose(model, origin):
        k = int(class_of.max()) + 1
        known = fs.cost(model, best[k]) if k in best else np.inf
        # the first merge is always solved: below it nothing is known
        if foretold > WORTH * known or (k in best and not budget.take()):
            break
        new = _solved(model, bounds, class_of, origin, known)
        if new is not None and fs.cost(model, new) < (1 - fs.GAIN) * known:
            best[k] = new
            found = True
    return found


def _solved(
    model: Reduced, bounds: Bounds, class_of: Indices, origin: Fit, known: float
) -> Fit | None:
    now = origin.class_lengths[origin.class_of]
    start = np.bincount(class_of, model.counts * now) / np.bincount(class_of, model.counts)
    new = fs.fit(model, bounds, Fit(class_of, start, origin.q, 0.0, 0.0, 0.0, 0.0), worth=known)
    if new is None or not fs.cost(model, new) < PROMISING * known:
        return None if known < np.inf or new is None or np.isinf(fs.cost(model, new)) else new
    return fs.polish(model, bounds, new, 1)


def _finish(
    model: Reduced, bounds: Bounds, best: Best, top: int, progress: Progress
) -> tuple[Best, Best]:
    """Return those of `best` that keep every bound, their largest movement made least; others."""
    kept: Best = {}
    missed: Best = {}
    for n, k in enumerate(sorted(best)):
        step(progress, "fewer lengths: finishing", n / len(best))
        if k == top:
            continue
        found = settle(model, bounds, best[k])
        if found is not None and fs.is_kept(model, found):
            kept[k] = found
        else:
            missed[k] = best[k]
    return kept, missed


def settle(model: Reduced, bounds: Bounds, start: Fit) -> Fit | None:
    """Return the fit of the classes of `start` that keeps every bound and moves hubs least.

    One that breaks a bound, or None, where there is none.
    """
    found: Fit | None = fs.fit(model, bounds, start)
    if found is not None and not fs.is_kept(model, found):
        found = fs.fit(model, bounds, found, hard=True)
    if found is None or not fs.is_kept(model, found):
        return found
    return fs.polish(model, bounds, found, POLISHES, hard=True)
