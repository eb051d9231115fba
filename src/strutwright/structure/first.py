"""What fails first when snow or wind grows: each action scaled until a strut or an end is used up.

The answered cases are added up again with the action's factors scaled; nothing is solved anew.
Pressure of wind grows with the square of its speed. Snow on the roof grows with the snow on the
ground; snow against the base deepens in another way, so it is never taken beyond the site's.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np

from strutwright.frame.model import Flags
from strutwright.loads import GRAVITY, Combination, factor_table
from strutwright.structure.probe import Probe, Worst, tried
from strutwright.structure.search import CLOSE, largest_passing
from strutwright.values import Floats, Indices

__all__ = ["ACTIONS", "DENSITIES", "FirstFailure", "first_failure", "snow_depths"]

DENSITIES: Final = (100, 200, 400)
"""kg/m3: fresh, settled, and old or wet snow."""
MOST: Final = 100.0
"""No action is scaled further: ten times the wind speed."""
TOP: Final = 6
"""Combinations that are searched at a time: those that are used most."""
ROUNDS: Final = 12
"""Most rounds of searching the worst and looking at all again."""
AT_BASE: Final = "at the base"
"""What the names of cases say whose snow lies against the base."""
LEAST: Final = "wind least"
"""How the names of cases begin that a standard asks for at any wind speed."""
ACTIONS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {"snow": ("snow",), "wind": ("wind", "bare wind")}
)


@dataclass(frozen=True)
class FirstFailure:
    """How far an action grows before something fails.

    Parameters
    ----------
    action : str
        ``snow`` or ``wind``.
    factor : float or None
        On the action of the brief: 1 is the site's; 0 where the kit fails without it; None where
        it is not what fails the kit even at `MOST` times the site's.
    code : str
        Rule that fails first.
    strut : int
    combination : str
    """

    action: str
    factor: float | None
    code: str
    strut: int
    combination: str


def first_failure(probe: Probe, combos: Sequence[Combination], action: str) -> FirstFailure | None:
    """Return what fails first when `action` grows, or None where no combination holds it."""
    cases = probe.answers.cases
    table = factor_table(cases, combos)
    grows = np.array(
        [case.action in ACTIONS[action] and not case.name.startswith(LEAST) for case in cases]
    )
    moving = np.flatnonzero(table[:, grows].any(axis=1))
    if not len(moving):
        return None
    still = np.setdiff1d(np.arange(len(combos)), moving)
    site = tried(probe, combos, table)
    bad = still[site.utilisation[still] > 1.0]
    if len(bad):
        row = int(bad[np.argmax(site.utilisation[bad])])
        return _named(combos, site, row, action, factor=0.0)
    most = np.array([1.0 if AT_BASE in case.name else MOST for case in cases])
    scaled = _Scaled(probe, combos, table, grows, most)
    factor, worst, row = _smallest(scaled, moving, site.utilisation[moving])
    at = None if factor >= MOST else factor
    return _named([combos[int(k)] for k in moving], worst, row, action, factor=at)


@dataclass(frozen=True, eq=False)
class _Scaled:
    """Combinations whose growing cases can be scaled."""

    probe: Probe
    combos: Sequence[Combination]
    table: Floats
    grows: Flags
    most: Floats

    def tried(self, rows: Indices, factors: Floats) -> Worst:
        """Return what is used most in combinations `rows`, the action times `factors`."""
        grown = np.minimum(np.asarray(factors)[:, None], self.most)
        scale = np.where(self.grows, grown, 1.0)
        return tried(self.probe, [self.combos[k] for k in rows], self.table[rows] * scale)


def _smallest(scaled: _Scaled, moving: Indices, used: Floats) -> tuple[float, Worst, int]:
    """Return the smallest factor at which one of `moving` is used up, and which it is."""
    factor, worst, top = MOST, None, np.argsort(-used)[:TOP]
    for _ in range(ROUNDS):
        rows = moving[top]
        found = largest_passing(
            lambda few, factors, rows=rows: scaled.tried(rows[few], factors).utilisation,  # type: ignore[misc]
            np.ones(len(rows)),
            MOST,
        )
        factor = min(factor, float(found.min()))
        worst = scaled.tried(moving, np.full(len(moving), factor))
        over = worst.utilisation > 1.0 + CLOSE
        if not over.any() or factor <= 0.0:
            break
        top = np.argsort(-worst.utilisation)[:TOP]
    if worst is None:
        msg = "no combination was searched"
        raise ValueError(msg)
    return factor, worst, int(np.argmax(worst.utilisation))


def _named(
    combos: Sequence[Combination], worst: Worst, row: int, action: str, *, factor: float | None
) -> FirstFailure:
    code = worst.codes[int(worst.rule[row])]
    return FirstFailure(action, factor, code, int(worst.strut[row]), combos[row].name)


def snow_depths(pressure: float) -> dict[int, float]:
    """Return the depth, m, of snow that weighs `pressure`, Pa, by its density, kg/m3."""
    return {density: pressure / (density * GRAVITY) for density in DENSITIES}
