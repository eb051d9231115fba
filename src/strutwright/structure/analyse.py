"""All combinations on one kit: how far every strut is used, what holds the base, what moves."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.catalogue import Source
from strutwright.loads import Combination, LoadCase, duration_of, factor_table
from strutwright.loads.case import Format
from strutwright.parts import Kit
from strutwright.sentences import sentence
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
from strutwright.structure.couplers import UNTESTED, coupler_shares, coupler_uses
from strutwright.structure.joints import end_offsets, joint_uses, tie_uses
from strutwright.structure.members import member_uses
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


TOGETHER: Final = 20_000
"""Struts that rules look at in one go, of many combinations end to end (our choice)."""


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
        refusals.append(Refusal("strut-eccentricity", reason.why))
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
    least = {"stiffness": UNTESTED[0], "share": float(shares.min())}
    why = sentence("refused.coupler-stiffness", types=labels, **least)
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
    spans = [stiffness_duration(kit, cases, combo) for combo in combos]
    states = settle_all([answers.solved[span] for span in spans], table, press)
    rules = _Rules(kit, bars, setting.family, {}, {})
    for (span, duration, format_), rows in _alike(kit, cases, combos, spans):
        solved = answers.solved[span]
        forces, reactions[rows], displacements[rows] = added(
            solved, np.stack([states[k].shares for k in rows])
        )
        held[rows] = np.tensordot(table[rows], solved.reactions[: len(cases)], axes=1)
        sag[rows] = forces.sag.reshape(len(rows), -1)
        if format_ != "-":
            rules.hold(Effect("", format_, duration, forces), rows)
    return Analysis(
        tuple(combos), rules.uses, (*refusals, *rules.refusals), reactions, displacements, sag,
        ground, answers.notes, stacked(states), held, weight,
    )  # fmt: skip


def _alike(
    kit: Kit, cases: Sequence[LoadCase], combos: Sequence[Combination], spans: Sequence[str]
) -> Iterator[tuple[tuple[str, str, Format], Indices]]:
    """Yield the rows of combinations that share stiffness, duration and format, not too many."""
    creeps = bool(kit.stock.material.modulus_by_duration)
    groups: dict[tuple[str, str, Format], list[int]] = {}
    for row, (combo, span) in enumerate(zip(combos, spans, strict=True)):
        duration = span if creeps else duration_of(cases, combo)
        groups.setdefault((span, duration, combo.format), []).append(row)
    size = max(1, TOGETHER // len(kit.shell.struts))
    for head, rows in groups.items():
        for first in range(0, len(rows), size):
            yield head, np.array(rows[first : first + size])


@dataclass(frozen=True)
class _Rules:
    """The rules for struts and ends, what each found worst so far, and why some were refused."""

    kit: Kit
    bars: Bars
    family: Family
    found: dict[str, Use]
    refused: dict[str, Refusal]

    def hold(self, effect: Effect, rows: Indices) -> None:
        """Hold the struts of many combinations, end to end, against all rules that can be used."""
        bars = self.bars.repeated(len(rows))
        rules: dict[str, Callable[[], tuple[MemberUse, ...]]] = {
            "strut-resistance": lambda: member_uses(bars, effect, self.family),
            "joint-strength": lambda: joint_uses(self.kit, bars, effect),
            "tie-strength": lambda: tie_uses(self.kit, bars, effect),
            "coupler-strength": lambda: coupler_uses(self.kit, bars, effect),
        }
        for code, rule in rules.items():
            if code in self.refused:
                continue
            try:
                uses = rule()
            except Refused as reason:
                self.refused[code] = Refusal(code, reason.why)
                continue
            for use in uses:
                self._keep(use, rows)

    def _keep(self, use: MemberUse, rows: Indices) -> None:
        told = use.told.reshape(len(rows), -1)
        place = told.argmax(axis=0)
        worst, at = told.max(axis=0), rows[place]
        before = self.found.get(use.code)
        if before is not None:
            more = worst > before.worst
            worst = np.where(more, worst, before.worst)
            at = np.where(more, at, before.combination)
        self.found[use.code] = Use(use.code, worst, at, use.source)

    @property
    def uses(self) -> tuple[Use, ...]:
        """Return the worst of each rule."""
        return tuple(self.found.values())

    @property
    def refusals(self) -> tuple[Refusal, ...]:
        """Return the rules that could not be used, in their order."""
        return tuple(self.refused.values())
