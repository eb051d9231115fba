"""Networks adjusted again by a trust-region solver and by numerical derivatives: other routes."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import least_squares

from strutwright.adjust import DETECTABLE, Network, Observation, adjust, ellipse, observed, snoop


def drawn(seed, n_axes, *, held=True):
    """A network of nine points with distances, differences and coordinates, and errors."""
    rng = np.random.default_rng(seed)
    true = rng.uniform(0, 20, (9, n_axes))
    rows = [("distance", (i, j), 2) for i in range(9) for j in range(i) if rng.random() < 0.8]
    rows += [("difference", (i, i + 1), n_axes - 1) for i in range(0, 8, 2)]
    rows += [("coordinate", (8,), 0)] if held else []
    plain = [Observation(kind, ends, 0.0, float(rng.uniform(0.002, 0.02)), axis)
             for kind, ends, axis in rows]  # fmt: skip
    values = observed(true, plain) + rng.normal(0, [one.sigma for one in plain])
    made = tuple(replace(o, value=float(v)) for o, v in zip(plain, values, strict=True))
    fixed = np.zeros(true.shape, dtype=bool)
    if held:
        fixed[:n_axes] = np.tril(np.ones((n_axes, n_axes), dtype=bool))[::-1]
        fixed[0] = True
    start = np.where(fixed, true, true + rng.normal(0, 0.05, true.shape))
    return Network(start, fixed, made)


def weighted(network, x):
    points = network.points.copy()
    points[~network.held] = x
    sigma = np.array([one.sigma for one in network.observations])
    values = np.array([one.value for one in network.observations])
    return (observed(points, network.observations) - values) / sigma


def solved(network):
    start = network.points[~network.held]
    return least_squares(
        lambda x: weighted(network, x), start, jac="3-point", xtol=1e-15, ftol=1e-15, gtol=1e-15
    )


@pytest.mark.parametrize("n_axes", [1, 2, 3])
@pytest.mark.parametrize("seed", range(4))
def test_coordinates_residuals_and_covariance(seed, n_axes):
    network = drawn(seed, n_axes)
    found, other = adjust(network), solved(network)
    assert found.points[~network.held] == pytest.approx(other.x, abs=1e-6)
    sigma = np.array([one.sigma for one in network.observations])
    assert found.residuals / sigma == pytest.approx(other.fun, abs=1e-4)
    covariance = np.linalg.inv(other.jac.T @ other.jac)
    free = np.flatnonzero(~network.held.ravel())
    assert found.cofactor[np.ix_(free, free)] == pytest.approx(covariance, rel=1e-4, abs=1e-9)
    assert found.s0 == pytest.approx(np.sqrt(2 * other.cost / found.freedom), rel=1e-6)
    assert found.redundancy.sum() == pytest.approx(found.freedom)


@pytest.mark.parametrize("seed", range(3))
def test_a_redundancy_number_is_the_share_of_an_error_that_shows(seed):
    """dv/dl = -r, by moving one reading at a time."""
    network = drawn(seed, 2)
    found, step = adjust(network), 1e-4
    for row, one in enumerate(network.observations[:10]):
        moved = list(network.observations)
        moved[row] = replace(one, value=one.value + step)
        again = adjust(replace(network, observations=tuple(moved)))
        share = -(again.residuals[row] - found.residuals[row]) / step
        assert share == pytest.approx(found.redundancy[row], abs=2e-3)
        shown = DETECTABLE * one.sigma / np.sqrt(found.redundancy[row])
        assert found.detectable[row] == pytest.approx(shown)


@pytest.mark.parametrize("seed", range(3))
def test_a_free_network_has_the_least_correction_and_keeps_its_shape(seed):
    """Held or free: the distances come out alike; free, the mean shift and turn are nothing."""
    network = drawn(seed, 2, held=False)
    distances = tuple(o for o in network.observations if o.kind == "distance")
    free = adjust(replace(network, observations=distances))
    held = network.held.copy()
    held[0], held[1, 0] = True, True
    tied = adjust(Network(network.points, held, distances))
    assert (free.defect, tied.defect) == (3, 0)
    assert observed(free.points, distances) == pytest.approx(
        observed(tied.points, distances), abs=1e-7
    )
    step = free.points - network.points
    assert step.mean(axis=0) == pytest.approx(np.zeros(2), abs=1e-5)
    assert np.trace(free.cofactor) < np.trace(tied.cofactor)


def test_snooping_puts_two_blunders_aside_and_no_more():
    network = drawn(5, 2)
    spoilt = list(network.observations)
    for row, size in ((3, 0.4), (11, -0.25)):
        spoilt[row] = replace(spoilt[row], value=spoilt[row].value + size)
    found, aside = snoop(replace(network, observations=tuple(spoilt)))
    assert set(aside) == {3, 11}
    assert aside[0] == 3
    assert found.freedom == adjust(network).freedom - 2
    assert snoop(network)[1] == ()


def test_ellipses_hold_the_share_of_points_that_they_should():
    """Adjusted 200 times with new errors: 95 % of the points lie within the 95 % ellipse."""
    network = drawn(2, 2)
    base = adjust(network)
    true = observed(base.points, network.observations)
    rng = np.random.default_rng(0)
    a, b, turn = ellipse(base.covariance(5), kind="95")
    inside = 0
    for _ in range(200):
        made = tuple(
            replace(one, value=float(value + rng.normal(0, one.sigma)))
            for one, value in zip(network.observations, true, strict=True)
        )
        off = adjust(replace(network, observations=made)).points[5] - base.points[5]
        along = off @ [np.cos(turn), np.sin(turn)]
        across = off @ [-np.sin(turn), np.cos(turn)]
        inside += (along / a) ** 2 + (across / b) ** 2 <= 1
    assert 0.91 <= inside / 200 <= 0.985


def test_points_of_a_distance_in_one_place_are_refused():
    points = np.zeros((2, 2))
    with pytest.raises(ValueError, match="lie in one place"):
        Network(points, points.astype(bool), (Observation("distance", (0, 1), 1.0, 0.01),))
