"""The 3-frequency icosahedron whose base lies flat with all hubs on the sphere.

Source: the unique solution by symmetry (one free parameter), computed separately for this
project; it should equal the values of Fuller and Kruschke (Kruschke 1972, pp. 18-23), a table
that was not read. The base plane lies at the height of the dodecahedron's corners.
"""

import numpy as np
import pytest

from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.level import level_whole
from strutwright.shape.measure import chord_factors
from strutwright.shape.pointlaws import spread_points
from strutwright.shape.seeds import make_seed, top_of
from strutwright.shape.subdivide import subdivide
from strutwright.shape.topology import struts_of

CHORDS = {0.329707: 60, 0.382291: 60, 0.421489: 120, 0.441055: 30}


@pytest.mark.parametrize("law", ["flat", "arc", "even"])
def test_the_whole_sphere(law):
    """There is one free parameter only, so every point law leads to the same shape."""
    seed = make_seed("icosahedron")
    net, top = subdivide(seed, (3, 0)), top_of(seed, "vertex")
    points = spread_points(net, law)
    heights = points @ top
    ring = np.flatnonzero((heights > 0.1) & (heights < 0.25))
    assert len(ring) == 15
    moved = level_whole(net, points, ring, top)
    assert np.linalg.norm(moved, axis=1) == pytest.approx(1, abs=1e-12)
    assert moved[ring] @ top == pytest.approx(0.187592, abs=1e-6)
    ends = moved[struts_of(net.faces)]
    chords = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    near = np.abs(chords[:, None] - np.array(list(CHORDS))) < 2e-6
    assert near.sum(axis=0).tolist() == list(CHORDS.values())


@pytest.mark.parametrize(("courses", "height"), [(4, 0.187592), (5, -0.187592)])
def test_the_cut_dome(courses, height):
    shell = dome(DomeSpec(2.0, division=(3, 0), truncation=courses, level_base="whole"))
    assert shell.recipe.base == "level"
    assert shell.hubs[:, 2].max() == pytest.approx(2 * (1 - height), abs=2e-6)
    gaps = np.abs(chord_factors(shell)[:, None] - np.array(list(CHORDS))).min(axis=1)
    assert gaps.max() < 2e-6
