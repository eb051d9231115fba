"""What a frame model refuses, fills in, and how mechanisms are told."""

import pickle

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from strutwright.errors import ResultError
from strutwright.frame import (
    Contacts,
    Couplers,
    FrameModel,
    Loads,
    MechanismError,
    Sections,
    circular_tube,
    combine,
    factor,
    insert_couplers,
    internal_forces,
    softest_movements,
    solve,
    subdivide,
)

ONE = Sections(1e3, 1.0, 1.0, 1.0, 1.0, 1.0)
LINE = [[0, 0, 0], [1, 0, 0], [2, 0, 0]]


def clamped(*nodes):
    fixed = np.zeros((3, 6), dtype=bool)
    fixed[list(nodes)] = True
    return fixed


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"nodes": [[0, 0, np.nan], [1, 0, 0], [2, 0, 0]]}, "not finite"),
        ({"nodes": [[0, 0], [1, 0], [2, 0]]}, "shape"),
        ({"members": [[0, 1], [1, 3]]}, "unknown node"),
        ({"members": [[0, 1], [1, -1]]}, "unknown node"),
        ({"members": [[0, 1], [1, 1]]}, "no length"),
        ({"members": []}, "shape"),
        ({"section_of": [0, 1]}, "unknown section"),
        ({"reference": [[1, 0, 0], [0, 0, 1]]}, "along its member"),
        ({"end_rotation": -1.0}, "below zero"),
        ({"end_axial": np.nan}, "not a number"),
        ({"offsets": np.inf}, "not finite"),
        ({"springs": -1.0}, "negative"),
        ({"fixed": np.zeros((2, 6))}, "does not fill"),
        ({"contacts": Contacts([5])}, "unknown node"),
    ],
)
def test_refused(change, word):
    given = {"nodes": LINE, "members": [[0, 1], [1, 2]], "sections": ONE} | change
    with pytest.raises(ValueError, match=word):
        FrameModel(**given)


@pytest.mark.parametrize("bad", [0.0, -1.0, np.nan, np.inf])
def test_sections_refuse(bad):
    with pytest.raises(ValueError, match="area"):
        Sections(bad, 1.0, 1.0, 1.0, 1.0, 1.0)


@pytest.mark.parametrize(
    ("make", "word"),
    [
        (lambda: Contacts([0], axis=[3]), "axis"),
        (lambda: Contacts([0], sign=[0.5]), "sign"),
        (lambda: Contacts([0], friction=[-0.1]), "friction"),
        (lambda: Couplers([0], 1.0, 0.0, 1.0), "between the ends"),
        (lambda: Couplers([0], 0.5, -1.0, 1.0), "below zero"),
        (lambda: Loads(forces=[[np.nan] * 6]), "finite"),
    ],
)
def test_small_values_refuse(make, word):
    with pytest.raises(ValueError, match=word):
        make()


def test_model_survives_a_pickle_and_is_locked():
    model = FrameModel(LINE, [[0, 1], [1, 2]], ONE)
    again = pickle.loads(pickle.dumps(model))
    assert again == model
    with pytest.raises(ValueError, match="read-only"):
        again.nodes[0, 0] = 1.0


def test_tube():
    tube = circular_tube(0.0424, 0.0026, 210e9, 81e9)
    # EN 10219 table, 42.4 x 2.6: A 3.25 cm2, I 6.46 cm4 (recalled)
    assert tube.area[0] == pytest.approx(3.25e-4, rel=2e-3)
    assert tube.inertia_y[0] == pytest.approx(6.46e-8, rel=2e-3)


def test_nothing_holds_the_frame():
    model = FrameModel(LINE, [[0, 1], [1, 2]], ONE)
    with pytest.raises(ResultError, match="nothing holds") as told:
        factor(model)
    assert told.value.code == "mechanism"


def test_mechanism_names_its_nodes_and_direction():
    fixed = np.zeros((3, 6), dtype=bool)
    fixed[[0, 2], :3] = True
    model = FrameModel(LINE, [[0, 1], [1, 2]], ONE, truss=True, fixed=fixed)
    with pytest.raises(ResultError, match="along z") as told:
        solve(model, [Loads(np.eye(18)[8].reshape(3, 6))])
    assert told.value.where == "node 1"


def square(fixed):
    nodes = [[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0.0]]
    ring = [[0, 1], [1, 2], [2, 3], [3, 0]]
    held = np.zeros((4, 6), dtype=bool)
    held[:, 2] = True
    held[fixed, :3] = True
    return FrameModel(nodes, ring, ONE, truss=True, fixed=held)


def test_hinged_square_leans():
    with pytest.raises(MechanismError, match="can move without resistance") as told:
        factor(square([0, 1]))
    assert sorted(told.value.nodes) == [2, 3]
    assert np.abs(told.value.mode[2, 0]) == pytest.approx(1.0, rel=1e-6)
    assert told.value.mode[2, 0] == pytest.approx(told.value.mode[3, 0], rel=1e-6)


def test_body_that_can_turn_is_found():
    fixed = np.zeros((3, 6), dtype=bool)
    fixed[0, :3] = True  # a beam on one ball joint
    with pytest.raises(MechanismError):
        factor(FrameModel(LINE, [[0, 1], [1, 2]], ONE, fixed=fixed))


def test_long_slender_cantilever_is_no_mechanism():
    count = 400
    nodes = np.column_stack([np.arange(count + 1.0), np.zeros((count + 1, 2))])
    members = [(k, k + 1) for k in range(count)]
    fixed = np.zeros((count + 1, 6), dtype=bool)
    fixed[0] = True
    forces = np.zeros((count + 1, 6))
    forces[-1, 2] = 1.0
    (answer,) = solve(FrameModel(nodes, members, ONE, fixed=fixed), [Loads(forces)])
    assert answer.displacements[-1, 2] == pytest.approx(count**3 / 3, rel=1e-4)


def test_softest_movement_of_a_weakly_jointed_square():
    fixed = np.zeros((4, 6), dtype=bool)
    fixed[:, 2:5] = True
    fixed[[0, 1], :2] = True
    nodes = [[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0.0]]
    ring = [[0, 1], [1, 2], [2, 3], [3, 0]]
    model = FrameModel(nodes, ring, ONE, end_rotation=1e-4, fixed=fixed)
    first, second = softest_movements(factor(model), 2)
    assert set(first.nodes) == {2, 3}
    assert first.ratio < 1e-6
    assert second.ratio > 0.1
    # two legs with springs k at 4 ends, beam ends likewise: about 4 joints of k/2 each turn 1/h
    assert first.stiffness == pytest.approx(4 * 0.5e-4 / 2, rel=0.01)


def test_loads_of_wrong_shape_and_moves_at_free_nodes():
    model = FrameModel(LINE, [[0, 1], [1, 2]], ONE, fixed=clamped(0))
    with pytest.raises(ValueError, match="shape"):
        solve(model, [Loads(np.zeros((2, 6)))])
    with pytest.raises(ValueError, match="not held"):
        solve(model, [Loads(moves=np.ones((3, 6)))])
    with pytest.raises(ValueError, match="factors"):
        combine([Loads()], [1.0, 2.0])


def test_couplers_and_stations_refused():
    model = FrameModel(LINE, [[0, 1], [1, 2]], ONE, truss=[True, False], fixed=clamped(0))
    with pytest.raises(ValueError, match="unknown member"):
        insert_couplers(model, Couplers([9], 0.5, 0.0, np.inf))
    with pytest.raises(ValueError, match="loose chain"):
        insert_couplers(model, Couplers([0], 0.5, 0.0, np.inf))
    with pytest.raises(ValueError, match="one place"):
        insert_couplers(model, Couplers([1, 1], 0.5, 0.0, np.inf))
    with pytest.raises(ValueError, match="cannot cut"):
        subdivide(model, 0)
    whole = FrameModel(LINE, [[0, 1], [1, 2]], ONE, fixed=clamped(0))
    (answer,) = solve(whole, [Loads()])
    with pytest.raises(ValueError, match="shares"):
        internal_forces(whole, Loads(), answer, np.array([1.5]))


def test_bars_stay_whole_when_cut():
    model = FrameModel(LINE, [[0, 1], [1, 2]], ONE, truss=[True, False])
    cut = subdivide(model, 3)
    assert cut.parent.tolist() == [0, 1, 1, 1]
    assert cut.model.members.tolist() == [[0, 1], [1, 3], [3, 4], [4, 2]]
    assert cut.span[1:, 1] == pytest.approx([1 / 3, 2 / 3, 1.0])


def test_member_loose_at_both_ends_with_load_along_it():
    model = FrameModel(LINE[:2], [[0, 1]], ONE, end_axial=0.0, fixed=np.ones((2, 6)))
    with pytest.raises(ResultError, match="free to slide"):
        solve(model, [Loads(line=[[1.0, 0.0, 0.0]])])


@pytest.mark.parametrize("seed", range(6))
def test_mechanism_is_found_at_any_slant(seed):
    """Rounding leaves a little false stiffness in a slanting mechanism: it must not pass."""
    turn = Rotation.random(random_state=seed).as_matrix()
    nodes = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0], [0.3, 0.4, 1.0]]) @ turn.T
    bars = [[0, 1], [1, 2], [2, 3], [3, 0], [0, 4], [1, 4], [2, 4], [3, 4]]
    fixed = np.zeros((5, 6), dtype=bool)
    fixed[[0, 1], :3] = True  # 9 freedoms, 7 bars that count: two ways to move
    with pytest.raises(MechanismError, match="can move without resistance") as told:
        factor(FrameModel(nodes, bars, ONE, truss=True, fixed=fixed))
    assert set(told.value.nodes) <= {2, 3, 4}
