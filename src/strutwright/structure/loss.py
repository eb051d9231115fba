"""Loss of any one strut: which single loss brings the kit down, and what props it meanwhile."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.frame import combine, forces_along, removed, respond
from strutwright.loads import Combination, LoadCase, factor_table
from strutwright.structure.probe import Probe, Trials, trials_of, tried, worst_under
from strutwright.structure.respond import StrutForces, case_loads
from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["StrutLoss", "strut_loss"]

STATIONS: Final = np.array([0.0, 0.5, 1.0])
"""Ends and middle of a strut."""
LOOSE: Final = np.inf


@dataclass(frozen=True, eq=False)
class StrutLoss(ArrayValue):
    """What the loss of each strut does to the kit.

    Parameters
    ----------
    utilisation : (S,) array
        Largest utilisation of the other struts and ends without it; infinite where the kit can
        then move without resistance.
    strut : (S,) int array
        The one that is used most then; itself where the kit is loose.
    code : tuple of str
        Rule, or ``mechanism``.
    combination : tuple of str
    carried : (S,) array, N
        Axial force of the strut in the whole kit under weight alone, tension positive: what props
        take over before it is taken out.
    combinations : tuple of str
        The combinations that were tried.
    """

    utilisation: Floats
    strut: Indices
    code: tuple[str, ...]
    combination: tuple[str, ...]
    carried: Floats
    combinations: tuple[str, ...]

    @property
    def fatal(self) -> Indices:
        """Return the struts whose loss brings the kit down, the worst first."""
        rows = np.flatnonzero(self.utilisation > 1.0)
        return rows[np.argsort(-self.utilisation[rows], kind="stable")]


def strut_loss(probe: Probe, combos: Sequence[Combination]) -> StrutLoss:
    """Return what the loss of each strut does to the kit under accidental combinations.

    Of `combos` those are tried that use the whole kit most: with weight and what is stored, with
    snow and with wind, one each. Resistances keep their usual partial factors. Ground and ties
    count as they do in the linear model: the ground holds, ties push as well as pull.

    Raises
    ------
    ResultError
        ``frame-too-large``: the kit has too many hubs for this way.
    """
    table = factor_table(probe.answers.cases, combos)
    chosen = _worst_of_each(probe, combos, table)
    sets = trials_of(probe, [combos[k] for k in chosen], table[chosen])
    struts = len(probe.bars.lengths)
    best = np.full(struts, -1.0)
    strut, code, name = np.arange(struts), [""] * struts, [""] * struts
    for trials, rows in sets:
        for lost, at, used, worst, words in _tried_without(probe, trials):
            for k, member in enumerate(lost):
                if used[k] > best[member]:
                    best[member], strut[member], code[member] = used[k], worst[k], words[k]
                    name[member] = combos[chosen[rows[at[k]]]].name
    first = probe.answers.solved[sets[0][0].span]
    weight = [case.action in {"dead", "cover"} for case in probe.answers.cases]
    carried = first.forces[: len(weight)][weight][:, :, 0, 0].sum(axis=0)
    return StrutLoss(
        best, strut, tuple(code), tuple(name), carried, tuple(combos[k].name for k in chosen)
    )


def _worst_of_each(probe: Probe, combos: Sequence[Combination], table: Floats) -> list[int]:
    """Return the combination that uses the whole kit most, of each kind of leading action."""
    cases = probe.answers.cases
    kinds = [
        next((a for a in ("snow", "wind") if _holds(cases, row, a)), "weight") for row in table
    ]
    used = tried(probe, combos, table).utilisation
    found = []
    for kind in dict.fromkeys(kinds):
        rows = [k for k, one in enumerate(kinds) if one == kind]
        found.append(max(rows, key=lambda k: float(used[k])))
    return found


def _holds(cases: Sequence[LoadCase], row: Floats, action: str) -> bool:
    return any(f and case.action == action for case, f in zip(cases, row, strict=True))


_Tried = tuple[Indices, Indices, Floats, Indices, list[str]]


def _tried_without(probe: Probe, trials: Trials) -> list[_Tried]:
    """Return, for each lost strut: the row of its worst trial, the utilisation, strut and rule."""
    solved = probe.answers.solved[trials.span]
    factored, model = solved.contact.factored, solved.model.frame
    given = [case_loads(case.hub_forces, case.line_loads) for case in probe.answers.cases]
    loads = [combine(given, row.tolist()) for row in trials.factors]
    whole, _ = forces_along(model, loads, respond(factored, loads), STATIONS)
    every = np.arange(len(model.members))
    found = []
    for few in removed(factored, loads, every):
        change = few.change
        ends = np.stack([-change[..., 0, :], change[..., 1, :]], axis=3)
        along = np.stack([ends[..., 0, :], ends.mean(axis=3), ends[..., 1, :]], axis=3)
        forces = whole + along
        count, rows = len(few.members), len(loads)
        forces[np.arange(count), :, few.members] = 0.0
        worst = worst_under(probe, _as_forces(forces), trials)
        used = np.where(few.loose, LOOSE, worst.utilisation.reshape(count, rows).T).T
        at = used.argmax(axis=1)
        pick = at + rows * np.arange(count)
        words = [
            "mechanism" if loose else worst.codes[int(k)]
            for loose, k in zip(few.loose, worst.rule[pick], strict=True)
        ]
        other = np.where(few.loose, few.members, worst.strut[pick])
        found.append((few.members, at, used.max(axis=1), other, words))
    return found


def _as_forces(forces: Floats) -> StrutForces:
    """Return (L, C, S, K, 6) forces as those of many shells, end to end."""
    flat = forces.reshape(-1, *forces.shape[3:])
    shear = np.hypot(flat[..., 1], flat[..., 2])
    return StrutForces(flat[..., 0], flat[..., 4], flat[..., 5], shear, np.zeros(len(flat)))
