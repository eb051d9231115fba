"""Linear buckling of a kit: the worst combinations, screened, and what gives in each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from strutwright.errors import ResultError
from strutwright.frame import (
    ContactResponse,
    Division,
    Factored,
    FrameModel,
    Response,
    buckling,
    divide_loads,
    factor,
    mode_kind,
    respond,
    settled,
    subdivide,
)
from strutwright.frame import Loads as FrameLoads
from strutwright.loads import Combination, LoadCase, combined, factor_table
from strutwright.parts import Kit
from strutwright.progress import SILENT, Progress, step
from strutwright.structure.answers import Answers, Setting, Solved, stiffness_duration
from strutwright.structure.bars import Bars
from strutwright.structure.contact import Settled, settle_all
from strutwright.structure.respond import case_loads
from strutwright.values import ArrayValue, Floats

__all__ = [
    "PIECES",
    "WORST",
    "Buckled",
    "Scene",
    "frame_of",
    "own_euler",
    "scenes",
    "worst_buckling",
]

WORST: Final = 12
"""Combinations that are searched for buckling; the others are screened to be milder."""
STUCK: Final = 2
"""Hubs that must stick for a base on friction to stay where it is."""
PIECES: Final = 2
"""Elements a strut: one is up to a third unsafe."""


@dataclass(frozen=True, eq=False)
class Scene(ArrayValue):
    """One combination of loads without factors on the frame that carries it.

    Parameters
    ----------
    combination : Combination
    span : str
        Load duration whose modulus rules.
    factors : (C,) array
        Of the cases.
    state : Settled
    axial : (S,) array, N
        Mean along each strut, tension positive.
    """

    combination: Combination
    span: str
    factors: Floats
    state: Settled
    axial: Floats


@dataclass(frozen=True, eq=False)
class Buckled(ArrayValue):
    """Linear buckling under one combination.

    Parameters
    ----------
    scene : Scene
    factor : float
        Lowest multiple of the loads at which the shell has a neighbouring shape; infinite when
        no multiple buckles it.
    kind : str
        ``hub`` where hubs move, ``member`` where struts bow between them.
    hubs : float
        Lowest factor at which hubs move, however early struts bow.
    mode : (H, 3) array
        How hubs move at that factor; nothing where none was found.
    ended : str
        As in `strutwright.frame.Buckling`; ``mechanism`` where contacts and ties that still
        work leave it loose, with a factor of 0.
    """

    scene: Scene
    factor: float
    kind: str
    hubs: float
    mode: Floats
    ended: str


def scenes(
    kit: Kit, answers: Answers, combos: Sequence[Combination], setting: Setting
) -> list[Scene]:
    """Return what each of `combos` does to the struts, contacts and ties settled."""
    table = factor_table(answers.cases, combos)
    spans = [stiffness_duration(kit, answers.cases, combo) for combo in combos]
    weight = table[:, [case.action == "dead" for case in answers.cases]].max(axis=1, initial=0.0)
    solved = [answers.solved[span] for span in spans]
    found = settle_all(solved, table, weight * (setting.ballast or 0.0))
    states = [_rested(state) for state in found]
    along = {span: answers.solved[span].forces[..., 0].mean(axis=2) for span in set(spans)}
    return [
        Scene(combo, span, factors, state, state.shares @ along[span])
        for combo, span, factors, state in zip(combos, spans, table, states, strict=True)
    ]


def _rested(state: Settled) -> Settled:
    """Return `state` with its slides stopped where too few hubs stick to keep the shell in place.

    A shell that slides all round could go anywhere: it is judged where it came to rest.
    """
    stuck = int((~state.sliding & ~state.lifted).sum())
    if stuck >= STUCK or not state.sliding.any():
        return state
    return replace(state, sliding=np.zeros_like(state.sliding))


def frame_of(
    solved: Solved, scene: Scene, cases: Sequence[LoadCase]
) -> tuple[FrameModel, FrameLoads]:
    """Return the frame and the loads of a scene, contacts and ties as they settled."""
    loads = case_loads(*combined(cases, scene.combination))
    model, state = solved.model, scene.state
    nodes, members = len(model.frame.nodes), len(model.frame.members)
    reactions = np.zeros((nodes, 6))
    reactions[model.ground, :3] = np.tensordot(state.shares, solved.reactions, axes=1)
    answer = Response(np.zeros((nodes, 6)), np.zeros((members, 2, 6)), reactions)
    found = ContactResponse(answer, state.lifted, state.sliding, state.slack, 0, state.ended)
    return settled(model.frame, loads, found)


def worst_buckling(
    answers: Answers, found: Sequence[Scene], bars: Bars, progress: Progress = SILENT
) -> tuple[Buckled, ...]:
    """Return the buckling of the `WORST` of the scenes `found`, worst first.

    The first is the one with the largest share of a strut's own Euler load. Each shape in which
    hubs moved tells what it would take under all other scenes (Rayleigh's quotient, never too
    mild for that shape), and the worst of those comes next; every other search takes the next
    largest share of an Euler load.
    """
    share = np.array([_euler_share(answers, scene, bars) for scene in found])
    guess = np.zeros(len(found))
    done: dict[int, Buckled] = {}
    stages: dict[tuple[object, ...], _Stage] = {}
    for number in range(min(WORST, len(found))):
        step(progress, "buckling", number / WORST)
        left = np.array([k for k in range(len(found)) if k not in done])
        score = share if number % 2 == 0 or not guess.any() else guess
        k = int(left[np.argmax(score[left])])
        scene = found[k]
        try:
            stage = _stage(stages, answers, scene)
        except ResultError as error:
            if error.code != "mechanism":
                raise
            still = np.zeros((len(answers.solved[scene.span].model.frame.nodes), 3))
            done[k] = Buckled(scene, 0.0, "hub", 0.0, still, "mechanism")
            continue
        done[k] = _buckled(stage, answers, scene)
        guess = np.maximum(guess, _quotients(stage, answers, found, done[k]))
    return tuple(sorted(done.values(), key=lambda b: min(b.factor, b.hubs)))


@dataclass(frozen=True, eq=False)
class _Stage:
    """A frame as it is and cut, factored, for all scenes that settle in one way."""

    whole: Factored
    cut: Factored
    division: Division
    rigid: bool
    modulus: float


def _stage(stages: dict[tuple[object, ...], _Stage], answers: Answers, scene: Scene) -> _Stage:
    state = scene.state
    key = (scene.span, state.lifted.tobytes(), state.sliding.tobytes(), state.slack.tobytes())
    if key not in stages:
        solved = answers.solved[scene.span]
        model, _ = frame_of(solved, scene, answers.cases)
        division = subdivide(model, PIECES)
        rigid = len(division.parent) == len(model.members)
        whole = factor(model)
        cut = whole if rigid else factor(division.model)
        stages[key] = _Stage(whole, cut, division, rigid, solved.model.modulus)
    return stages[key]


def _buckled(stage: _Stage, answers: Answers, scene: Scene) -> Buckled:
    model, loads = frame_of(answers.solved[scene.span], scene, answers.cases)
    (response,) = respond(stage.whole, [loads])
    hubs = buckling(stage.whole, response, 1, chords=True)
    lowest, mode = np.inf, np.zeros((len(model.nodes), 3))
    if len(hubs.factors):
        lowest, mode = float(hubs.factors[0]), hubs.modes[0, :, :3]
    found, kind, ended = lowest, "hub", hubs.ended
    if not stage.rigid:
        (response,) = respond(stage.cut, [divide_loads(stage.division, loads)])
        cut = buckling(stage.cut, response, 1)
        ended = cut.ended
        if len(cut.factors):
            found = float(cut.factors[0])
            kind = mode_kind(stage.division, cut.modes[0], len(model.nodes))
    own = own_euler(model, scene.axial, answers.solved[scene.span].model.coupled)
    if own < found:
        found, kind = own, "member"
    return Buckled(scene, found, kind, lowest, mode, ended)


def own_euler(model: FrameModel, axial: Floats, coupled: Floats) -> float:
    """Return the load factor at which the first hinged strut buckles; those are never cut.

    Parameters
    ----------
    coupled : (S,) array
        Share of each Euler load that couplers leave.
    """
    table, of = model.sections, model.section_of
    ends = model.nodes[model.members]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    critical = np.pi**2 * (table.modulus * table.inertia_z)[of] / length**2 * coupled
    pushed = np.where(model.truss, np.maximum(-axial, 0.0), 0.0)
    largest = float((pushed / critical).max())
    return 1.0 / largest if largest > 0 else np.inf


def _euler_share(answers: Answers, scene: Scene, bars: Bars) -> float:
    modulus = answers.solved[scene.span].model.modulus
    critical = np.pi**2 * modulus * bars.stock.section.inertia_z / bars.lengths**2
    return float((np.maximum(-scene.axial, 0.0) / (critical * bars.couplers)).max())


def _quotients(stage: _Stage, answers: Answers, found: Sequence[Scene], buckled: Buckled) -> Floats:
    """Return (N,) 1 / load factor of every scene for the shape in which hubs moved."""
    if not np.isfinite(buckled.hubs):
        return np.zeros(len(found))
    model = stage.whole.model
    ends = model.nodes[model.members]
    along = ends[:, 1] - ends[:, 0]
    length = np.linalg.norm(along, axis=1)
    turn = buckled.mode[model.members[:, 1]] - buckled.mode[model.members[:, 0]]
    across = np.cross(turn, along / length[:, None])
    gain = (across**2).sum(axis=1) / length
    own = float(-buckled.scene.axial @ gain)
    soft = np.array([stage.modulus / answers.solved[s.span].model.modulus for s in found])
    axial = np.array([scene.axial for scene in found])
    share: Floats = (-axial @ gain) * soft / (buckled.hubs * own)
    return share
