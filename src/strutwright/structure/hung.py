"""What may hang from each hub: the largest downward force before a required check fails.

Every hub that is not the image of another is tried. A linear screen finds its force from answered
cases; at the weakest few the shell is then followed as it sinks, and the force is lowered where
it gives way or is used more than the screen knew.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from strutwright.loads import Combination, LoadCase, factor_table, hung_case
from strutwright.parts import Kit
from strutwright.sentences import sentence
from strutwright.shape.orbits import hub_orbits, symmetry
from strutwright.shape.riser import feet_of
from strutwright.structure.analyse import Setting, answer_cases
from strutwright.structure.probe import Probe, make_probe, refused, tried
from strutwright.structure.search import chord, largest_passing
from strutwright.structure.sink import Sinking, share_kept
from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["FOLLOWED", "MOST", "HungCapacity", "hung_capacity"]

FOLLOWED: Final = 5
"""Weakest hubs at which the shell is followed as it sinks."""
MOST: Final = 50e3
"""N; no hub is tried with more, the most that a load case takes."""
FIRST: Final = 2e3
"""N; where the search starts. Any value finds the same force."""
ENDS_AND_MIDDLE: Final = 4
"""Stations that the search looks at; what it finds is tried again at all of them."""
TOGETHER: Final = 96
"""Hubs whose unit loads are answered in one go."""

Combine = Callable[[Sequence[LoadCase]], Sequence[Combination]]


@dataclass(frozen=True, eq=False)
class HungCapacity(ArrayValue):
    """What may hang from each hub, N, as a load without factors.

    Parameters
    ----------
    with_dead_load : (H,) array, N
        With nothing else but the weight of kit and cover.
    with_design_snow : (H,) array, N
        With even snow, as the standard puts it together with a hung load.
    tried : (T,) int array
        Hubs that were worked out; the others are their images.
    followed : (F,) int array
        Hubs at which the shell was followed as it sinks; the rest were screened.
    lowered : (F,) array
        Share of the screened force that this left, with snow; without it the same is taken.
    strut : (H,) int array
        Strut that fails first, with snow.
    code : tuple of str
        Rule that fails first at each hub.
    combination : tuple of str
        Its combination.
    unknown : str
        Why a force may be too large: a required rule that could not be used; empty otherwise.
    """

    with_dead_load: Floats
    with_design_snow: Floats
    tried: Indices
    followed: Indices
    lowered: Floats
    strut: Indices
    code: tuple[str, ...]
    combination: tuple[str, ...]
    unknown: str

    @property
    def weakest(self) -> int:
        """Return the hub that carries least, with snow; where several carry nothing, without."""
        return int(np.lexsort((self.with_dead_load, self.with_design_snow))[0])


@dataclass(frozen=True, eq=False)
class _Screen:
    """T tried hubs: force (T,), what fails first, and the combination and probe behind it."""

    force: Floats
    strut: Indices
    code: list[str]
    combination: list[Combination]
    probe: list[Probe]
    refusals: tuple[str, ...]


def _together(reasons: tuple[str, ...]) -> str:
    """Return all reasons as one, empty where there are none."""
    if len(reasons) > 1:
        return sentence("joined", all=reasons)
    return reasons[0] if reasons else ""


def hung_capacity(
    kit: Kit, standing: Sequence[LoadCase], combine: Combine, setting: Setting
) -> HungCapacity:
    """Return what may hang from each hub of `kit`.

    Parameters
    ----------
    standing : sequence of LoadCase
        Weight of frame and cover, and even snow where there is any.
    combine : callable
        Makes the combinations for strength from load cases.

    Raises
    ------
    ResultError
        ``mechanism``: the kit can move without resistance.
    """
    orbit = hub_orbits(symmetry(kit.shell))
    _, first, place = np.unique(orbit, return_index=True, return_inverse=True)
    place = place.ravel()
    pairs = [
        _screened(kit, standing, combine, setting, first[at : at + TOGETHER])
        for at in range(0, len(first), TOGETHER)
    ]
    dead, snow = (_joined([pair[k] for pair in pairs]) for k in (0, 1))
    above = np.flatnonzero(~np.isin(first, feet_of(kit.shell)))
    weakest = above[np.lexsort((dead.force[above], snow.force[above]))[:FOLLOWED]]
    kept = np.array([_kept(snow, int(k), int(first[k])) for k in weakest])
    for screen in (dead, snow):
        screen.force[weakest] *= kept
    return HungCapacity(
        dead.force[place],
        snow.force[place],
        first,
        first[weakest],
        kept,
        snow.strut[place],
        tuple(snow.code[k] for k in place),
        tuple(
            snow.combination[k].name.replace(f"hub {first[0]}", f"hub {hub}")
            for hub, k in enumerate(place)
        ),
        _together(snow.refusals),
    )


def _joined(parts: list[_Screen]) -> _Screen:
    return _Screen(
        np.concatenate([part.force for part in parts]),
        np.concatenate([part.strut for part in parts]),
        [code for part in parts for code in part.code],
        [combo for part in parts for combo in part.combination],
        [probe for part in parts for probe in part.probe],
        parts[0].refusals,
    )


def _screened(
    kit: Kit, standing: Sequence[LoadCase], combine: Combine, setting: Setting, hubs: Indices
) -> tuple[_Screen, _Screen]:
    """Return what the linear answers allow at `hubs`, with weight alone and with snow."""
    units = [hung_case(kit.shell, int(hub), 1.0) for hub in hubs]
    unit, snow = units[0].name, {case.name for case in standing if case.action == "snow"}
    weight = [case for case in standing if case.action != "snow"]
    sets = [
        [combo for combo in combine([*weight, units[0]]) if _names(combo) >= {unit}],
        [
            combo
            for combo in combine([*standing, units[0]])
            if unit in _names(combo) and (not snow or snow & _names(combo))
        ],
    ]
    cases = [*standing, *units]
    probe = make_probe(kit, answer_cases(kit, cases, sets[0] + sets[1], setting), setting)
    dead, with_snow = (_largest(probe, combos, len(standing), hubs) for combos in sets)
    return dead, with_snow


def _names(combo: Combination) -> set[str]:
    return {name for name, _ in combo.factors}


def _largest(probe: Probe, combos: list[Combination], first: int, hubs: Indices) -> _Screen:
    """Return the largest forces at `hubs`, whose unit cases start at place `first`."""
    table = factor_table(probe.answers.cases, combos)
    factor = table[:, first].copy()
    table[:, first] = 0.0
    hub, combo = (grid.ravel() for grid in np.mgrid[: len(hubs), : len(combos)])

    def rows_of(rows: Indices, force: Floats) -> Floats:
        filled: Floats = table[combo[rows]]
        filled[np.arange(len(rows)), first + hub[rows]] = factor[combo[rows]] * force
        return filled

    coarse = replace(probe, every=ENDS_AND_MIDDLE)

    def usage(rows: Indices, force: Floats) -> Floats:
        return tried(coarse, [combos[k] for k in combo[rows]], rows_of(rows, force)).utilisation

    every = np.arange(len(hub))
    found = largest_passing(usage, np.full(len(every), FIRST), MOST).reshape(len(hubs), -1)
    row = found.argmin(axis=1) + len(combos) * np.arange(len(hubs))
    force = found.min(axis=1)
    chosen = [combos[k] for k in combo[row]]
    worst = tried(probe, chosen, rows_of(row, force))
    still = tried(probe, chosen, rows_of(row, 0.0 * force)).utilisation
    return _Screen(
        force * np.where(force > 0, chord(still, worst.utilisation), 0.0),
        worst.strut,
        [worst.codes[k] for k in worst.rule],
        chosen,
        [probe] * len(hubs),
        refused(probe, combos[0]),
    )


def _kept(screen: _Screen, k: int, hub: int) -> float:
    """Return the share of the screened force that is left once the shell is followed."""
    force = float(screen.force[k])
    if force <= 0.0:
        return 1.0
    probe, combo = screen.probe[k], screen.combination[k]
    names = {case.name: case for case in probe.answers.cases}
    hung = next(name for name, _ in combo.factors if names[name].action == "hung")
    factor = dict(combo.factors)[hung]
    standing = tuple((name, f) for name, f in combo.factors if name != hung)
    return share_kept(probe, Sinking(combo, standing, f"hung at hub {hub}", factor * force))
