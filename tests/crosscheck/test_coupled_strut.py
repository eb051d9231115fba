"""A strut with a coupler, against the buckling factor of the frame solver's own elements.

The four printed pairs are own computations of the stability equation (two digits).
"""

import numpy as np
import pytest

from strutwright.structure.standards.lattice import coupler_factor


@pytest.mark.parametrize(
    ("stiffness", "middle", "quarter"),
    [(2, 0.47, 0.59), (5, 0.70, 0.808), (10, 0.827, 0.901), (20, 0.907, 0.95)],
)
def test_share_of_the_euler_load(stiffness, middle, quarter):
    assert coupler_factor(stiffness, 0.5) == pytest.approx(middle, abs=0.005)
    assert coupler_factor(stiffness, 0.25) == pytest.approx(quarter, abs=0.005)


@pytest.mark.parametrize("share", [0.5, 0.3])
@pytest.mark.parametrize("stiffness", [1.0, 6.0])
def test_share_against_finite_differences(stiffness, share):
    """Another route: v'' = -P v / EI on a grid, the coupler as a kink of M / c."""
    n = 400
    x = np.linspace(0, 1, n + 1)
    # flexibility: v(x) = sum of Green's function of bending plus that of the spring
    low, high = np.minimum.outer(x, x), np.maximum.outer(x, x)
    spring = np.where(x < share, x * (1 - share), (1 - x) * share)
    # moment m = P v; v = integral G m + spring * m(share) / c
    green = low * (1 - high) / n
    at = np.argmin(np.abs(x - share))
    matrix = green.copy()
    matrix[:, at] += spring / stiffness
    largest = np.max(np.real(np.linalg.eigvals(matrix[1:-1, 1:-1])))
    assert coupler_factor(stiffness, share) == pytest.approx(1 / largest / np.pi**2, rel=3e-3)
