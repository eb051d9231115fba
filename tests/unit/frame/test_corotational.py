"""The tangent of the moving elements is the derivative of their forces; rigid motion is free."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from strutwright.frame import FrameModel, Loads, Sections, solve
from strutwright.frame.corotational import followed, moving_elements
from strutwright.frame.rotation import rotation_matrix, rotation_vector, turning_inverse


def element(seed, *, offsets=True, truss=False):
    rng = np.random.default_rng(seed)
    turning = np.array([[[np.inf, 5.0, 3.0], [np.inf, np.inf, 2.0]]])
    return FrameModel(
        [[0.1, 0.2, 0.3], [1.4, 0.9, -0.2]],
        [[0, 1]],
        Sections(50.0, 1.0, 2.0, 1.5, 1.0, 0.8),
        reference=rng.normal(size=(1, 3)),
        end_rotation=turning,
        end_axial=[[100.0, np.inf]],
        offsets=rng.normal(0, 0.1, (1, 2, 3)) if offsets else 0.0,
        truss=truss,
    )


def bent(seed, size):
    rng = np.random.default_rng(seed)
    turned = Rotation.random(random_state=seed).as_matrix()
    nodes = np.array([[0.1, 0.2, 0.3], [1.4, 0.9, -0.2]])
    moved = nodes @ turned.T - nodes + rng.normal(0, size, (2, 3))
    spins = rotation_matrix(rng.normal(0, size, (2, 3))) @ turned
    return moved, spins


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("kind", ["straight", "bowed", "bar"])
def test_tangent_is_the_derivative_of_the_forces(seed, kind):
    model = element(seed, offsets=seed % 2 == 1, truss=kind == "bar")
    moving = moving_elements(model, "bowed" if kind == "bowed" else "straight")
    moved, spins = bent(seed, 0.15)
    tangent = followed(model, moving, moved, spins).tangent[0]
    step, columns = 1e-6, []
    for freedom in range(12):
        change = np.zeros((2, 6))
        change[divmod(freedom, 6)] = step
        sides = [
            followed(
                model, moving, moved + s * change[:, :3], rotation_matrix(s * change[:, 3:]) @ spins
            )
            for s in (1.0, -1.0)
        ]
        columns.append((sides[0].forces[0] - sides[1].forces[0]) / (2 * step))
    difference = np.column_stack(columns)
    symmetric = 0.5 * (difference + difference.T)
    assert tangent == pytest.approx(symmetric, abs=2e-7 * np.abs(tangent).max())


@pytest.mark.parametrize("seed", range(3))
def test_rigid_motion_costs_nothing(seed):
    model = element(seed)
    matrix = Rotation.random(random_state=seed).as_matrix()
    moved = model.nodes @ matrix.T - model.nodes + [1.0, -2.0, 3.0]
    found = followed(model, moving_elements(model), moved, np.stack([matrix] * 2))
    assert np.abs(found.forces).max() < 1e-12


def test_small_motion_agrees_with_the_linear_solver():
    model = element(5)
    rng = np.random.default_rng(5)
    small = rng.normal(size=(2, 6)) * 1e-7
    held = FrameModel(
        **{**{n: getattr(model, n) for n in model.__dataclass_fields__}, "fixed": np.ones((2, 6))}
    )
    (linear,) = solve(held, [Loads(moves=small)])
    found = followed(model, moving_elements(model), small[:, :3], rotation_matrix(small[:, 3:]))
    assert found.forces.reshape(2, 6) == pytest.approx(linear.reactions, rel=1e-5, abs=1e-12)


@pytest.mark.parametrize("angle", [1e-9, 1e-3, 0.049, 0.051, 0.5, 3.0, 3.13])
def test_rotations_against_another_library(angle):
    vector = angle * np.array([0.36, -0.48, 0.8])
    matrix = rotation_matrix(vector)
    assert matrix == pytest.approx(Rotation.from_rotvec(vector).as_matrix(), abs=1e-14)
    assert rotation_vector(matrix) == pytest.approx(vector, rel=1e-7, abs=1e-15)
    spin = 1e-6 * np.array([0.3, 0.5, -0.7])
    up, down = (rotation_vector(rotation_matrix(s * spin) @ matrix) for s in (1.0, -1.0))
    assert turning_inverse(vector) @ spin == pytest.approx((up - down) / 2, rel=1e-6, abs=1e-13)
