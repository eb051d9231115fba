"""Published figures of the icosahedron and its subdivisions.

Sources: volumes of geodesic grids, Wikipedia "Geodesic grid" as mirrored at
liquisearch.com/geodesic_grid/parameters (read; digits printed beyond seven disagree with exact
arithmetic); angle of face normals, issi1.com/corwin/unit_v.txt (read); dihedral pi - asin(2/3),
GNU 3DLDF manual, Icosahedron Data Members (read); T and Q numbers, thebacteriophages.org ch. 18,
figure 18-7 (read).
"""

import numpy as np
import pytest

from strutwright.shape import measure, topology
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.pointlaws import flat_points
from strutwright.shape.seeds import SEEDS, make_seed
from strutwright.shape.subdivide import subdivide, triangulation_number


@pytest.mark.parametrize(
    ("frequency", "share"),
    [(1, 0.60546138), (2, 0.87345316), (3, 0.94093798), (4, 0.96615135)],
)
def test_volume_of_the_closed_net(frequency, share):
    net = subdivide(make_seed("icosahedron"), (frequency, 0))
    volume = topology.signed_volume(flat_points(net), net.faces, np.zeros(3))
    assert volume / (4 / 3 * np.pi) == pytest.approx(share, abs=1e-7)


def test_dihedral_of_the_icosahedron():
    shell = dome(DomeSpec(division=(1, 0), truncation=2, level_base="none"))
    angle = np.degrees(measure.dihedrals(shell))
    angle = angle[~np.isnan(angle)]
    assert 180 - angle == pytest.approx(41.81031489578, abs=1e-6)
    assert angle == pytest.approx(138 + 11 / 60, abs=0.02)


def test_triangulation_number():
    assert triangulation_number(3, 1) == 13


@pytest.mark.parametrize("division", [(1, 0), (3, 1), (1, 3), (2, 2), (5, 4), (12, 12), (24, 0)])
@pytest.mark.parametrize("seed", SEEDS)
def test_hubs_of_the_closed_net(seed, division):
    """V = 10 T + 2 for the icosahedron (Coxeter, Caspar and Klug), 4 T + 2 and 2 T + 2."""
    net = subdivide(make_seed(seed), division)
    total = triangulation_number(*division)
    half = {"icosahedron": 10, "octahedron": 4, "tetrahedron": 2}[seed]
    assert len(net.weights) == half * total + 2
    assert len(net.faces) == 2 * half * total
    topology.check_manifold(net.faces)
    assert topology.euler_number(net.faces) == 2
    points = flat_points(net)
    assert np.linalg.det(points[net.faces]).min() > 0


@pytest.mark.parametrize("division", [(2, 1), (3, 1), (5, 2)])
def test_swapped_division_is_the_mirror_image(division):
    left = flat_points(subdivide(make_seed("icosahedron"), division))
    right = flat_points(subdivide(make_seed("icosahedron"), division[::-1])) * [-1, 1, 1]
    gaps = np.linalg.norm(left[:, None] - right, axis=2).min(axis=1)
    assert gaps.max() < 1e-12
    same = flat_points(subdivide(make_seed("icosahedron"), division[::-1]))
    assert np.linalg.norm(left[:, None] - same, axis=2).min(axis=1).max() > 0.01
