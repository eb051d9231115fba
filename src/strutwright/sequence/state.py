"""How a half-built shell stands: deflection, buckling and wind, with the low end of stiffness."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.sparse import csc_array

from strutwright.errors import ResultError
from strutwright.frame import (
    Factored,
    FrameModel,
    Loads,
    Response,
    buckling,
    combine,
    factor,
    respond,
)
from strutwright.frame.assemble import assemble
from strutwright.frame.buckling import geometric_stiffness
from strutwright.frame.inertia import factorise, negative_pivots
from strutwright.parts import Kit
from strutwright.sequence.values import Prop, StateCheck
from strutwright.shape.measure import node_lengths
from strutwright.structure.model import make_model
from strutwright.values import ArrayValue, Floats, Indices

__all__ = [
    "BUILDING_WIND",
    "LEAST_FACTOR",
    "PUSH",
    "Bench",
    "Tried",
    "bench_of",
    "partial_frame",
    "try_state",
]

BUILDING_WIND: Final = 8.0
"""m/s; nobody raises a shell in more wind than this. Our choice: a moderate breeze, in which a
strut of cover or a half shell can no longer be held by hand."""
PUSH: Final = 100.0
"""N; somebody leans on a hub. Our choice."""
SAG: Final = 0.01
"""Movement allowed, as a share of the span. Our choice."""
LEAST_FACTOR: Final = 2.0
"""Load factor below which a half-built state counts as near to buckling. Our choice."""
TWIST: Final = 1.0
"""Nm/rad that hold a lone leg from turning about itself on its pin: a force of 1 N at one metre
for a full radian, which keeps nothing upright. Our choice."""
GRAVITY: Final = 9.80665
AIR: Final = 0.613
"""Half the density of air, kg/m3: q = 0.613 v2. Source: ASCE 7-22, 26.10-1."""
DRAG: Final = 1.2
"""Of a round or square bar across the wind. Source: textbook value for slow flow, recalled."""


@dataclass(frozen=True, eq=False)
class Bench(ArrayValue):
    """A kit made ready for many state checks.

    Parameters
    ----------
    frame : FrameModel
        The whole kit, low end of the connector's stiffness.
    weights : (S, 2) array, N
        Weight at both ends of each strut: half the strut and its share of the hub.
    winds : (S, 2) array, N
        Force of the building wind on each strut along x and along y.
    euler : (S,) array, N
        Buckling force of each strut, hinged at both ends.
    span : float, m
    """

    frame: FrameModel
    weights: Floats
    winds: Floats
    euler: Floats
    span: float


@dataclass(frozen=True, eq=False)
class Tried(ArrayValue):
    """A state check, and the hub that moves most (-1: none) and where to."""

    check: StateCheck
    hub: int
    towards: Floats


def bench_of(kit: Kit) -> Bench:
    """Return `kit` ready for state checks at 20 °C, loads of a week."""
    shell = kit.shell
    model = make_model(kit, "staked", duration="week", temperature=20.0, end="low")
    length = node_lengths(shell)
    section = kit.stock.section
    ends = max(1, shell.struts.size)
    own = (kit.mass - kit.masses.get("struts", 0.0)) / ends
    weights = np.repeat((0.5 * kit.stock.mass * length + own)[:, None], 2, axis=1) * GRAVITY
    along = np.diff(shell.hubs[shell.struts], axis=1)[:, 0] / length[:, None]
    across = np.sqrt(np.clip(1.0 - along[:, :2] ** 2, 0.0, 1.0))
    pressure = AIR * BUILDING_WIND**2 * DRAG * section.depth
    least = min(section.inertia_y, section.inertia_z)
    span = float(np.ptp(shell.hubs[:, :2], axis=0).min())
    return Bench(
        model.frame,
        weights,
        pressure * length[:, None] * across,
        np.pi**2 * model.modulus * least / length**2,
        span,
    )


def try_state(
    bench: Bench,
    struts: Indices,
    ground: Indices,
    props: Sequence[Prop],
    fresh: Indices,
    *,
    exact: bool = False,
) -> Tried:
    """Return how the placed `struts` stand with their `props`.

    Parameters
    ----------
    ground : (G,) int array
        Hubs that the ground holds.
    fresh : (n,) int array
        Hubs placed last, at which somebody pushes.
    exact : bool
        Work the buckling factor out; without it only whether it is below two.
    """
    limit = SAG * bench.span
    frame, nodes = partial_frame(bench, struts, ground, props)
    pushed = np.flatnonzero(np.isin(nodes, fresh) & ~frame.fixed[: len(nodes), 0])
    if not len(pushed):
        return Tried(StateCheck(0.0, limit, LEAST_FACTOR, True, BUILDING_WIND), -1, np.zeros(3))
    loads = _loads(bench, frame, struts, pushed)
    try:
        factored = factor(frame)
        answers = respond(factored, loads)
    except ResultError:  # it moves without resistance
        worst = StateCheck(np.inf, limit, 0.0, False, 0.0)
        return Tried(worst, int(nodes[pushed[-1]]), np.array([0.0, 0.0, 1.0]))
    own = np.linalg.norm(answers[0].displacements[:, :3], axis=1)
    blown = max(float(np.linalg.norm(a.displacements[:, :3], axis=1).max()) for a in answers[1:3])
    most, at, towards = _softest(answers[3:], pushed)
    sag = float(own.max())
    room = max(0.0, limit - sag) / max(blown, 1e-12)
    wind = BUILDING_WIND * float(np.sqrt(min(1.0, room)))
    pushing = _push(frame, at, towards)
    (leaning,) = respond(factored, [combine([loads[0], pushing], [1.0, 1.0])])
    load_factor, is_bound = _factor_of(bench, factored, leaning, struts, exact=exact)
    if own.max() > most:
        at = int(own.argmax())
        towards = answers[0].displacements[at, :3]
    check = StateCheck(sag + most, limit, load_factor, is_bound, wind)
    hub = int(nodes[at]) if at < len(nodes) else int(nodes[pushed[-1]])
    return Tried(check, hub, np.asarray(towards))


def partial_frame(
    bench: Bench, struts: Indices, ground: Indices, props: Sequence[Prop]
) -> tuple[FrameModel, Indices]:
    """Return the frame of the placed struts with a bar for each prop, and the hubs of its nodes."""
    whole = bench.frame
    nodes = np.unique(whole.members[struts])
    place = np.full(len(whole.nodes), -1)
    place[nodes] = np.arange(len(nodes))
    count, n_props = len(nodes), len(props)
    feet = np.array([prop.foot for prop in props]).reshape(-1, 3)
    bars = [(int(place[prop.hub]), count + k) for k, prop in enumerate(props)]
    fixed = np.zeros((count + n_props, 6), dtype=bool)
    fixed[:count, :3] = np.isin(nodes, ground)[:, None]
    fixed[count:, :3] = True
    springs = np.zeros((count + n_props, 6))
    springs[:count, 3:] = TWIST * np.isin(nodes, ground)[:, None]

    def grown(array: Floats, fill: float) -> Floats:
        return np.concatenate([array[struts], np.full((n_props, *array.shape[1:]), fill)])

    frame = FrameModel(
        nodes=np.vstack([whole.nodes[nodes], feet]),
        members=np.vstack(
            [place[whole.members[struts]], np.array(bars, dtype=np.int64).reshape(-1, 2)]
        ),
        sections=whole.sections,
        reference=np.vstack([whole.reference[struts], np.tile([0.3, 0.2, 0.9], (n_props, 1))]),
        end_rotation=grown(whole.end_rotation, np.inf),
        end_axial=grown(whole.end_axial, np.inf),
        truss=np.concatenate([whole.truss[struts], np.ones(n_props, dtype=bool)]),
        fixed=fixed,
        springs=springs,
    )
    return frame, nodes


def _loads(bench: Bench, frame: FrameModel, struts: Indices, pushed: Indices) -> list[Loads]:
    """Return self-weight, wind along x and y, and the push along x, y, z at each pushed node."""
    n = len(frame.nodes)
    ends = frame.members[: len(struts)].ravel()
    weight = np.zeros((n, 6))
    weight[:, 2] = -np.bincount(ends, bench.weights[struts].ravel(), minlength=n)
    loads = [Loads(forces=weight)]
    for axis in (0, 1):
        wind = np.zeros((n, 6))
        wind[:, axis] = np.bincount(ends, np.repeat(bench.winds[struts, axis] / 2, 2), minlength=n)
        loads.append(Loads(forces=wind))
    for node in pushed.tolist():
        for axis in range(3):
            push = np.zeros((n, 6))
            push[node, axis] = PUSH
            loads.append(Loads(forces=push))
    return loads


def _push(frame: FrameModel, node: int, towards: Floats) -> Loads:
    forces = np.zeros((len(frame.nodes), 6))
    forces[node, :3] = PUSH * towards
    return Loads(forces=forces)


def _softest(pushes: Sequence[Response], pushed: Indices) -> tuple[float, int, Floats]:
    """Return the largest movement by a push in any direction, its node, and that direction."""
    most, at, towards = -1.0, -1, np.zeros(3)
    for k, node in enumerate(pushed.tolist()):
        moved = np.array([a.displacements[node, :3] for a in pushes[3 * k : 3 * k + 3]])
        _, sizes, turned = np.linalg.svd(moved)
        if sizes[0] > most + 1e-12:
            most, at, towards = float(sizes[0]), node, turned[0]
    return most, at, towards


def _factor_of(
    bench: Bench, factored: Factored, leaning: Response, struts: Indices, *, exact: bool
) -> tuple[float, bool]:
    """Return the buckling factor of the state under `leaning`, and whether it is a bound."""
    pressed = -leaning.axial[: len(struts)] / bench.euler[struts]
    alone = 1.0 / max(float(pressed.max(initial=0.0)), 1e-9)
    stress = geometric_stiffness(factored, leaning)
    stiff = assemble(factored.pattern, factored.matrices, factored.model.springs)
    doubled = csc_array(stiff + LEAST_FACTOR * stress)
    safe = negative_pivots(doubled, factorise(doubled)) == 0
    if safe and not exact:
        return min(alone, LEAST_FACTOR), alone >= LEAST_FACTOR
    found = buckling(factored, leaning, 1).factors
    whole = float(found[0]) if len(found) else np.inf
    return min(alone, whole, 1e3), False
