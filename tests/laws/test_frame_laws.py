"""Laws that any linear frame obeys: balance, reciprocity, rotation, mirror, superposition."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from strutwright.frame import (
    FrameModel,
    Loads,
    Sections,
    combine,
    divide_loads,
    internal_forces,
    solve,
    subdivide,
)

SEEDS = st.integers(0, 2**31)
FEW = settings(max_examples=15, deadline=None)


def cage(seed):
    """Irregular frame with springs, offsets, shear, and every kind of load."""
    rng = np.random.default_rng(seed)
    nodes = np.array([[x, y, z] for z in (0, 1, 2) for x in (0, 1) for y in (0, 1)], float)
    nodes = nodes * 2.0 + rng.uniform(-0.3, 0.3, nodes.shape)
    gap = np.abs(nodes[:, None] - nodes[None]).sum(axis=2)
    members = np.argwhere(np.triu(gap < 5.0, 1))
    m = len(members)
    table = Sections(
        *(rng.uniform(0.5, 2.0, m) for _ in range(4)), 1e4, 4e3, rng.uniform(0.2, 2, m)
    )
    turning = np.where(rng.random((m, 2, 3)) < 0.5, np.inf, 10 ** rng.uniform(2, 5, (m, 2, 3)))
    fixed = np.zeros((12, 6), dtype=bool)
    fixed[:4, :3] = True
    return FrameModel(
        nodes,
        members,
        table,
        reference=rng.normal(size=(m, 3)),
        end_rotation=turning,
        end_axial=np.where(rng.random((m, 2)) < 0.5, np.inf, 10 ** rng.uniform(3, 5, (m, 2))),
        offsets=rng.uniform(-0.05, 0.05, (m, 2, 3)),
        fixed=fixed,
        springs=np.where(rng.random((12, 6)) < 0.2, 1e3, 0.0),
    )


def loads_on(model, seed):
    rng = np.random.default_rng(seed + 1)
    n, m = len(model.nodes), len(model.members)
    moves = np.where(model.fixed, rng.normal(0, 1e-3, (n, 6)), 0.0)
    return Loads(rng.normal(size=(n, 6)), rng.normal(size=(m, 2, 3)), rng.normal(0, 1e-4, m), moves)


def near(a, b):
    a, b = np.asarray(a), np.asarray(b)
    assert np.abs(a - b).max() <= 1e-8 * max(np.abs(a).max(), np.abs(b).max())


def turned(model, loads, matrix):
    """Model and loads turned (or mirrored, then axial vectors change sign)."""
    sense = np.linalg.det(matrix)
    both = lambda rows: np.hstack([rows[:, :3] @ matrix.T, sense * rows[:, 3:] @ matrix.T])  # noqa: E731
    model = replace(
        model,
        nodes=model.nodes @ matrix.T,
        reference=model.reference @ matrix.T,
        offsets=model.offsets @ matrix.T,
        springs=np.zeros_like(model.springs),
    )
    return model, Loads(both(loads.forces), loads.line @ matrix.T, loads.strain), both


@FEW
@given(SEEDS)
def test_reactions_balance_the_loads(seed):
    model = cage(seed)
    loads = loads_on(model, seed)
    (answer,) = solve(model, [loads])
    ends = model.nodes[model.members] + model.offsets
    along = ends[:, 1] - ends[:, 0]
    length = np.linalg.norm(along, axis=1)[:, None]
    first, last = loads.line[:, 0], loads.line[:, 1]
    total = (loads.forces + answer.reactions)[:, :3]
    spread = (first + last) / 2 * length
    missing = total.sum(axis=0) + spread.sum(axis=0)
    assert np.abs(missing).max() <= 1e-10 * np.abs(total).sum()
    # moment of a straight course about end 0: L (f/6 + l/3) at unit arm along
    moments = np.cross(model.nodes, total).sum(axis=0)
    moments += (loads.forces + answer.reactions)[:, 3:].sum(axis=0)
    moments += np.cross(ends[:, 0], spread).sum(axis=0)
    moments += np.cross(along, (first / 6 + last / 3) * length).sum(axis=0)
    assert np.abs(moments).max() <= 1e-8 * np.abs(np.cross(model.nodes, total)).sum()


@FEW
@given(SEEDS)
def test_reciprocity(seed):
    model = cage(seed)
    rng = np.random.default_rng(seed)
    one, two = (Loads(rng.normal(size=(12, 6))) for _ in range(2))
    a, b = solve(model, [one, two])
    here, there = (np.where(model.fixed, 0.0, load.forces) for load in (one, two))
    left, right = (here * b.displacements).sum(), (there * a.displacements).sum()
    scale = np.abs(here * b.displacements).sum()
    assert left == pytest.approx(right, abs=1e-9 * scale)


@FEW
@given(SEEDS)
def test_results_turn_with_the_frame(seed):
    model = replace(cage(seed), springs=np.zeros((12, 6)))
    loads = replace(loads_on(model, seed), moves=np.zeros((12, 6)))
    matrix = Rotation.random(random_state=seed).as_matrix()
    again, pushed, both = turned(model, loads, matrix)
    (before,), (after,) = solve(model, [loads]), solve(again, [pushed])
    near(both(before.displacements), after.displacements)
    near(both(before.reactions), after.reactions)
    near(before.end_forces, after.end_forces)


@FEW
@given(SEEDS)
def test_mirrored_frame_gives_mirrored_results(seed):
    model = replace(cage(seed), springs=np.zeros((12, 6)))
    loads = replace(loads_on(model, seed), moves=np.zeros((12, 6)))
    again, pushed, both = turned(model, loads, np.diag([-1.0, 1.0, 1.0]))
    (before,), (after,) = solve(model, [loads]), solve(again, [pushed])
    near(both(before.displacements), after.displacements)
    near(before.axial, after.axial)


@FEW
@given(SEEDS)
def test_superposition(seed):
    model = cage(seed)
    parts = [loads_on(model, seed + 7 * k) for k in range(3)]
    factors = [1.35, -0.4, 1.5]
    *single, together = solve(model, [*parts, combine(parts, factors)])
    for name in ("displacements", "end_forces", "reactions"):
        total = sum(f * getattr(answer, name) for f, answer in zip(factors, single, strict=True))
        near(total, getattr(together, name))


@FEW
@given(SEEDS, st.integers(2, 4))
def test_cutting_members_changes_nothing(seed, pieces):
    model = cage(seed)
    loads = loads_on(model, seed)
    cut = subdivide(model, pieces)
    (before,) = solve(model, [loads])
    (after,) = solve(cut.model, [divide_loads(cut, loads)])
    near(before.displacements, after.displacements[:12])
    near(before.reactions, after.reactions[:12])
    first = np.flatnonzero(cut.span[:, 0] == 0.0)
    near(before.end_forces[:, 0], after.end_forces[first, 0])
    share = np.array([1.0 / pieces])
    along = internal_forces(model, loads, before, share)
    near(along.forces[:, 0], after.end_forces[first, 1])


def test_end_springs_against_doubled_nodes():
    """Springs condensed into members, and the same springs between doubled nodes."""
    model = cage(3)
    rng = np.random.default_rng(3)
    k = 10 ** rng.uniform(2, 5, (len(model.members), 2, 6))
    model = replace(
        model, offsets=np.zeros_like(model.offsets), end_rotation=k[..., 3:], end_axial=k[..., 0]
    )
    forces = rng.normal(size=(12, 6))
    line = rng.normal(size=(len(model.members), 2, 3))
    (answer,) = solve(model, [Loads(forces, line)])
    near(answer.displacements, doubled_nodes(model, k, forces, line))


def doubled_nodes(model, k, forces, line):
    """Dense stiffness with each member end a node of its own, springs as separate parts."""
    m = len(model.members)
    loose = FrameModel(
        (model.nodes[model.members]).reshape(-1, 3),
        np.arange(2 * m).reshape(m, 2),
        model.sections,
        reference=model.reference,
        fixed=np.ones((2 * m, 6), dtype=bool),
    )
    size = 6 * (12 + 2 * m)
    stiffness, push = np.zeros((size, size)), np.zeros(size)
    unit = np.eye(12 * m)
    answers = solve(loose, [Loads(moves=row.reshape(-1, 6)) for row in unit])
    stiffness[72:, 72:] = np.column_stack([a.reactions.ravel() for a in answers])
    (held,) = solve(loose, [Loads(line=line)])
    push[72:] = -held.reactions.ravel()
    push[:72] = forces.ravel()
    along, ties = model.nodes[model.members], []
    for member in range(m):
        x = along[member, 1] - along[member, 0]
        x = x / np.linalg.norm(x)
        y = np.cross(model.reference[member], x)
        y = y / np.linalg.norm(y)
        axes = np.array([x, y, np.cross(x, y)])
        for end in (0, 1):
            stiff = k[member, end].copy()
            stiff[1:3] = 0.0  # rigid sideways, by the ties below
            block = np.zeros((6, 6))
            block[:3, :3] = axes.T @ np.diag(stiff[:3]) @ axes
            block[3:, 3:] = axes.T @ np.diag(stiff[3:]) @ axes
            here = slice(72 + 6 * (2 * member + end), 78 + 6 * (2 * member + end))
            node = model.members[member, end]
            there = slice(6 * node, 6 * node + 6)
            stiffness[here, here] += block
            stiffness[there, there] += block
            stiffness[here, there] -= block
            stiffness[there, here] -= block
            tie = np.zeros((2, size))
            tie[:, here][:, :3], tie[:, there][:, :3] = axes[1:], -axes[1:]
            ties.append(tie)
    stiffness[range(72), range(72)] += model.springs.ravel()
    free = np.concatenate([~model.fixed.ravel(), np.ones(12 * m, dtype=bool)])
    tied = np.vstack(ties)[:, free]
    whole = np.block([[stiffness[np.ix_(free, free)], tied.T], [tied, np.zeros((len(tied),) * 2)]])
    u = np.zeros(size)
    u[free] = np.linalg.solve(whole, np.concatenate([push[free], np.zeros(len(tied))]))[
        : free.sum()
    ]
    return u[:72].reshape(12, 6)
