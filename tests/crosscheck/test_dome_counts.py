"""Counts, base-ring spread and valence charge of cut icosahedra.

Source: separate computations made for this project, no table read. The spread is the highest
minus the lowest base hub in shares of R; tolerance from the digits given.
"""

import numpy as np
import pytest

from strutwright.shape.dome import DomeSpec, dome

# division, courses kept: hubs, struts, faces, base hubs, spread
CUTS = {
    ((2, 0), 3): (26, 65, 40, 10, 0.0),
    ((3, 0), 4): (46, 120, 75, 15, 0.01595),
    ((3, 0), 5): (61, 165, 105, 15, 0.01595),
    ((4, 0), 5): (71, 190, 120, 20, 0.02525),
    ((4, 0), 6): (91, 250, 160, 20, 0.0),
    ((4, 0), 7): (111, 310, 200, 20, 0.02525),
}


def valences(shell):
    return np.bincount(shell.struts.ravel(), minlength=len(shell.hubs))


@pytest.mark.parametrize(("division", "courses"), CUTS)
def test_counts_and_spread(division, courses):
    shell = dome(DomeSpec(radius=3.0, division=division, truncation=courses, level_base="none"))
    *counts, spread = CUTS[division, courses]
    assert [len(shell.hubs), len(shell.struts), len(shell.faces), len(shell.base)] == counts
    assert np.ptp(shell.hubs[shell.base, 2]) / 3.0 == pytest.approx(spread, abs=1e-5)
    valence = valences(shell)
    on_base = np.zeros(len(shell.hubs), dtype=bool)
    on_base[shell.base] = True
    assert (6 - valence[~on_base]).sum() + (4 - valence[on_base]).sum() == 6


@pytest.mark.parametrize(
    ("division", "ways"),
    [((2, 0), {4: 10, 5: 6, 6: 10}), ((4, 0), {4: 20, 5: 6, 6: 65})],
)
def test_valences_of_hemispheres(division, ways):
    valence = valences(dome(DomeSpec(division=division)))
    assert dict(zip(*np.unique(valence, return_counts=True), strict=True)) == ways
