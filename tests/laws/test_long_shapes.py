"""Long domes and vaults of any kind: counts, valences, mirror planes, level base, no fold."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from strutwright.shape import topology
from strutwright.shape.measure import dihedrals
from strutwright.shape.stretch import LongDomeSpec, long_dome
from strutwright.shape.vault import VaultSpec, vault

WALLS = st.one_of(st.just(0.0), st.floats(0.1, 0.4))
"""Height of side walls as a share of the width."""
FEW = settings(max_examples=25, deadline=None)


def assert_its_own_image(shell, axis):
    turned = shell.hubs * np.where(np.arange(3) == axis, -1.0, 1.0)
    gap = np.linalg.norm(turned[:, None] - shell.hubs[None], axis=2)
    partner = gap.argmin(axis=1)
    assert gap.min(axis=1).max() < 1e-9 * shell.size
    images = np.sort(partner[shell.struts], axis=1)
    assert {tuple(row) for row in images.tolist()} == {tuple(row) for row in shell.struts.tolist()}


def valences(shell):
    counted = shell.struts[shell.role != "brace"]
    inner = np.setdiff1d(np.arange(len(shell.hubs)), shell.base)
    return np.bincount(counted.ravel())[inner]


caps = st.tuples(st.sampled_from([4, 5, 6]), st.sampled_from([(1, 1), (2, 2), (2, 0), (3, 0)]))
arches = st.one_of(
    st.tuples(st.just("circle"), st.floats(0.3, 1.6)),
    st.tuples(st.just("ellipse"), st.floats(0.35, 2.5)),
)


@FEW
@given(cap=caps, bays=st.integers(0, 6), arch=arches)
def test_long_domes_keep_valence_mirrors_and_base(cap, bays, arch):
    spec = LongDomeSpec(2.0, None, arch[1], bays, cap[0], cap[1], None, arch[0])
    shell = long_dome(spec)
    assert set(valences(shell)) <= {5, 6}
    assert np.abs(shell.hubs[shell.base, 2]).max() == 0.0
    assert len(shell.struts) == 3 * len(shell.hubs) - 3 - len(shell.base)
    assert_its_own_image(shell, 0)
    assert_its_own_image(shell, 1)
    assert abs(np.ptp(shell.hubs[shell.base, 1]) - 2.0) < 1e-12
    assert abs(shell.hubs[:, 2].max() - arch[1]) < 1e-9


@FEW
@given(symmetry=st.sampled_from([4, 6]), b=st.integers(1, 3), bays=st.integers(0, 8))
def test_half_round_long_domes_along_are_exact_halves(symmetry, b, bays):
    shell = long_dome(LongDomeSpec(2.0, None, None, bays, symmetry, (b, b)))
    # half of V = p (T + Q) + 2, and half of the base ring that both halves share
    levels = shell.groups["hubs.barrel"], [n for n in shell.groups if n.startswith("hubs.rib")]
    q_number = b * (len(levels[1]) - 1)
    closed = symmetry * (3 * b * b + q_number) + 2
    assert 2 * len(shell.hubs) == closed + len(shell.base)
    assert len(shell.faces) == symmetry * (3 * b * b + q_number)
    assert not shell.recipe.notes
    assert np.nanmax(dihedrals(shell)) < np.pi + 1e-9


@FEW
@given(
    half_gaps=st.integers(2, 8),
    bays=st.integers(1, 10),
    walls=WALLS,
    profile=st.sampled_from(["circle", "parabola", "pointed"]),
    grid=st.sampled_from(["three-way", "lamella"]),
)
def test_open_vaults_have_the_counts_of_their_formula(half_gaps, bays, walls, profile, grid):
    gaps = 2 * half_gaps
    spec = VaultSpec(4.0, None, None, bays, gaps, None, profile, grid, 4 * walls, "open")
    shell = vault(spec)
    arch = (gaps // 2 + 1) * (bays + 1) + (gaps // 2) * (bays + 2)
    assert len(shell.groups["hubs.barrel"]) == arch
    assert len(shell.faces) % (2 * bays + 1) == 0
    if walls == 0:
        assert (len(shell.hubs), len(shell.faces)) == (arch, gaps * (2 * bays + 1))
    assert_its_own_image(shell, 0)
    assert_its_own_image(shell, 1)
    assert np.nanmax(dihedrals(shell)) < np.pi + 1e-6


@FEW
@given(
    half_gaps=st.integers(2, 8),
    bays=st.integers(1, 6),
    walls=WALLS,
    width=st.floats(2.0, 12.0),
    profile=st.sampled_from(["circle", "parabola", "pointed"]),
)
def test_walled_vaults_stand_whole(half_gaps, bays, walls, width, profile):
    spec = VaultSpec(
        width, None, None, bays, 2 * half_gaps, None, profile, side_walls=width * walls
    )
    shell = vault(spec)
    assert len(topology.boundary_rings(shell.faces)) == 1
    assert_its_own_image(shell, 0)
    assert_its_own_image(shell, 1)
    assert np.abs(shell.hubs[shell.base, 2]).max() == 0.0
    ring = shell.hubs[shell.base, :2]
    area = np.sum(ring[:, 0] * np.roll(ring[:, 1], -1) - np.roll(ring[:, 0], -1) * ring[:, 1]) / 2
    assert abs(area - width * np.ptp(shell.hubs[:, 0])) < 1e-9 * area
