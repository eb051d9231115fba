"""Many trial combinations at once: the worst utilisation of each, without a new solution.

Every trial is a row of factors on load cases whose answers are known. The shells of all trials
are laid end to end, so that the rules for struts and ends see one long list of struts.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np
from scipy.sparse import csr_array

from strutwright.catalogue import Source
from strutwright.loads import Combination, duration_of
from strutwright.parts import Kit
from strutwright.structure.analyse import Answers, Refusal, Setting, bars_of
from strutwright.structure.answers import Solved
from strutwright.structure.bars import Bars, Effect, MemberUse, Refused
from strutwright.structure.contact import ROUNDING, settle_all
from strutwright.structure.couplers import coupler_uses
from strutwright.structure.joints import joint_uses, tie_uses
from strutwright.structure.members import member_uses
from strutwright.structure.respond import StrutForces
from strutwright.values import ArrayValue, Floats, Indices

__all__ = [
    "Probe",
    "Trials",
    "Worst",
    "make_probe",
    "refused",
    "trial_forces",
    "trials_of",
    "tried",
    "worst_of",
    "worst_under",
]

BATCH: Final = 400_000
"""Struts times stations that are looked at in one go (our choice: some 100 MB)."""


@dataclass(frozen=True, eq=False)
class Probe:
    """What trials are held against.

    Parameters
    ----------
    kit : Kit
    answers : Answers
        To all cases that trials name.
    setting : Setting
    bars : Bars
    refusals : tuple of Refusal
        Rules that cannot be used, so that no trial speaks for them.
    every : int
        Stations along the struts are looked at one in so many: 4 takes ends and middle alone.
    """

    kit: Kit
    answers: Answers
    setting: Setting
    bars: Bars
    refusals: tuple[Refusal, ...]
    every: int = 1


@dataclass(frozen=True, eq=False)
class Trials(ArrayValue):
    """Rows of factors that share one load duration and one format.

    Parameters
    ----------
    factors : (B, C) array
        Of the cases of the answers.
    span : str
        Load duration whose modulus rules the stiffness.
    duration : str
        Load duration that decides the strength.
    format : str
        ``factored`` or ``allowable``.
    """

    factors: Floats
    span: str
    duration: str
    format: Literal["factored", "allowable"]


@dataclass(frozen=True, eq=False)
class Worst(ArrayValue):
    """What is used most in each of B trials.

    Parameters
    ----------
    utilisation : (B,) array
    strut : (B,) int array
    rule : (B,) int array
        Row of `codes` and `sources`.
    codes : tuple of str
    sources : tuple of Source
    """

    utilisation: Floats
    strut: Indices
    rule: Indices
    codes: tuple[str, ...]
    sources: tuple[Source, ...]


def make_probe(kit: Kit, answers: Answers, setting: Setting) -> Probe:
    """Return what trials on `kit` are held against."""
    bars, refusals = bars_of(kit, setting.temperature)
    return Probe(kit, answers, setting, bars, refusals)


def refused(probe: Probe, combo: Combination) -> tuple[str, ...]:
    """Return why rules cannot be used on the kit, each reason once; empty where all can."""
    n, kind = len(probe.bars.lengths), probe.answers.cases
    still = np.zeros((n, 1))
    forces = StrutForces(still, still, still, still, np.zeros(n))
    effect = Effect("", _strength(combo.format), duration_of(kind, combo), forces)
    found = [refusal.why for refusal in probe.refusals]
    for rule in _rules(probe, probe.bars, effect):
        try:
            rule()
        except Refused as reason:
            found.append(reason.why)
    return tuple(dict.fromkeys(found))


def trials_of(
    probe: Probe, combos: Sequence[Combination], factors: Floats
) -> list[tuple[Trials, Indices]]:
    """Return rows of `factors` (B, C), one for each of `combos`, sorted by duration.

    With each set goes the (b,) list of its rows.
    """
    cases, creeps = probe.answers.cases, bool(probe.kit.stock.material.modulus_by_duration)
    heads: dict[tuple[str, str, str], list[int]] = {}
    for row, combo in enumerate(combos):
        span = duration_of(cases, combo, longest=True) if creeps else "gust"
        duration = span if creeps else duration_of(cases, combo)
        heads.setdefault((span, duration, combo.format), []).append(row)
    return [
        (Trials(factors[rows], span, duration, _strength(format_)), np.array(rows))
        for (span, duration, format_), rows in heads.items()
    ]


def _strength(format_: str) -> Literal["factored", "allowable"]:
    return "factored" if format_ == "factored" else "allowable"


def tried(probe: Probe, combos: Sequence[Combination], factors: Floats) -> Worst:
    """Return what is used most under each of `combos`, with `factors` (B, C) in their place."""
    parts = [(worst_of(probe, trials), rows) for trials, rows in trials_of(probe, combos, factors)]
    codes = parts[0][0].codes
    utilisation, strut, rule = np.zeros(len(combos)), *np.zeros((2, len(combos)), dtype=int)
    for worst, rows in parts:
        utilisation[rows], strut[rows], rule[rows] = worst.utilisation, worst.strut, worst.rule
    return Worst(utilisation, strut, rule, codes, parts[0][0].sources)


def worst_of(probe: Probe, trials: Trials) -> Worst:
    """Return what is used most in each row of `trials`, by the rules that can be used."""
    stations = -(-probe.answers.solved[trials.span].forces.shape[2] // probe.every)
    size = max(1, BATCH // (len(probe.bars.lengths) * stations))
    parts = [
        _batch(probe, replace(trials, factors=trials.factors[first : first + size]))
        for first in range(0, len(trials.factors), size)
    ]
    return Worst(
        np.concatenate([part.utilisation for part in parts]),
        np.concatenate([part.strut for part in parts]),
        np.concatenate([part.rule for part in parts]),
        parts[0].codes,
        parts[0].sources,
    )


def _batch(probe: Probe, trials: Trials) -> Worst:
    return worst_under(probe, trial_forces(probe, trials), trials)


def worst_under(probe: Probe, forces: StrutForces, trials: Trials) -> Worst:
    """Return what is used most under `forces` of the struts of one trial after the other.

    Of `trials` duration and format alone are heeded.
    """
    struts = len(probe.bars.lengths)
    rows = len(forces.axial) // struts
    bars = probe.bars.repeated(rows)
    effect = Effect("", trials.format, trials.duration, forces)
    uses = _uses(probe, bars, effect)
    table = np.stack([use.utilisation for use in uses]).reshape(len(uses), rows, struts)
    by_strut = table.argmax(axis=2)
    by_rule = np.take_along_axis(table, by_strut[..., None], axis=2)[..., 0]
    rule = by_rule.argmax(axis=0)
    at = np.arange(rows)
    return Worst(
        by_rule[rule, at],
        by_strut[rule, at],
        rule,
        tuple(use.code for use in uses),
        tuple(use.source for use in uses),
    )


def _shares(solved: Solved, factors: Floats, press: Floats) -> Floats:
    """Return (B, C + U) shares of cases and movements; a held base whose ties all pull is quick."""
    if len(solved.model.frame.contacts.nodes) == 0:
        pull = factors @ solved.asked
        small = ROUNDING * np.abs(pull).max(axis=1, initial=0.0)
        if not (pull < -small[:, None]).any():
            still = np.zeros((len(factors), len(solved.contact.units)))
            return np.concatenate([factors, still], axis=1)
    states = settle_all([solved] * len(factors), factors, press)
    return np.stack([state.shares for state in states])


def trial_forces(probe: Probe, trials: Trials) -> StrutForces:
    """Return the forces of all trials, struts of the first trial first."""
    solved = probe.answers.solved[trials.span]
    dead = [case.action == "dead" for case in probe.answers.cases]
    press = trials.factors[:, dead].max(axis=1, initial=0.0) * (probe.setting.ballast or 0.0)
    shares = csr_array(_shares(solved, trials.factors, press))
    known = solved.forces[:, :, :: probe.every]
    added = np.asarray(shares @ known.reshape(len(known), -1))
    forces = added.reshape(-1, *known.shape[2:])
    shear = np.hypot(forces[..., 1], forces[..., 2])
    return StrutForces(forces[..., 0], forces[..., 4], forces[..., 5], shear, np.zeros(len(forces)))


def _rules(
    probe: Probe, bars: Bars, effect: Effect
) -> tuple[Callable[[], tuple[MemberUse, ...]], ...]:
    return (
        lambda: member_uses(bars, effect, probe.setting.family),
        lambda: joint_uses(probe.kit, bars, effect),
        lambda: tie_uses(probe.kit, bars, effect),
        lambda: coupler_uses(probe.kit, bars, effect),
    )


def _uses(probe: Probe, bars: Bars, effect: Effect) -> tuple[MemberUse, ...]:
    found: list[MemberUse] = []
    for rule in _rules(probe, bars, effect):
        try:
            found.extend(rule())
        except Refused:
            continue  # said once, by `refused`
    if not found:
        none = Source("no rule for this kit can be used", how="judgement")
        return (MemberUse("strut-resistance", np.zeros(len(bars.lengths)), none),)
    return tuple(found)
