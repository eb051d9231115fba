"""What holds for fewer lengths of any dome."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.fewer import length_tradeoff

domes = st.builds(
    DomeSpec,
    radius=st.floats(1.5, 12.0),
    seed=st.sampled_from(["icosahedron", "octahedron"]),
    division=st.sampled_from([(2, 0), (3, 0), (4, 0), (1, 1), (2, 2), (2, 1)]),
    pose=st.just("vertex"),
)


@given(domes)
@settings(max_examples=8, deadline=None)
def test_fewer_lengths_never_cost_less_and_every_shape_is_sound(spec):
    shell = dome(spec)
    entries = length_tradeoff(shell).entries
    assert [e.lengths for e in entries] == list(range(entries[0].lengths, 0, -1))
    kept = [e for e in entries if not e.refused]
    assert entries[: len(kept)] == tuple(kept)
    drifts = [e.drift for e in kept]
    assert drifts[0] == 0
    assert (np.diff(drifts) >= 0).all()
    for entry in kept:
        assert len(entry.class_lengths) <= entry.lengths
        assert entry.smallest_fold > -1e-5
        assert np.abs(entry.hubs[shell.base, 2] - shell.hubs[shell.base, 2]).max() < 1e-9


@given(st.floats(0.5, 3.0))
@settings(max_examples=3, deadline=None)
def test_the_price_grows_with_the_shell(scale):
    small, large = (length_tradeoff(dome(DomeSpec(r, division=(4, 0)))) for r in (3.0, 3.0 * scale))
    for lengths in (5, 4):
        ratio = large.of(lengths).drift / small.of(lengths).drift
        assert abs(ratio / scale - 1) < 1e-3
