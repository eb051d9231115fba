"""Stability of the whole shell: linear buckling, then the path of the imperfect shell."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.catalogue import Source
from strutwright.errors import ResultError
from strutwright.frame import (
    Division,
    Loads,
    PathSettings,
    divide_loads,
    imperfect,
    mode_kind,
    subdivide,
    trace,
    undivided,
)
from strutwright.loads import Combination
from strutwright.parts import Kit
from strutwright.progress import SILENT, Progress, step
from strutwright.shape import Shell
from strutwright.structure.analyse import bars_of
from strutwright.structure.answers import Answers, Setting
from strutwright.structure.buckle import (
    PIECES,
    Buckled,
    frame_of,
    own_euler,
    scenes,
    worst_buckling,
)
from strutwright.values import ArrayValue, Floats

__all__ = [
    "BEYOND",
    "REQUIRED",
    "SMALL",
    "SOURCE",
    "Stability",
    "Trial",
    "shell_stability",
    "spread_shape",
]

REQUIRED: Final = {"hub": 4.2, "member": 2.0}
"""Factor on loads without factors that the elastic path of the imperfect shell must reach.

4.2 where hubs move and the shell snaps through; 2.0 where struts bow between hubs, for their
yielding is in the checks of struts.
"""
SOURCE: Final = Source(
    "JGJ 7, load factor of single-layer lattice shells on loads without factors: 4.2 elastic, "
    "2.0 where yielding is counted; imperfection span/300. EN and ASCE give no factor",
    2010, "4.3.4", "recalled",
)  # fmt: skip
SMALL: Final = 10.0
"""Buckling factor above which hubs need no path of their own: second-order effects are small.

Source: EN 1993-1-1, 5.2.1(3), elastic analysis, recalled.
"""
SHARES: Final = (300.0, 1000.0)
"""The largest move of a hub is the span over this."""
BEYOND: Final = 1.05
"""Multiple of what is required to which a path is followed."""
PATHS: Final = 3
"""Combinations that a thorough check follows, at each end of the joints' stiffness."""


@dataclass(frozen=True)
class Trial:
    """One path of the imperfect shell.

    Parameters
    ----------
    combination : str
    end : str
        Of the connector's stiffness, ``low`` or ``high``.
    shape : str
        ``buckling`` or ``spread``, and its sense.
    amplitude : float, m
    factor : float
        Load factor of the first limit point or bifurcation; where none was met, the last reached.
    kind : str
        ``hub`` or ``member``: what gives; ``hub`` where nothing did.
    ended : str
        As in `strutwright.frame.Path`; ``own buckling`` where a hinged strut reaches its Euler
        load first.
    """

    combination: str
    end: str
    shape: str
    amplitude: float
    factor: float
    kind: str
    ended: str

    @property
    def required(self) -> float:
        """Return the factor that is asked for."""
        return REQUIRED[self.kind]

    @property
    def known(self) -> bool:
        """Return whether it says that the shell stands or falls: a cut path may say neither."""
        return self.ended not in {"steps", "no convergence"} or self.factor >= self.required


@dataclass(frozen=True, eq=False)
class Stability(ArrayValue):
    """How far the shell is from losing its shape.

    Parameters
    ----------
    buckled : tuple of Buckled
        Linear buckling of the worst combinations, worst first.
    screened : int
        Combinations that were screened and found milder.
    trials : tuple of Trial
        Paths of the imperfect shell, worst first; none where no load buckles it.
    end : str
        Ends of the joints' stiffness that were tried: ``low``, ``high``, ``low and high``.
    """

    buckled: tuple[Buckled, ...]
    screened: int
    trials: tuple[Trial, ...]
    end: str


def shell_stability(
    kit: Kit,
    answers: Sequence[tuple[Setting, Answers]],
    combos: Sequence[Combination],
    *,
    thorough: bool = False,
    progress: Progress = SILENT,
) -> Stability:
    """Return the stability of `kit` under `combos`, loads without factors.

    Quick: linear buckling of the worst combinations, then the governing one followed with hubs
    moved along its buckling shape by span/300 to either side. Thorough: the worst three, with
    buckling and spread shapes of span/300 and span/1000 to either side.

    Parameters
    ----------
    answers : sequence of (Setting, Answers)
        One for each end of the joints' stiffness.
    """
    buckled: list[Buckled] = []
    trials: list[Trial] = []
    for setting, solved in answers:
        found = scenes(kit, solved, combos, setting)
        bars, _ = bars_of(kit, setting.temperature)
        worst = worst_buckling(solved, found, bars, progress)
        buckled.extend(worst)
        for b in _governing(worst, PATHS if thorough else 1):
            plans = list(_shapes(kit.shell, b, thorough=thorough))
            for number, (name, shape, amplitude) in enumerate(plans):
                step(progress, "nonlinear path", number / len(plans))
                trials.append(_followed(solved, setting, b, (name, shape, amplitude)))
    buckled.sort(key=_margin)
    trials.sort(key=lambda t: t.factor / t.required)
    ends = " and ".join(setting.end for setting, _ in answers)
    return Stability(tuple(buckled), max(len(combos) - len(buckled), 0), tuple(trials), ends)


def _margin(buckled: Buckled) -> float:
    return min(buckled.factor / REQUIRED[buckled.kind], buckled.hubs / SMALL)


def _governing(worst: Sequence[Buckled], count: int) -> list[Buckled]:
    """Return the combinations to follow: those that buckle, the least margin first."""
    able = [b for b in worst if 0 < min(b.factor, b.hubs) < np.inf]
    return sorted(able, key=_margin)[:count]


def _shapes(
    shell: Shell, buckled: Buckled, *, thorough: bool
) -> Iterator[tuple[str, Floats, float]]:
    """Return the imperfections to try: name, shape (H, 3) and amplitude, m."""
    span = float(min(np.ptp(shell.hubs[:, 0]), np.ptp(shell.hubs[:, 1])))
    shapes = {"buckling": buckled.mode} if buckled.mode.any() else {}
    if thorough or not shapes:
        shapes["spread"] = spread_shape(shell.hubs)
    for share in SHARES if thorough else SHARES[:1]:
        for name, shape in shapes.items():
            for sign in (1.0, -1.0):
                sense = "+" if sign > 0 else "-"
                yield f"{name} {sense} span/{share:.0f}", shape, sign * span / share


def spread_shape(hubs: Floats) -> Floats:
    """Return (H, 3) a spread base: both sides go out at mid-length, the crown sinks."""
    length = float(np.ptp(hubs[:, 0])) or 1.0
    width, rise = float(np.ptp(hubs[:, 1])) or 1.0, float(np.ptp(hubs[:, 2])) or 1.0
    middle = np.cos(np.pi * (hubs[:, 0] - hubs[:, 0].mean()) / length)
    height = (hubs[:, 2] - hubs[:, 2].min()) / rise
    side = 2.0 * (hubs[:, 1] - hubs[:, 1].mean()) / width
    out = np.zeros_like(hubs)
    out[:, 1] = side * (1.0 - height) * middle
    out[:, 2] = -height * middle
    return out


def _followed(
    answers: Answers, setting: Setting, buckled: Buckled, plan: tuple[str, Floats, float]
) -> Trial:
    """Return the path under one combination with one imperfection.

    Struts are cut, with elements that bow; where a strut bows first though the hubs are near to
    moving, the hubs' own path is followed too, struts kept straight, and the worse one told.
    """
    name, shape, amplitude = plan
    scene = buckled.scene
    model, loads = frame_of(answers.solved[scene.span], scene, answers.cases)
    bent = imperfect(model, shape, amplitude)
    head = (scene.combination.name, setting.end, name, abs(amplitude))
    made = answers.solved[scene.span].model
    own = own_euler(model, scene.axial, made.coupled)
    found = _path(subdivide(bent, PIECES), loads, len(model.nodes), own)
    if found[1] == "member" and buckled.hubs < SMALL:
        other = _path(undivided(bent), loads, len(model.nodes), np.inf)
        found = min(found, other, key=lambda f: f[0] / REQUIRED[f[1]])
    return Trial(*head, *found)


def _path(division: Division, loads: Loads, hubs: int, own: float) -> tuple[float, str, str]:
    """Return load factor, what gives, and how the path ended; cut struts bow, whole ones do not."""
    is_cut = len(division.model.nodes) > hubs
    element = "bowed" if is_cut else "straight"
    settings = PathSettings(target=BEYOND * max(REQUIRED.values()), first=0.1, element=element)
    try:
        path = trace(division.model, divide_loads(division, loads), settings)
    except ResultError as error:
        if error.code != "mechanism":
            raise
        return 0.0, "hub", "mechanism"
    reached = float(path.factors.max())
    kind, ended = "hub", path.ended
    if path.limit_load_factor is not None:
        reached = path.limit_load_factor
        kind = mode_kind(division, path.mode, hubs) if is_cut else "hub"
    if own < reached:
        return own, "member", "own buckling"
    return reached, kind, ended
