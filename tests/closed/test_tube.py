"""Closed p-fold capped tubes: V = p (T + Q) + 2 and F = 2 p (T + Q).

Own derivation: 2 p cap triangles of T small ones each and p strips of 2 Q; Euler gives V. Of the
p = 5 tubes with T = 3 and Q = 5 the count of 42 is that of the capsomers of a virus of that net
(Tao et al. 1998, recalled from memory).
"""

import numpy as np
import pytest

from strutwright.shape import topology
from strutwright.shape.tube import closed_net


@pytest.mark.parametrize("rows", ["along", "around"])
@pytest.mark.parametrize("symmetry", range(3, 9))
def test_counts_and_valences_of_closed_tubes(symmetry, rows):
    for frequency in range(1, 5):
        for tube_levels in range(1, 9):
            net = closed_net(symmetry, frequency, rows, tube_levels)
            t_number = frequency**2 * (3 if rows == "along" else 1)
            total = t_number + frequency * tube_levels
            topology.check_manifold(net.faces)
            assert topology.euler_number(net.faces) == 2
            assert len(net.level) == symmetry * total + 2
            assert len(net.faces) == 2 * symmetry * total
            valence = np.bincount(topology.struts_of(net.faces).ravel())
            assert sorted(valence) == sorted(
                [symmetry] * 2 + [5] * 2 * symmetry + [6] * (symmetry * (total - 2))
            )


def test_the_five_fold_tube_of_t_3_and_q_5_has_42_hubs():
    assert len(closed_net(5, 1, "along", 5).level) == 42
