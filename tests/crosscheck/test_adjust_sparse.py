"""The sparse adjustment against the dense one: normal equations against singular values."""

import numpy as np
import pytest

from strutwright.adjust import Network, Observation, adjust, decompose
from strutwright.shape.dome import DomeSpec, dome


def network_of(frequency):
    shell = dome(DomeSpec(3.0, division=(frequency, 0)))
    rng = np.random.default_rng(frequency)
    pairs = shell.struts.tolist() + [
        rng.choice(len(shell.hubs), 2, replace=False).tolist() for _ in range(20)
    ]
    at = shell.hubs
    rows = [
        Observation(
            "distance", (i, j), float(np.linalg.norm(at[j] - at[i]) + rng.normal(0, 1e-3)), 1e-3
        )
        for i, j in pairs
    ]
    rows += [Observation("coordinate", (int(hub),), 0.0, 3e-3) for hub in shell.base]
    return Network(at, np.zeros(at.shape, dtype=bool), tuple(rows))


@pytest.mark.parametrize("frequency", [2, 3])
def test_sparse_and_dense_agree(frequency, monkeypatch):
    network = network_of(frequency)
    found = []
    for most in (10, 10_000):
        monkeypatch.setattr(decompose, "MOST_DENSE", most)
        found.append(adjust(network))
    sparse, dense = found
    assert (sparse.freedom, sparse.defect) == (dense.freedom, dense.defect) == (20, 3)
    assert sparse.points == pytest.approx(dense.points, abs=1e-12)
    assert sparse.redundancy == pytest.approx(dense.redundancy, abs=1e-9)
    scale = np.abs(dense.cofactor).max()
    assert sparse.cofactor == pytest.approx(dense.cofactor, abs=1e-9 * scale)


def test_another_defect_is_left_to_singular_values(monkeypatch):
    """A hub that nothing ties to the others is no rigid motion of the whole."""
    network = network_of(2)
    loose = Network(
        np.vstack([network.points, [[9.0, 9.0, 9.0]]]),
        np.zeros((len(network.points) + 1, 3), dtype=bool),
        network.observations,
    )
    monkeypatch.setattr(decompose, "MOST_DENSE", 10)
    result = adjust(loose)
    assert result.defect == 6
    assert result.points[-1] == pytest.approx([9, 9, 9])
