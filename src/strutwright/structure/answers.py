"""Answers to load cases, once for each stiffness, ready to be added up in any combination."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.sparse import csr_array

from strutwright.frame import (
    ContactFrame,
    Response,
    contact_forces,
    contact_frame,
    forces_along,
    respond,
)
from strutwright.loads import Combination, LoadCase, duration_of
from strutwright.parts import Kit
from strutwright.structure.bars import Family
from strutwright.structure.model import Base, End, Model, make_model
from strutwright.structure.respond import STATIONS, StrutForces, case_loads
from strutwright.values import ArrayValue, Floats, Note

__all__ = ["Answers", "Setting", "Solved", "added", "answer_cases", "stiffness_duration"]


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
    ballast : float or None, N
        Weight laid on every hub that meets the ground; None: as much as it takes to hold it.
    """

    base: Base
    family: Family
    temperature: float
    end: End = "low"
    ballast: float | None = None


@dataclass(frozen=True, eq=False)
class Solved(ArrayValue):
    """What C load cases, then U unit movements of contacts and ties, do to one frame.

    Parameters
    ----------
    model : Model
    contact : ContactFrame
        With every contact held and every tie working.
    forces : (C + U, S, K, 6) array, N and Nm
        Along the struts at `STATIONS`, local axes.
    deflection : (C + U, S, K, 3) array, m
    shifts : (C + U, H, 3) array, m
    reactions : (C + U, G, 3) array, N
    asked : (C, 3 G' + T) array, N
        What each case asks of contacts and ties.
    """

    model: Model
    contact: ContactFrame
    forces: Floats
    deflection: Floats
    shifts: Floats
    reactions: Floats
    asked: Floats


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
    solved: Mapping[str, Solved]
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
    spans = dict.fromkeys(stiffness_duration(kit, cases, combo) for combo in combos)
    models = {
        span: make_model(
            kit, setting.base, duration=span, temperature=setting.temperature, end=setting.end,
            held=setting.base == "ballast" and setting.ballast is None,
        )
        for span in spans
    }  # fmt: skip
    notes = dict.fromkeys(note for model in models.values() for note in model.notes)
    solved = {span: _solve(model, cases) for span, model in models.items()}
    return Answers(tuple(cases), solved, tuple(notes))


def stiffness_duration(kit: Kit, cases: Sequence[LoadCase], combo: Combination) -> str:
    """Return the load duration whose modulus rules the stiffness of `kit` in `combo`."""
    creeps = bool(kit.stock.material.modulus_by_duration)
    return duration_of(cases, combo, longest=True) if creeps else "gust"


def _solve(model: Model, cases: Sequence[LoadCase]) -> Solved:
    frame = contact_frame(model.frame)
    loads = [case_loads(case.hub_forces, case.line_loads) for case in cases]
    held = respond(frame.factored, loads)
    answers: tuple[Response, ...] = (*held, *frame.answers)
    forces, deflection = forces_along(model.frame, (*loads, *frame.units), answers, STATIONS)
    return Solved(
        model,
        frame,
        forces,
        deflection,
        np.stack([a.displacements[:, :3] for a in answers]),
        np.stack([a.reactions[model.ground, :3] for a in answers]),
        np.stack([contact_forces(frame, a) for a in held]),
    )


def added(solved: Solved, shares: Floats) -> tuple[StrutForces, Floats, Floats]:
    """Return what N sums of answers give: strut forces, reactions and displacements.

    Forces of the struts of one sum after the other, (N S, K); reactions (N, G, 3); displacements
    (N, H, 3).

    Parameters
    ----------
    shares : (N, C + U) array
        Factors of the cases, then movements of contacts and ties.
    """
    few = csr_array(shares)

    def summed(known: Floats) -> Floats:
        return np.asarray(few @ known.reshape(len(known), -1)).reshape(-1, *known.shape[1:])

    moved = summed(solved.deflection)[..., 1:]
    chord = moved[:, :, :1] + STATIONS[:, None] * (moved[:, :, -1:] - moved[:, :, :1])
    off = moved - chord
    sag = np.sqrt((off**2).sum(axis=3).max(axis=2)).ravel()
    forces = summed(solved.forces)
    forces = forces.reshape(-1, *forces.shape[2:])
    shear = np.hypot(forces[..., 1], forces[..., 2])
    return (
        StrutForces(forces[..., 0], forces[..., 4], forces[..., 5], shear, sag),
        summed(solved.reactions),
        summed(solved.shifts),
    )
