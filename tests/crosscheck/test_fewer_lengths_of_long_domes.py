"""The long dome of symmetry 6, class II cap, rows along, 3 bays, brought to four lengths.

Common practice, no source: 55 hubs, 144 struts, four lengths used 80, 30, 26 and 8 times. How far
hubs lie off the capsule (a cylinder with half balls at its ends) is worked out here from the hubs.
"""

import numpy as np
import pytest

from strutwright.errors import InputError
from strutwright.shape.fewer import fewer_lengths, length_tradeoff, meet_classes
from strutwright.shape.measure import dihedrals, node_lengths
from strutwright.shape.stretch import LongDomeSpec, long_dome

R = 3.0
OFF = 0.005 * R
FLAT = 1e-6  # rad: strips between two rows are plane, to rounding


def off_capsule(hubs):
    """Return the largest distance of a hub, m, from the capsule of the best length."""
    halves = np.abs(hubs[:, 0]).max() - R + np.linspace(-0.15, 0.15, 601)
    beyond = np.clip(np.abs(hubs[:, 0]) - halves[:, None], 0, None)
    off = np.sqrt(beyond**2 + hubs[:, 1] ** 2 + hubs[:, 2] ** 2) - R
    return np.abs(off).max(axis=1).min()


@pytest.fixture(scope="module")
def start():
    return long_dome(LongDomeSpec(width=2 * R, bays=3))


def test_four_lengths_exactly_near_the_surface_and_convex(start):
    shell, tradeoff = fewer_lengths(start, 4)
    assert (len(shell.hubs), len(shell.struts)) == (55, 144)
    sizes = np.sort(node_lengths(shell))
    assert (np.diff(sizes) > 1e-9).sum() == 3
    assert sorted(tradeoff.of(4).counts.tolist()) == [6, 28, 30, 80]
    assert off_capsule(shell.hubs) < OFF
    assert np.nanmin(np.pi - dihedrals(shell)) > -FLAT


def test_the_usual_four_classes_are_met_near_the_surface_and_convex(start):
    sizes = np.linalg.norm(np.diff(start.hubs[start.struts], axis=1)[:, 0], axis=1) / R
    usual = np.digitize(sizes, [0.54, 0.567, 0.58])
    assert np.bincount(usual).tolist() == [30, 26, 8, 80]
    entry = meet_classes(start, usual)
    assert sorted(entry.counts.tolist()) == [8, 26, 30, 80]
    ends = entry.hubs[start.struts]
    found = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    assert np.abs(found - entry.class_lengths[entry.class_of]).max() < 1e-9
    assert off_capsule(entry.hubs) < OFF
    assert entry.smallest_fold > -FLAT


def test_one_length_for_a_long_dome_is_refused(start):
    with pytest.raises(InputError, match=r"snap-through|points outwards") as caught:
        fewer_lengths(start, 1)
    assert caught.value.code == "lengths-unreachable"


@pytest.mark.parametrize(("symmetry", "rows"), [(4, "along"), (5, "around"), (6, "around")])
def test_other_caps_keep_their_mirrors_and_base(symmetry, rows):
    shell = long_dome(LongDomeSpec(width=5.0, bays=2, cap_symmetry=symmetry, rows=rows))
    entries = length_tradeoff(shell).entries
    kept = [entry for entry in entries if not entry.refused]
    assert (np.diff([entry.drift for entry in kept]) >= 0).all()
    for entry in kept:
        assert np.abs(entry.hubs[shell.base, 2]).max() < 1e-9
        mirrored = entry.hubs * [1.0, -1.0, 1.0]
        gap = np.linalg.norm(mirrored[:, None] - entry.hubs[None], axis=2).min(axis=1)
        assert gap.max() < 1e-6
