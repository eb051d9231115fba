"""Chord factors and counts of icosahedron domes.

Source: commonly tabulated Class I Method 1 chord factors (Clinton, in Domebook 2, 1971; Kenner,
Geodesic Math and How to Use It, 1976) and published build tables. All values here are recalled
from memory, the tables were not read; tolerance from the five printed digits.
"""

import numpy as np
import pytest

from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.measure import chord_factors
from strutwright.shape.pointlaws import flat_points
from strutwright.shape.seeds import make_seed
from strutwright.shape.subdivide import subdivide
from strutwright.shape.topology import struts_of

WHOLE_SPHERE = {
    (2, 0): {0.54653: 60, 0.61803: 60},
    (3, 0): {0.34862: 60, 0.40355: 90, 0.41241: 120},
    (4, 0): {0.25318: 60, 0.29453: 120, 0.29524: 60, 0.29859: 60, 0.31287: 120, 0.32492: 60},
}
# division, courses kept: hubs, struts, struts of each chord in ascending order
CUTS = {
    ((2, 0), 3): (26, 65, (30, 35)),
    ((3, 0), 4): (46, 120, (30, 40, 50)),
    ((3, 0), 5): (61, 165, (30, 55, 80)),
    ((4, 0), 6): (91, 250, (30, 60, 30, 30, 70, 30)),
}


def counted(chords, table):
    """How many of `chords` lie within the printed digits of each entry of `table`."""
    near = np.abs(np.asarray(chords)[:, None] - np.array(list(table))) < 1e-5
    assert (near.sum(axis=1) == 1).all()
    return tuple(near.sum(axis=0).tolist())


@pytest.mark.parametrize("division", WHOLE_SPHERE)
def test_chords_of_the_whole_sphere(division):
    net = subdivide(make_seed("icosahedron"), division)
    points = flat_points(net)
    ends = points[struts_of(net.faces)]
    chords = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    table = WHOLE_SPHERE[division]
    assert counted(chords, table) == tuple(table.values())


@pytest.mark.parametrize(("division", "courses"), CUTS)
def test_counts_of_cuts(division, courses):
    spec = DomeSpec(radius=2.5, division=division, truncation=courses, level_base="none")
    shell = dome(spec)
    hubs, struts, quantities = CUTS[division, courses]
    assert (len(shell.hubs), len(shell.struts)) == (hubs, struts)
    assert counted(chord_factors(shell), WHOLE_SPHERE[division]) == quantities
