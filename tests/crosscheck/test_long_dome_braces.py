"""What inner braces do for a pin-jointed long dome, by the frame and by a dense matrix of bars.

The shell: symmetry 6, class II cap, rows along, 3 bays, half circle (common practice, no source).
The law that a load at the mid crown sinks at least 12 times as far without 12 inner braces on a
staked base, 7 times on one free to slide, is common practice without a source; it holds for 12
braces on 17 hubs with the three middle ribs among the braced, which this computes.
"""

import numpy as np
import pytest

from strutwright.frame import FrameModel, Loads, circular_tube, solve
from strutwright.shape.braces import add_braces
from strutwright.shape.rigidity import length_jacobian
from strutwright.shape.stretch import LongDomeSpec, long_dome

MIDDLE = (2, 5, 6, 7, 10)
"""Braced ribs of 13, counted from one end."""
WEAK = 1e-3
"""N/m, springs that keep a base which slides freely from floating away."""
TUBE = (0.0483, 0.00368, 2.8e9, 1.0e9)


@pytest.fixture(scope="module")
def bare():
    return long_dome(LongDomeSpec(5.0, None, None, 3, 6, (1, 1), "along"))


@pytest.fixture(scope="module")
def braced(bare):
    shell = add_braces(bare, MIDDLE)
    braces = shell.struts[shell.role == "brace"]
    assert len(braces) == 12
    assert len(np.unique(braces)) == 17
    return shell


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


@pytest.mark.parametrize(("sliding", "least"), [(False, 12.0), (True, 7.0)])
def test_a_load_at_the_mid_crown_sinks_many_times_as_far_without_braces(
    bare, braced, sliding, least
):
    k = crown(bare)
    ratio = by_frame(bare, sliding)[k, 2] / by_frame(braced, sliding)[crown(braced), 2]
    assert ratio >= least


def test_with_braces_a_free_base_spreads_most_at_mid_length(braced):
    moved = by_frame(braced, sliding=True)
    outward = moved[braced.base, 1] * np.sign(braced.hubs[braced.base, 1])
    at = braced.hubs[braced.base]
    long_sides = np.abs(at[:, 1]) > 2.4
    most = at[np.argmax(outward)]
    assert np.abs(most[0]) == pytest.approx(np.abs(at[long_sides, 0]).min())


def test_the_usual_spacing_helps_less_than_braces_at_the_middle(bare, braced):
    usual = add_braces(bare, "auto")
    k = crown(usual)
    assert abs(by_frame(usual, sliding=False)[k, 2]) > abs(by_frame(braced, sliding=False)[k, 2])
    assert abs(by_frame(usual, sliding=False)[k, 2]) < abs(by_frame(bare, sliding=False)[k, 2]) / 7
