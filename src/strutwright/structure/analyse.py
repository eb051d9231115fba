"""All combinations on one kit: how far every strut is used, what holds the base, what moves."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from strutwright.catalogue import Source
from strutwright.loads import Combination, LoadCase, duration_of, factor_table
from strutwright.parts import Kit
from strutwright.shape.measure import node_lengths
from strutwright.shape.riser import feet_of
from strutwright.structure.answers import (
    Answers,
    Setting,
    added,
    answer_cases,
    stiffness_duration,
)
from strutwright.structure.bars import Bars, Effect, Family, MemberUse, Refused
from strutwright.structure.contact import BaseState, settle_all, stacked
from strutwright.structure.couplers import UNTESTED, coupler_shares
from strutwright.structure.joints import end_offsets, joint_uses, tie_uses
from strutwright.structure.members import member_uses
from strutwright.structure.respond import StrutForces
from strutwright.values import ArrayValue, Floats, Indices, Note

__all__ = [
    "Analysis",
    "Answers",
    "Refusal",
    "Setting",
    "Use",
    "analyse",
    "answer_cases",
    "bars_of",
]


@dataclass(frozen=True, eq=False)
class Use(ArrayValue):
    """The worst utilisation of every strut by one rule, and the combination that gives it."""

    code: str
    worst: Floats
    combination: Indices
    source: Source


@dataclass(frozen=True)
class Refusal:
    """A check that could not be made, with its reason."""

    code: str
    why: str


@dataclass(frozen=True, eq=False)
class Analysis(ArrayValue):
    """What all combinations do to a kit.

    Parameters
    ----------
    combinations : tuple of Combination
        N of them, in one format.
    uses : tuple of Use
    refusals : tuple of Refusal
    reactions : (N, G, 3) array, N
        Of the ground on each hub that meets it.
    displacements : (N, H, 3) array, m
    sag : (N, S) array, m
        Largest deflection of each strut against the line between its ends.
    ground : (G,) int array
    notes : tuple of Note
    base : BaseState
        What lifts, slides and hangs slack. Where a kit comes loose, forces are those of one that
        is held: `base_checks` then fails.
    held : (N, G, 3) array, N
        Reactions if every hub were held and every tie could push.
    weight : (N,) array
        Factor of the frame's weight in each combination.
    """

    combinations: tuple[Combination, ...]
    uses: tuple[Use, ...]
    refusals: tuple[Refusal, ...]
    reactions: Floats
    displacements: Floats
    sag: Floats
    ground: Indices
    notes: tuple[Note, ...]
    base: BaseState
    held: Floats
    weight: Floats

    @property
    def slid(self) -> Floats:
        """Return (N, G) how far each hub on the ground slides, m."""
        moved: Floats = np.linalg.norm(self.displacements[:, self.ground, :2], axis=2)
        return moved


def bars_of(kit: Kit, temperature: float) -> tuple[Bars, tuple[Refusal, ...]]:
    """Return the struts of `kit` as bars, and what is not known of their couplers and ends."""
    refusals: list[Refusal] = []
    try:
        offset = end_offsets(kit)
    except Refused as reason:
        refusals.append(Refusal("strut-eccentricity", str(reason)))
        offset = np.zeros(len(kit.shell.struts))
    couplers, more = _couplers(kit)
    lengths = node_lengths(kit.shell)
    return Bars(kit.stock, lengths, couplers, offset, temperature), (*refusals, *more)


def _couplers(kit: Kit) -> tuple[Floats, tuple[Refusal, ...]]:
    """Return the (S,) share of the Euler load that couplers leave."""
    coupled = [kind for kind in kit.strut_types if kind.coupler_at]
    shares = coupler_shares(kit, kit.stock.material.modulus)
    if not coupled or kit.connector.coupler_stiffness is not None:
        return shares, ()
    labels = ", ".join(kind.label for kind in coupled)
    why = (
        f"struts have couplers whose stiffness was not tested: type {labels}; c L/EI of "
        f"{UNTESTED[0]:g} is taken, which leaves {shares.min():.2f} of a strut's Euler load"
    )
    return shares, (Refusal("coupler-stiffness", why),)


def analyse(
    kit: Kit, answers: Answers, combos: Sequence[Combination], setting: Setting
) -> Analysis:
    """Return what `combos` do to `kit`, from the `answers` to their cases."""
    bars, refusals = bars_of(kit, setting.temperature)
    cases, ground = answers.cases, feet_of(kit.shell)
    table = factor_table(cases, combos)
    weight = table[:, [case.action == "dead" for case in cases]].max(axis=1, initial=0.0)
    press = weight * (setting.ballast or 0.0)
    n, shell = len(combos), kit.shell
    reactions, held = np.zeros((n, len(ground), 3)), np.zeros((n, len(ground), 3))
    displacements = np.zeros((n, len(shell.hubs), 3))
    sag = np.zeros((n, len(shell.struts)))
    effects: list[Effect] = []
    spans = [stiffness_duration(kit, cases, combo) for combo in combos]
    states = settle_all([answers.solved[span] for span in spans], table, press)
    for k, (combo, span) in enumerate(zip(combos, spans, strict=True)):
        solved = answers.solved[span]
        forces, reactions[k], displacements[k] = added(solved, states[k].shares)
        held[k] = np.tensordot(table[k], solved.reactions[: len(cases)], axes=1)
        sag[k] = forces.sag
        if combo.format != "-":
            effects.append(_effect(kit, cases, combo, span, forces))
    uses, missing = _uses(kit, bars, effects, setting.family)
    return Analysis(
        tuple(combos), uses, (*refusals, *missing), reactions, displacements, sag, ground,
        answers.notes, stacked(states), held, weight,
    )  # fmt: skip


def _effect(
    kit: Kit, cases: Sequence[LoadCase], combo: Combination, span: str, forces: StrutForces
) -> Effect:
    creeps = bool(kit.stock.material.modulus_by_duration)
    duration = span if creeps else duration_of(cases, combo)
    return Effect(
        combo.name, "factored" if combo.format == "factored" else "allowable", duration, forces
    )


def _uses(
    kit: Kit, bars: Bars, effects: Sequence[Effect], family: Family
) -> tuple[tuple[Use, ...], tuple[Refusal, ...]]:
    refusals: list[Refusal] = []
    found: dict[str, tuple[Floats, Indices, Source]] = {}
    rules: dict[str, Callable[[Effect], tuple[MemberUse, ...]]] = {
        "strut-resistance": lambda effect: member_uses(bars, effect, family),
        "joint-strength": lambda effect: joint_uses(kit, bars, effect),
        "tie-strength": lambda effect: tie_uses(kit, bars, effect),
    }
    for code, rule in rules.items():
        for k, effect in enumerate(effects):
            try:
                uses = rule(effect)
            except Refused as reason:
                refusals.append(Refusal(code, str(reason)))
                break
            for use in uses:
                _keep_worst(found, use, k)
    return (
        tuple(Use(code, *kept) for code, kept in found.items()),
        tuple(dict.fromkeys(refusals)),
    )


def _keep_worst(found: dict[str, tuple[Floats, Indices, Source]], use: MemberUse, row: int) -> None:
    if use.code not in found:
        start = np.full(len(use.told), row)
        found[use.code] = (use.told.copy(), start, use.source)
        return
    worst, at, source = found[use.code]
    more = use.told > worst
    found[use.code] = (
        np.where(more, use.told, worst), np.where(more, row, at), source
    )  # fmt: skip
