"""A member taken out by a change of low rank, against a model built without it."""

from dataclasses import replace

import numpy as np
import pytest

from strutwright.errors import ResultError
from strutwright.frame import FrameModel, Loads, circular_tube, factor, removed, solve
from strutwright.shape.dome import DomeSpec, dome


def model_of(stiffness, rng):
    shell = dome(DomeSpec(radius=3.0, division=(3, 0), truncation="5/9"))
    n, s = len(shell.hubs), len(shell.struts)
    fixed = np.zeros((n, 6), dtype=bool)
    fixed[shell.base, :3] = True
    rotation = np.full((s, 2, 3), np.inf)
    rotation[:, :, 1:] = stiffness
    model = FrameModel(
        shell.hubs, shell.struts, circular_tube(0.03, 0.0015, 200e9, 77e9),
        end_rotation=rotation, truss=np.full(s, stiffness == 0.0), fixed=fixed,
    )  # fmt: skip
    forces = np.zeros((n, 6))
    forces[:, :3] = rng.normal(0, 300, (n, 3))
    return model, Loads(forces=forces, line=rng.normal(0, 40, (s, 3)))


def without(model, loads, member):
    """Return the model and its load without `member`, whose load goes to its nodes in halves."""
    keep = np.delete(np.arange(len(model.members)), member)
    ends = model.nodes[model.members[member]]
    half = 0.5 * loads.line[member, 0] * np.linalg.norm(ends[1] - ends[0])
    forces = np.array(loads.forces)
    for node in model.members[member]:
        forces[node, :3] += half
    rows = {
        name: getattr(model, name)[keep]
        for name in ("members", "section_of", "reference", "end_rotation", "end_axial",
                     "offsets", "truss", "tension_only")
    }  # fmt: skip
    return replace(model, **rows), Loads(forces=forces, line=loads.line[keep]), keep


@pytest.mark.parametrize("stiffness", [0.0, 400.0])
def test_displacements_and_end_forces_are_those_of_the_model_without_it(stiffness):
    model, loads = model_of(stiffness, np.random.default_rng(4))
    factored = factor(model)
    whole = solve(model, [loads])[0]
    members = np.arange(0, len(model.members), 5)
    compared = 0
    for few in removed(factored, [loads], members):
        for k, member in enumerate(few.members):
            other, load, keep = without(model, loads, member)
            try:
                answer = solve(other, [load])[0]
            except ResultError:
                assert few.loose[k]
                continue
            assert not few.loose[k]
            assert few.displacements[k, 0] == pytest.approx(
                answer.displacements, abs=1e-7 * np.abs(answer.displacements).max()
            )
            ends = (whole.end_forces + few.change[k, 0])[keep]
            assert ends == pytest.approx(
                answer.end_forces, abs=1e-6 * np.abs(answer.end_forces).max()
            )
            assert np.abs((whole.end_forces + few.change[k, 0])[member]).max() < 1e-9
            compared += 1
    assert compared >= 5


def test_a_bar_that_alone_holds_its_node_leaves_a_loose_frame():
    nodes = np.array([[0.0, 0, 0], [2, 0, 0], [0, 2, 0], [0.6, 0.6, 1.0]])
    members = np.array([[0, 3], [1, 3], [2, 3]])
    fixed = np.zeros((4, 6), dtype=bool)
    fixed[:3] = True
    model = FrameModel(
        nodes, members, circular_tube(0.03, 0.0015, 200e9, 77e9), truss=True, fixed=fixed
    )
    forces = np.zeros((4, 6))
    forces[3, 2] = -100.0
    found = next(removed(factor(model), [Loads(forces=forces)], np.arange(3)))
    assert found.loose.all()
