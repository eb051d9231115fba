"""All combinations on one kit: how far every strut is used, what holds the base, what moves."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from strutwright.catalogue import Source
from strutwright.frame import Response, factor, internal_forces, respond
from strutwright.loads import Combination, LoadCase, duration_of, factor_table
from strutwright.parts import Kit
from strutwright.shape.measure import node_lengths
from strutwright.shape.riser import feet_of
from strutwright.structure.joints import end_offsets, joint_uses
from strutwright.structure.members import Bars, Effect, Family, MemberUse, Refused, member_uses
from strutwright.structure.model import Base, End, Model, make_model
from strutwright.structure.respond import STATIONS, StrutForces, case_loads
from strutwright.structure.standards import lattice
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


@dataclass(frozen=True)
class Setting:
    """What the kit stands on and in.

    Parameters
    ----------
    base : str
        ``staked``, ``anchored``, ``ballast`` or ``free``.
    family : str
        Standards for resistance: ``en`` or ``us``.
    temperature : float, C
        Of the frame, the hotter end.
    end : str
        ``low`` or ``high`` end of the connector's stiffness.
    """

    base: Base
    family: Family
    temperature: float
    end: End = "low"


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
    """

    combinations: tuple[Combination, ...]
    uses: tuple[Use, ...]
    refusals: tuple[Refusal, ...]
    reactions: Floats
    displacements: Floats
    sag: Floats
    ground: Indices
    notes: tuple[Note, ...]


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
    share = np.ones(len(kit.shell.struts))
    stiffness = kit.connector.coupler_stiffness
    rigidity = kit.stock.material.modulus * kit.stock.section.inertia_z
    refusals: list[Refusal] = []
    for kind in kit.strut_types:
        for at in kind.coupler_at:
            if stiffness is None:
                why = f"strut type {kind.label} has a coupler whose stiffness was not tested"
                refusals.append(Refusal("coupler-stiffness", why))
                break
            ratio = stiffness * kind.node_length / rigidity
            left = lattice.coupler_factor(ratio, at / kind.cut_length)
            share[kind.struts] = np.minimum(share[kind.struts], left)
    return share, tuple(refusals)


@dataclass(frozen=True)
class _Solved:
    """The answer to every case: responses, forces (C, S, K, 6) and deflections (C, S, K, 3)."""

    responses: tuple[Response, ...]
    forces: Floats
    deflection: Floats


@dataclass(frozen=True)
class Answers:
    """The answers to all load cases, by the duration whose modulus was used.

    Parameters
    ----------
    cases : tuple of LoadCase
    solved : mapping of str to the answers
    notes : tuple of Note
    """

    cases: tuple[LoadCase, ...]
    solved: Mapping[str, _Solved]
    notes: tuple[Note, ...]


def answer_cases(
    kit: Kit, cases: Sequence[LoadCase], combos: Sequence[Combination], setting: Setting
) -> Answers:
    """Return the linear answer of `kit` to every case, for each stiffness that `combos` ask for.

    Materials that creep take the modulus of the longest variable load in each combination.

    Raises
    ------
    ResultError
        ``mechanism``: the kit can move without resistance.
    """
    spans = dict.fromkeys(_stiffness_duration(kit, cases, combo) for combo in combos)
    models = {
        span: make_model(
            kit, setting.base, duration=span, temperature=setting.temperature, end=setting.end
        )
        for span in spans
    }
    notes = dict.fromkeys(note for model in models.values() for note in model.notes)
    solved = {span: _solve(model, cases) for span, model in models.items()}
    return Answers(tuple(cases), solved, tuple(notes))


def analyse(
    kit: Kit, answers: Answers, combos: Sequence[Combination], setting: Setting
) -> Analysis:
    """Return what `combos` do to `kit`, from the `answers` to their cases."""
    bars, refusals = bars_of(kit, setting.temperature)
    cases, ground = answers.cases, feet_of(kit.shell)
    table = factor_table(cases, combos)
    n, shell = len(combos), kit.shell
    reactions = np.zeros((n, len(ground), 3))
    displacements = np.zeros((n, len(shell.hubs), 3))
    sag = np.zeros((n, len(shell.struts)))
    effects: list[Effect] = []
    for k, combo in enumerate(combos):
        span = _stiffness_duration(kit, cases, combo)
        forces, reactions[k], displacements[k] = _superposed(answers.solved[span], table[k], ground)
        sag[k] = forces.sag
        if combo.format != "-":
            effects.append(_effect(kit, cases, combo, span, forces))
    uses, missing = _uses(kit, bars, effects, setting.family)
    return Analysis(
        tuple(combos), uses, (*refusals, *missing), reactions, displacements, sag, ground,
        answers.notes,
    )  # fmt: skip


def _stiffness_duration(kit: Kit, cases: Sequence[LoadCase], combo: Combination) -> str:
    creeps = bool(kit.stock.material.modulus_by_duration)
    return duration_of(cases, combo, longest=True) if creeps else "gust"


def _solve(model: Model, cases: Sequence[LoadCase]) -> _Solved:
    loads = [case_loads(case.hub_forces, case.line_loads) for case in cases]
    responses = respond(factor(model.frame), loads)
    along = [
        internal_forces(model.frame, load, response, STATIONS)
        for load, response in zip(loads, responses, strict=True)
    ]
    return _Solved(
        responses, np.stack([a.forces for a in along]), np.stack([a.deflection for a in along])
    )


def _superposed(
    solved: _Solved, factors: Floats, ground: Indices
) -> tuple[StrutForces, Floats, Floats]:
    used = np.flatnonzero(factors)
    forces = np.tensordot(factors[used], solved.forces[used], axes=1)
    moved = np.tensordot(factors[used], solved.deflection[used], axes=1)
    chord = moved[:, :1] + STATIONS[None, :, None] * (moved[:, -1:] - moved[:, :1])
    sag = np.linalg.norm((moved - chord)[..., 1:], axis=2).max(axis=1)
    reaction = sum(factors[k] * solved.responses[k].reactions[ground, :3] for k in used)
    shift = sum(factors[k] * solved.responses[k].displacements[:, :3] for k in used)
    shear = np.hypot(forces[..., 1], forces[..., 2])
    return (
        StrutForces(forces[..., 0], forces[..., 4], forces[..., 5], shear, sag),
        np.asarray(reaction),
        np.asarray(shift),
    )


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
        start = np.full(len(use.utilisation), row)
        found[use.code] = (use.utilisation.copy(), start, use.source)
        return
    worst, at, source = found[use.code]
    more = use.utilisation > worst
    found[use.code] = (
        np.where(more, use.utilisation, worst), np.where(more, row, at), source
    )  # fmt: skip
