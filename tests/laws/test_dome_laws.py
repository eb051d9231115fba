"""What holds for every dome, whatever its seed, division, point law, pose, cut and levelling."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from strutwright.errors import InputError, ResultError
from strutwright.shape import measure
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.level import LEVELS
from strutwright.shape.pointlaws import POINT_LAWS
from strutwright.shape.seeds import POSES, SEEDS

CORNERS = {"icosahedron": 5, "octahedron": 4, "tetrahedron": 3}

specs = st.builds(
    DomeSpec,
    radius=st.floats(0.5, 20),
    seed=st.sampled_from(SEEDS),
    division=st.tuples(st.integers(0, 4), st.integers(0, 4)).filter(lambda d: sum(d) > 0),
    point_law=st.sampled_from(POINT_LAWS),
    pose=st.sampled_from(POSES),
    truncation=st.one_of(st.fractions(0.05, 0.95), st.integers(1, 12)),
    level_base=st.sampled_from([*LEVELS, None]),
)


REFUSALS = {"shape-truncation", "level-base-impossible"}


def made(spec):
    """The dome; an example whose cut or levelling is refused is left out."""
    try:
        return dome(spec)
    except (InputError, ResultError) as error:
        if error.code not in REFUSALS:
            raise
    return assume(False)


@settings(deadline=None, max_examples=25)
@given(specs)
def test_counts_deficits_and_base(spec):
    shell = made(spec)
    n_hubs, n_base = len(shell.hubs), len(shell.base)
    assert len(shell.struts) == 3 * n_hubs - 3 - n_base
    assert n_hubs - len(shell.struts) + len(shell.faces) == 1
    assert measure.angle_deficits(shell).sum() == pytest.approx(2 * np.pi, abs=1e-9)
    codes = [note.code for note in shell.recipe.notes]
    if spec.level_base in {"whole", "ring"}:
        assert shell.recipe.base == "level"
    elif spec.level_base is None:
        assert (shell.recipe.base == "level") != ("level-base-none" in codes)
    if shell.recipe.base == "level":
        assert (shell.hubs[shell.base, 2] == 0).all()
        ring = np.hypot(*shell.hubs[shell.base, :2].T)
        assert ring == pytest.approx(ring.mean(), abs=1e-8 * spec.radius)
    else:
        assert shell.hubs[:, 2].min() == pytest.approx(0, abs=1e-12 * spec.radius)
        assert "base-uneven" in codes
    centre = np.array(shell.recipe.settings["sphere_centre"])
    assert np.linalg.det((shell.hubs - centre)[shell.faces]).min() > 0


@settings(deadline=None, max_examples=25)
@given(specs)
def test_valences_and_courses(spec):
    shell = made(spec)
    valence = np.bincount(shell.struts.ravel(), minlength=len(shell.hubs))
    inner = np.setdiff1d(np.arange(len(shell.hubs)), shell.base)
    assert set(valence[inner]) <= {6, CORNERS[spec.seed]}
    assert (6 - valence[inner]).sum() + (4 - valence[shell.base]).sum() == 6
    assert (shell.course[shell.base] == 0).all()
    assert (np.diff(shell.course) >= 0).all()
    assert np.abs(np.diff(shell.course[shell.struts], axis=1)).max() <= 1
    assert shell.hubs[0, 1] == pytest.approx(0, abs=1e-12 * spec.radius)
    assert shell.hubs[0, 0] > 0


@settings(deadline=None, max_examples=25)
@given(specs)
def test_hubs_lie_on_the_sphere_and_dips_are_asin_of_half_the_chord(spec):
    shell = made(spec)
    centre = np.array(shell.recipe.settings["sphere_centre"])
    away = np.linalg.norm(shell.hubs - centre, axis=1)
    assert away == pytest.approx(spec.radius, rel=1e-9)
    table = measure.spoke_table(shell)
    chord = measure.chord_factors(shell)[table.strut]
    assert table.dip == pytest.approx(np.arcsin(chord / 2), abs=1e-8)
    assert (np.diff(table.azimuth)[np.diff(table.first).cumsum()[:-1] - 1] < 0).all()


@settings(deadline=None, max_examples=25)
@given(specs, st.floats(0.1, 9))
def test_everything_scales_with_the_radius(spec, factor):
    small = made(spec)
    large = dome(replace(spec, radius=spec.radius * factor))
    assert (large.struts == small.struts).all()
    assert large.hubs == pytest.approx(small.hubs * factor, rel=1e-12, abs=1e-12)
    assert measure.chord_factors(large) == pytest.approx(measure.chord_factors(small))
    assert measure.dihedrals(large) == pytest.approx(measure.dihedrals(small), nan_ok=True)
    assert measure.volume(large) == pytest.approx(measure.volume(small) * factor**3)
    assert measure.cover_area(large) == pytest.approx(measure.cover_area(small) * factor**2)


@settings(deadline=None, max_examples=25)
@given(specs, st.booleans())
def test_vertex_up_domes_of_classes_i_and_ii_have_a_mirror(spec, has_c):
    """It is the xz plane wherever a mirror of the dome runs through a base hub."""
    b = max(spec.division)
    spec = replace(spec, division=(b, b if has_c else 0), pose="vertex")
    shell = made(spec)
    ring = np.arctan2(*shell.hubs[shell.base, 1::-1].T)
    beside = np.arctan2(*shell.hubs[shell.base[:2], 1::-1].sum(axis=0))
    through_hub = [mirrored(shell, azimuth) for azimuth in ring]
    assert any(through_hub) or mirrored(shell, beside)
    assert through_hub[0] == any(through_hub)


def mirrored(shell, azimuth):
    c, s = np.cos(2 * azimuth), np.sin(2 * azimuth)
    image = shell.hubs @ np.array([[c, s, 0], [s, -c, 0], [0, 0, 1]])
    gaps = np.linalg.norm(shell.hubs[:, None] - image, axis=2).min(axis=1)
    return gaps.max() < 1e-8 * shell.size


@settings(deadline=None, max_examples=25)
@given(specs, st.floats(0.05, 0.95))
def test_headroom_falls_with_height_and_fits_the_floor(spec, share):
    shell = made(spec)
    assume(shell.recipe.base == "level")
    rise = shell.hubs[:, 2].max()
    floor = measure.floor_area(shell)
    low, high = (measure.headroom_area(shell, h * rise) for h in (share / 2, share))
    assert 0 <= high <= low * (1 + 1e-9)
    assert low <= floor * (1 + 1e-9)
