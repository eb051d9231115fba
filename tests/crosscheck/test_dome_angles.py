"""Angles, deficits and areas of flat-law domes.

Source: separate computations made for this project, no table read, to the digits given. The dip
asin(c / 2) follows the definitions of Clinton as reproduced in Salsburg, Geodesic Math (read);
the numbers are computed.
"""

import numpy as np
import pytest

from strutwright.shape import measure
from strutwright.shape.courses import courses_from_top
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.pointlaws import flat_points
from strutwright.shape.seeds import make_seed
from strutwright.shape.subdivide import subdivide

# seed, division: {chord, inner dihedral in degrees: how often on the sphere, where given}
DIHEDRALS = {
    ("icosahedron", (1, 0)): {(1.05146, 138.1897)},
    ("icosahedron", (2, 0)): {(0.54653, 157.5411), (0.61803, 161.9709)},
    ("icosahedron", (3, 0)): {
        (0.34862, 165.5647),
        (0.40355, 165.5423),
        (0.40355, 168.6411),
        (0.41241, 166.4214),
    },
    ("icosahedron", (4, 0)): {
        (0.25318, 169.49),
        (0.29453, 169.6172),
        (0.29524, 172.1978),
        (0.29859, 169.5057),
        (0.31287, 169.9819),
        (0.32492, 169.6421),
    },
    ("icosahedron", (1, 1)): {(0.64085, 153.7896), (0.71364, 161.946)},
    ("octahedron", (2, 0)): {(0.76537, 138.118), (1.0, 155.6256)},
}
DIPS = {0.546533: 15.8587, 0.618034: 18.0, 0.348615: 10.0384, 0.403548: 11.6407}
DIPS |= {0.412411: 11.9001, 0.253185: 7.2727, 0.294531: 8.4685, 0.295242: 8.4891}
DIPS |= {0.298588: 8.586, 0.312869: 9.0, 0.32492: 9.3497}


def nearly_whole(seed, division, radius=2.0):
    """The sphere less its lowest course."""
    net = subdivide(make_seed(seed), division)
    heights = flat_points(net) @ net.seed.points[net.seed.faces[0, 0]]
    total = courses_from_top(net.faces, heights).max()
    spec = DomeSpec(radius, seed, division, truncation=int(total) - 1, level_base="none")
    return dome(spec)


@pytest.mark.parametrize(("seed", "division"), DIHEDRALS)
def test_dihedral_of_each_chord(seed, division):
    shell = nearly_whole(seed, division)
    angle = np.degrees(measure.dihedrals(shell))
    chord = measure.chord_factors(shell)
    table = np.array(sorted(DIHEDRALS[seed, division]))
    there = ~np.isnan(angle)
    near = np.abs(chord[there, None] - table[:, 0]) < 1.1e-5
    near &= np.abs(angle[there, None] - table[:, 1]) < 1e-3
    assert (near.sum(axis=1) == 1).all()
    assert near.any(axis=0).all()


def test_one_chord_with_two_dihedrals_60_and_30_on_the_sphere():
    shell = nearly_whole("icosahedron", (3, 0))
    chord, angle = measure.chord_factors(shell), np.degrees(measure.dihedrals(shell))
    # the cut takes the lowest hub with its five shortest struts and frees five of 0.40355
    assert (np.abs(chord - 0.40355) < 1e-5).sum() == 90
    assert (np.abs(angle - 165.5423) < 1e-3).sum() == 30
    assert (np.abs(angle - 168.6411) < 1e-3).sum() == 55


@pytest.mark.parametrize("division", [(2, 0), (3, 0), (4, 0)])
def test_dip_and_angle_to_the_radius(division):
    shell = dome(DomeSpec(3.0, division=division, level_base="none"))
    table = measure.spoke_table(shell)
    chord = measure.chord_factors(shell)
    names = np.array(list(DIPS))
    which = np.abs(chord[:, None] - names).argmin(axis=1)
    assert np.abs(chord - names[which]).max() < 1e-6
    expected = np.array(list(DIPS.values()))[which]
    assert np.degrees(table.dip) == pytest.approx(expected[table.strut], abs=1e-3)
    to_radius = np.degrees(measure.radius_angles(shell))
    assert to_radius == pytest.approx(np.stack([90 - expected] * 2, axis=1), abs=1e-3)


@pytest.mark.parametrize(
    ("division", "faces"),
    [
        ((2, 0), [[55.569, 55.569, 68.862], [60, 60, 60]]),
        ((3, 0), [[58.5832, 60.7084, 60.7084], [54.6347, 54.6347, 70.7305]]),
    ],
)
def test_face_angles(division, faces):
    angles = np.sort(
        np.degrees(measure.face_angles(dome(DomeSpec(division=division, level_base="none")))),
        axis=1,
    )
    gaps = np.abs(angles[:, None] - np.array(faces)).max(axis=2)
    assert gaps.min(axis=1).max() < 1e-3
    assert gaps.min(axis=0).max() < 1e-3


@pytest.mark.parametrize(
    ("division", "inner", "rim"), [((2, 0), 271.38, 88.62), ((4, 0), 312.28, 47.72)]
)
def test_angle_deficits(division, inner, rim):
    shell = dome(DomeSpec(division=division))
    deficit = np.degrees(measure.angle_deficits(shell))
    on_base = np.isin(np.arange(len(deficit)), shell.base)
    assert deficit[~on_base].sum() == pytest.approx(inner, abs=0.005)
    assert deficit[on_base].sum() == pytest.approx(rim, abs=0.005)


@pytest.mark.parametrize(
    ("division", "cover", "volume", "floor"),
    [((2, 0), 5.8330, 1.8294, 2.9389), ((4, 0), 6.1645, 2.0235, 3.0902)],
)
def test_areas_and_volume(division, cover, volume, floor):
    shell = dome(DomeSpec(3.0, division=division))
    assert measure.cover_area(shell) / 9 == pytest.approx(cover, abs=6e-5)
    assert measure.volume(shell) / 27 == pytest.approx(volume, abs=6e-5)
    assert measure.floor_area(shell) / 9 == pytest.approx(floor, abs=6e-5)
    assert measure.width(shell) == pytest.approx(6.0)
