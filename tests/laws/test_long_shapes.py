"""Long domes and vaults of any kind: counts, valences, mirror planes, level base, no fold."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from strutwright.errors import InputError
from strutwright.shape import topology
from strutwright.shape.measure import dihedrals
from strutwright.shape.stretch import LongDomeSpec, length_range, long_dome
from strutwright.shape.vault import VaultSpec, vault, vault_length_range

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


caps = st.tuples(
    st.sampled_from([4, 5, 6]),
    st.sampled_from([(1, 1), (2, 2), (3, 3), (1, 0), (2, 0), (3, 0)]),
).filter(lambda cap: cap != (4, (1, 0)))  # refused: no hub would stand over its base
arches = st.one_of(
    st.tuples(st.just("circle"), st.floats(0.268, 1.732)),
    st.tuples(st.just("ellipse"), st.floats(0.3, 3.0)),
)
shares = st.none() | st.floats(0.0, 1.0)
"""Where a length lies between the shortest and the longest that the bays give."""


def at_length(spec, share, bounds):
    """Return `spec` with the length at `share` of what its bays can give."""
    if share is None or not spec.bays:
        return spec
    low, high = bounds(spec, spec.bays)
    return replace(spec, length=low + share * (high - low))


@FEW
@given(cap=caps, bays=st.integers(0, 12), arch=arches, share=shares)
def test_long_domes_keep_valence_mirrors_base_and_size(cap, bays, arch, share):
    spec = LongDomeSpec(2.0, None, arch[1], bays, cap[0], cap[1], None, arch[0])
    spec = at_length(spec, share, length_range)
    shell = long_dome(spec)
    hubs, base = shell.hubs, shell.base
    assert set(valences(shell)) <= {5, 6}
    assert np.bincount(shell.struts.ravel())[base].max() <= 5
    assert np.abs(hubs[base, 2]).max() == 0.0
    assert np.delete(hubs[:, 2], base).min() > 0.0
    assert len(shell.struts) == 3 * len(hubs) - 3 - len(base)
    assert_its_own_image(shell, 0)
    assert_its_own_image(shell, 1)
    assert abs(np.ptp(hubs[base, 1]) - 2.0) < 1e-12
    assert abs(hubs[:, 2].max() - arch[1]) < 1e-9
    if spec.length is not None:
        assert abs(np.ptp(hubs[base, 0]) - spec.length) < 1e-9 * spec.length
    assert is_convex(hubs[base, :2])
    deepest = np.nanmax(dihedrals(shell)) - np.pi
    told = "folds-inwards" in {note.code for note in shell.recipe.notes}
    assert told == (deepest > np.radians(0.1))


def is_convex(ring):
    way = np.roll(ring, -1, axis=0) - ring
    after = np.roll(way, -1, axis=0)
    return bool((way[:, 0] * after[:, 1] - way[:, 1] * after[:, 0] > -1e-9).all())


def test_a_cap_with_no_hub_over_its_base_is_refused():
    with pytest.raises(InputError) as caught:
        long_dome(LongDomeSpec(2.0, bays=3, cap_symmetry=4, division=(1, 0)))
    assert caught.value.code == "shape-cap"


@FEW
@given(
    bays=st.integers(1, 12),
    gaps=st.integers(2, 7),
    profile=st.sampled_from(["circle", "parabola", "pointed"]),
    tall=st.floats(0.0, 1.0),
    grid=st.sampled_from(["three-way", "lamella"]),
    share=shares,
)
def test_vaults_of_any_rise_and_length_keep_size_and_valence(
    bays, gaps, profile, tall, grid, share
):
    low, high = {"circle": (0.134, 0.866), "parabola": (0.1, 1.5), "pointed": (0.5, 1.5)}[profile]
    rise = 4.0 * (low + tall * (high - low))
    spec = VaultSpec(4.0, None, rise, bays, 2 * gaps, None, profile, grid, ends="open")
    spec = at_length(spec, share, vault_length_range)
    shell = vault(spec)
    assert valences(shell).max() <= 6
    assert abs(np.ptp(shell.hubs[shell.base, 1]) - 4.0) < 1e-12
    assert abs(shell.hubs[:, 2].max() - rise) < 1e-9
    if spec.length is not None:
        assert abs(np.ptp(shell.hubs[:, 0]) - spec.length) < 1e-9 * spec.length
    assert_its_own_image(shell, 0)
    assert_its_own_image(shell, 1)
    assert np.nanmax(dihedrals(shell)) < np.pi + 1e-6


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
