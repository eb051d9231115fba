"""Euler columns, sway frames and spring-held columns against their closed forms."""

import numpy as np
import pytest
from scipy.optimize import brentq

from strutwright.frame import FrameModel, Loads, Sections, buckle, mode_kind

ONE = Sections(1e6, 1.0, 1e3, 1.0, 1.0, 1.0)  # stiff out of the plane


def column(bottom, top, *, springs=None, **more):
    """Upright-free column along x, loaded by 1 at the top; plane bending about y."""
    fixed = np.zeros((2, 6), dtype=bool)
    fixed[:, [1, 3, 5]] = True
    fixed[0, bottom] = True
    fixed[1, top] = True
    more = more | ({"springs": springs} if springs is not None else {})
    return FrameModel([[0, 0, 0], [1.0, 0, 0]], [[0, 1]], ONE, fixed=fixed, **more)


def press(count=2, node=1):
    forces = np.zeros((count, 6))
    forces[node, 0] = -1.0
    return Loads(forces)


# clamped-pinned: tan u = u; K = 0.6992
FIX_PIN = brentq(lambda u: np.tan(u) - u, 4.4, 4.5) ** 2


@pytest.mark.parametrize(
    ("bottom", "top", "value", "within"),
    [
        ([0, 2], [2], 9.8696044, 0.001),  # both ends pinned: closed form
        ([0, 2, 4], [2, 4], 39.4784176, 0.03),  # both clamped: closed form
        ([0, 2, 4], [], np.pi**2 / 4, 1e-4),
        ([0, 2, 4], [2], FIX_PIN, 0.003),
        ([0, 2, 4], [4], np.pi**2, 0.001),  # clamped, top slides without turning
    ],
)
def test_euler_columns(bottom, top, value, within):
    found, _ = buckle(column(bottom, top), press(), pieces=8)
    assert found.factors[0] == pytest.approx(value, abs=within)


def test_one_element_is_a_fifth_unsafe():
    # 12 EI/L2 against pi2 EI/L2: the known answer of one cubic element
    found, _ = buckle(column([0, 2], [2]), press(), pieces=1)
    assert found.factors[0] == pytest.approx(12.0, rel=1e-9)


def test_order_of_convergence_is_four():
    errors = []
    for pieces in (2, 4, 8):
        found, _ = buckle(column([0, 2], [2]), press(), pieces=pieces)
        errors.append(found.factors[0] - np.pi**2)
    assert np.log2(errors[0] / errors[1]) == pytest.approx(4.0, abs=0.15)
    assert np.log2(errors[1] / errors[2]) == pytest.approx(4.0, abs=0.15)


@pytest.mark.parametrize("k", [0.5, 2.0, 20.0])
def test_column_with_rotational_end_springs(k):
    # both ends k EI/L, no sway: tan(u/2) = -u/k
    critical = brentq(lambda u: np.sin(u / 2) + u / k * np.cos(u / 2), np.pi + 1e-9, 2 * np.pi) ** 2
    turning = np.array([[[np.inf, k, np.inf]] * 2])
    model = column([0, 2, 4], [2, 4], end_rotation=turning)
    found, _ = buckle(model, press(), pieces=8)
    # eight elements give the clamped column 5e-4 too much, the others less
    assert found.factors[0] == pytest.approx(critical, rel=5e-4)


@pytest.mark.parametrize("k", [0.5, 3.0])
def test_cantilever_column_on_a_base_spring(k):
    # u tan u = k
    critical = brentq(lambda u: u * np.tan(u) - k, 1e-6, np.pi / 2 - 1e-9) ** 2
    springs = np.zeros((2, 6))
    springs[0, 4] = k
    found, _ = buckle(column([0, 2], [], springs=springs), press(), pieces=8)
    assert found.factors[0] == pytest.approx(critical, rel=1e-4)


def test_portal_that_sways():
    # same EI and length, clamped feet, P on both legs: u cot u = -6, P h2/EI = 7.379153560801052
    nodes = [[0, 0, 0], [0, 0, 1], [1, 0, 1], [1, 0, 0]]
    fixed = np.zeros((4, 6), dtype=bool)
    fixed[:, [1, 3, 5]] = True
    fixed[[0, 3]] = True
    round_tube = Sections(1e6, 1.0, 1.0, 1.0, 1.0, 1.0)
    model = FrameModel(nodes, [[0, 1], [1, 2], [2, 3]], round_tube, fixed=fixed)
    forces = np.zeros((4, 6))
    forces[[1, 2], 2] = -1.0
    found, division = buckle(model, Loads(forces), pieces=8)
    assert found.factors[0] == pytest.approx(7.379153560801052, abs=0.01)
    assert mode_kind(division, found.modes[0], 4) == "hub"


def test_pinned_column_is_a_member_mode():
    found, division = buckle(column([0, 2], [2]), press(), pieces=4)
    assert mode_kind(division, found.modes[0], 2) == "member"


def test_rigid_link_buckles_like_a_short_beam():
    # rigid arm e on a base spring k, carrying a bar pressed along it: P = k/L for a rigid strut
    arms = np.array([[[0.6, 0.0, 0.0], [0.0, 0.0, 0.0]]])
    stiff = Sections(1e9, 1e6, 1e6, 1e6, 1.0, 1.0)
    springs = np.zeros((2, 6))
    springs[0, 4] = 3.0
    fixed = np.array([[1, 1, 1, 1, 0, 1], [0, 1, 0, 1, 0, 1]], dtype=bool)
    model = FrameModel(
        [[0, 0, 0], [1.0, 0, 0]], [[0, 1]], stiff, offsets=arms, fixed=fixed, springs=springs
    )
    found, _ = buckle(model, press(), pieces=2)
    assert found.factors[0] == pytest.approx(3.0, rel=1e-4)


def test_tension_does_not_buckle():
    forces = np.zeros((2, 6))
    forces[1, 0] = 1.0
    for pieces in (2, 12, 40):
        found, _ = buckle(column([0, 2], [2]), Loads(forces), pieces=pieces)
        assert found.ended == "none", pieces
        assert len(found.factors) == 0
    assert buckle(column([0, 2], [2]), Loads())[0].ended == "none"


def test_many_elements_agree_with_few():
    dense, _ = buckle(column([0, 2], [2]), press(), pieces=16, count=4)
    sparse, _ = buckle(column([0, 2], [2]), press(), pieces=40, count=4)
    expected = np.pi**2 * np.arange(1, 5) ** 2
    assert dense.factors == pytest.approx(expected, rel=1e-3)
    assert sparse.factors == pytest.approx(expected, rel=1e-4)
    assert sparse.ended == "found"
