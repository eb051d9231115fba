"""What inner braces do for a pin-jointed long dome, by the frame and by a dense matrix of bars.

The shell: symmetry 6, class II cap, rows along, 3 bays, half circle (common practice, no source).
"""

import numpy as np
import pytest

from strutwright.frame import FrameModel, Loads, circular_tube, solve
from strutwright.shape.braces import add_braces
from strutwright.shape.rigidity import length_jacobian
from strutwright.shape.stretch import LongDomeSpec, long_dome

WEAK = 1e-3
"""N/m, springs that keep a base which slides freely from floating away."""
TUBE = (0.0483, 0.00368, 2.8e9, 1.0e9)


@pytest.fixture(scope="module")
def bare():
    return long_dome(LongDomeSpec(5.0, None, None, 3, 6, (1, 1), "along"))


@pytest.fixture(scope="module")
def braced(bare):
    return add_braces(bare, "auto")


def crown(shell):
    return int(np.argmin(np.linalg.norm(shell.hubs - [0, 0, 2.5], axis=1)))


def by_frame(shell, sliding):
    """Return the movements (H, 3) under 445 N at the mid crown."""
    n = len(shell.hubs)
    fixed, springs = np.zeros((n, 6), dtype=bool), np.zeros((n, 6))
    fixed[shell.base, 2] = True
    fixed[shell.base, :2] = not sliding
    springs[shell.base, :2] = WEAK if sliding else 0.0
    tube = circular_tube(*TUBE)
    model = FrameModel(
        shell.hubs, shell.struts, tube, truss=True, fixed=fixed, springs=springs
    )  # fmt: skip
    forces = np.zeros((n, 6))
    forces[crown(shell), 2] = -445.0
    return solve(model, [Loads(forces=forces)])[0].displacements[:, :3]


def by_bars(shell, sliding):
    """Return the same by a dense matrix: sums of E A/L along each strut."""
    ends = shell.hubs[shell.struts]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    area = np.pi / 4 * (TUBE[0] ** 2 - (TUBE[0] - 2 * TUBE[1]) ** 2)
    table = length_jacobian(shell.hubs, shell.struts).toarray()
    stiff = table.T @ ((TUBE[2] * area / length)[:, None] * table)
    base = 3 * shell.base[:, None] + np.arange(3)
    held = base[:, 2] if sliding else base.ravel()
    if sliding:
        at = base[:, :2].ravel()
        stiff[at, at] += WEAK
    free = np.setdiff1d(np.arange(len(stiff)), held)
    force = np.zeros(len(stiff))
    force[3 * crown(shell) + 2] = -445.0
    moved = np.zeros(len(stiff))
    moved[free] = np.linalg.solve(stiff[np.ix_(free, free)], force[free])
    return moved.reshape(-1, 3)


@pytest.mark.parametrize("sliding", [False, True])
def test_both_routes_agree(bare, braced, sliding):
    for shell in (bare, braced):
        one, other = by_frame(shell, sliding), by_bars(shell, sliding)
        assert np.abs(one - other).max() < 1e-6 * np.abs(other).max()
