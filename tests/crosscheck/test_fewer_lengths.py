"""Fewer lengths held against lengths, folds and moves that are worked out here from the hubs alone.

The largest moves are upper bounds of an independent computation (greedy merges and SQP without
symmetry; icosahedron class I, flat point law, vertex up, hemisphere, R = 3 m, hubs free in plan).
Status of the bounds: computed.
"""

import numpy as np
import pytest

from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.fewer import fewer_lengths, length_tradeoff
from strutwright.shape.measure import dihedrals, node_lengths
from strutwright.shape.orbits import symmetry

CUT = 5e-5  # m: one cut length
MOST = {  # frequency, lengths: most allowed move in m, value and tolerance
    (4, 5): 1.31e-3 + 0.17e-3,
    (4, 4): 39.05e-3 + 2.05e-3,
    (4, 3): 121.82e-3 + 6.19e-3,
    (6, 8): 4e-3 + 0.5e-3,
    (8, 12): 4.1e-3 + 0.2e-3,
    (8, 10): 22e-3 + 1e-3,
}


def count_lengths(shell):
    """Walk up the sorted lengths; a step beyond the cut length is another class."""
    sizes = np.sort(node_lengths(shell))
    starts = [sizes[0]]
    for size in sizes:
        if size - starts[-1] > CUT:
            starts.append(size)
    return len(starts)


def convex(shell):
    """Return the largest height of a hub over the plane of a neighbouring face, m: 0 if convex."""
    a, b, c = (shell.hubs[shell.faces[:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    worst = -np.inf
    edges = {}
    for f, face in enumerate(shell.faces.tolist()):
        for k in range(3):
            edges.setdefault(frozenset((face[k], face[(k + 1) % 3])), []).append(
                (f, face[(k + 2) % 3])
            )
    for sides in edges.values():
        if len(sides) == 2:
            (f, _), (_, far) = sides
            worst = max(worst, (shell.hubs[far] - a[f]) @ normal[f])
    return worst


@pytest.fixture(scope="module", params=[4, 6, 8])
def case(request):
    shell = dome(DomeSpec(3.0, division=(request.param, 0)))
    return request.param, shell, length_tradeoff(shell)


def test_moves_are_no_more_than_the_independent_bounds(case):
    frequency, _, tradeoff = case
    for (nu, lengths), most in MOST.items():
        if nu == frequency:
            assert tradeoff.of(lengths).drift <= most, (nu, lengths)


def test_every_entry_is_what_its_hubs_say(case):
    _, shell, tradeoff = case
    for entry in tradeoff.entries:
        if entry.refused:
            continue
        ends = entry.hubs[shell.struts]
        sizes = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
        for k, length in enumerate(entry.class_lengths):
            assert np.abs(sizes[entry.class_of == k] - length).max() < 1e-9 + (
                CUT if entry is tradeoff.entries[0] else 0
            )
        assert entry.counts.sum() == len(shell.struts)
        moved = np.linalg.norm(entry.hubs - shell.hubs, axis=1).max()
        assert moved == pytest.approx(entry.drift, abs=1e-9)


@pytest.mark.parametrize(("lengths", "flat"), [(5, False), (4, False), (3, True)])
def test_the_shell_has_so_many_lengths_stays_level_convex_and_symmetric(lengths, flat):
    start = dome(DomeSpec(3.0, division=(4, 0)))
    shell, tradeoff = fewer_lengths(start, lengths)
    assert count_lengths(shell) == lengths
    assert np.abs(shell.hubs[shell.base, 2]).max() < 1e-12
    assert convex(shell) < 1e-5
    folds = np.pi - dihedrals(shell)
    assert np.nanmin(folds) == pytest.approx(tradeoff.of(lengths).smallest_fold, abs=1e-9)
    assert (np.nanmin(folds) < np.radians(1)) == flat
    assert any(note.code == "lengths-flatter" for note in shell.recipe.notes) == flat
    assert len(symmetry(shell).turns) == len(symmetry(start).turns) == 10
    assert shell.recipe.steps[-1].startswith(f"fewer lengths: 6 to {lengths}")
