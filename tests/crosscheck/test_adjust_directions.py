"""Directions, angles, bearings and distances together, adjusted again by a trust-region solver
that carries the zero of every setup as an unknown of its own."""

import numpy as np
import pytest
from scipy.optimize import least_squares

from strutwright.adjust import Network, Observation, adjust, snoop

SECOND = np.deg2rad(1 / 3600)


def bearing(points, i, j):
    step = points[j] - points[i]
    return np.arctan2(step[1], step[0])


def drawn(seed, n_axes):
    rng = np.random.default_rng(seed)
    true = rng.uniform(0, 500, (7, n_axes))
    zeros = rng.uniform(0, 2 * np.pi, 7)
    rows = []
    for i in range(7):
        for j in rng.permutation([k for k in range(7) if k != i])[:5].tolist():
            value = (bearing(true, i, j) - zeros[i]) % (2 * np.pi)
            rows.append(("direction", (i, j), value, 4 * SECOND))
    rows.append(("bearing", (0, 3), bearing(true, 0, 3), 6 * SECOND))
    turned = bearing(true, 2, 6) - bearing(true, 2, 5)
    rows.append(("angle", (2, 5, 6), turned % (2 * np.pi), 5 * SECOND))
    for i in range(7):
        j = (i + 2) % 7
        rows.append(("distance", (i, j), float(np.linalg.norm(true[j] - true[i])), 0.004))
    if n_axes == 3:
        rows += [("difference", (i, i + 1), true[i + 1, 2] - true[i, 2], 0.002) for i in range(6)]
    made = tuple(
        Observation(kind, ends, float(value + rng.normal(0, sigma)), sigma)
        for kind, ends, value, sigma in rows
    )
    held = np.zeros(true.shape, dtype=bool)
    held[:2] = True
    start = np.where(held, true, true + rng.normal(0, 2.0, true.shape))
    return Network(start, held, made)


def solved(network):
    """Coordinates and zeros by a solver that knows nothing of elimination."""
    free = ~network.held
    n = int(free.sum())
    seen = network.observations

    def off(x):
        points = network.points.copy()
        points[free] = x[:n]
        found = []
        for one in seen:
            i, *others = one.ends
            if one.kind == "distance":
                v = np.linalg.norm(points[others[0]] - points[i]) - one.value
            elif one.kind == "difference":
                v = points[others[0], 2] - points[i, 2] - one.value
            else:
                v = bearing(points, i, others[-1]) - one.value
                if one.kind == "angle":
                    v -= bearing(points, i, others[0])
                if one.kind == "direction":
                    v -= x[n + i]
                v = np.arctan2(np.sin(v), np.cos(v))
            found.append(v / one.sigma)
        return np.array(found)

    zeros = [
        bearing(network.points, i, one.ends[1]) - one.value
        for i in range(7)
        for one in [next(o for o in seen if o.kind == "direction" and o.ends[0] == i)]
    ]
    start = np.concatenate([network.points[free], zeros])
    return least_squares(off, start, jac="3-point", x_scale="jac", xtol=1e-15, ftol=1e-15), n


@pytest.mark.parametrize("n_axes", [2, 3])
@pytest.mark.parametrize("seed", range(3))
def test_coordinates_covariance_and_redundancy(seed, n_axes):
    network = drawn(seed, n_axes)
    found = adjust(network)
    other, n = solved(network)
    assert found.points[~network.held] == pytest.approx(other.x[:n], abs=1e-5)
    assert found.orientations == pytest.approx(other.x[n:] % (2 * np.pi), abs=1e-7)
    covariance = np.linalg.inv(other.jac.T @ other.jac)
    free = np.flatnonzero(~network.held.ravel())
    size = np.abs(covariance[:n, :n]).max()
    assert found.cofactor[np.ix_(free, free)] == pytest.approx(covariance[:n, :n], abs=1e-4 * size)
    hat = np.einsum("ij,jk,ik->i", other.jac, covariance, other.jac)
    assert found.redundancy == pytest.approx(1 - hat, abs=1e-4)
    assert found.freedom == len(network.observations) - len(other.x)
    assert found.redundancy.sum() == pytest.approx(found.freedom)


def test_a_misread_direction_is_found():
    network = drawn(5, 2)
    spoilt = list(network.observations)
    wrong = spoilt[9]
    spoilt[9] = Observation(wrong.kind, wrong.ends, wrong.value + 100 * SECOND, wrong.sigma)
    found, aside = snoop(Network(network.points, network.held, tuple(spoilt)))
    assert aside == (9,)
    assert 0.5 < found.s0 < 1.5
