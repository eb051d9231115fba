"""Long domes: the usual six-fold shell, its braces, sizes, and wishes that cannot be met.

Counts, length and floor of the usual shell: common practice, no source.
"""

from collections import Counter

import numpy as np
import pytest

from strutwright.errors import InputError
from strutwright.shape.braces import add_braces, middle_rows, usual_rows
from strutwright.shape.measure import dihedrals, floor_area, node_lengths
from strutwright.shape.stretch import LongDomeSpec, length_range, long_dome

USUAL = LongDomeSpec(width=2.0, bays=3, cap_symmetry=6, division=(1, 1), rows="along")


@pytest.fixture(scope="module")
def usual():
    return long_dome(USUAL)


def test_the_usual_shell_has_the_counts_of_practice(usual):
    assert (len(usual.hubs), len(usual.struts), len(usual.faces)) == (55, 144, 90)
    assert len(usual.base) == 18
    valence = np.bincount(usual.struts.ravel())
    inner = np.setdiff1d(np.arange(55), usual.base)
    assert Counter(valence[inner].tolist()) == {5: 6, 6: 31}
    assert set(valence[usual.groups["hubs.five_way"]]) == {5}
    assert len(usual.groups["hubs.five_way"]) == 6
    assert len(usual.groups["hubs.pole"]) == 2


def test_the_usual_shell_has_the_size_of_practice(usual):
    assert np.ptp(usual.hubs[:, 0]) == pytest.approx(4.18, rel=0.015)
    assert floor_area(usual) == pytest.approx(7.3, rel=0.015)
    assert np.ptp(usual.hubs[:, 1]) == pytest.approx(2.0, abs=1e-12)
    assert usual.hubs[:, 2].max() == pytest.approx(1.0, abs=1e-12)


def test_the_barrel_of_the_usual_shell_is_equilateral(usual):
    # rows 30 degrees apart: chord w = 2 sin 15, side 2 w / sqrt 3
    side = 2 * 2 * np.sin(np.pi / 12) / np.sqrt(3)
    lengths = node_lengths(usual)
    assert np.isclose(lengths, side, rtol=0, atol=1e-9).sum() == 54
    assert usual.recipe.settings["bay_length"] == pytest.approx(side, abs=1e-12)


def test_nothing_of_the_usual_shell_folds_inwards(usual):
    angles = dihedrals(usual)
    assert np.nanmax(angles) < np.pi + 1e-9


def test_the_usual_braces_are_twelve_on_seventeen_hubs(usual):
    braced = add_braces(usual, "auto")
    braces = braced.struts[braced.role == "brace"]
    assert (len(braces), len(np.unique(braces))) == (12, 17)
    ends = braced.hubs[braces]
    assert np.ptp(ends[:, :, 0], axis=1).max() < 1e-12  # across the length, not along it
    # two rows of 30 degrees on: a chord of 60 degrees of the arch, or of the half dome's ring
    out = np.hypot(ends[:, 0, 1], ends[:, 0, 2])
    np.testing.assert_allclose(np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1), out, rtol=1e-9)
    assert "braces-usual" in {note.code for note in braced.recipe.notes}
    assert braced.recipe.steps == ("inner braces in ribs 2, 5, 6, 7, 10",)


def test_braces_of_named_rows_all_and_none(usual):
    assert add_braces(usual, "none") is usual
    one = add_braces(usual, [6])
    assert (one.role == "brace").sum() == 2
    every = add_braces(usual, "all")
    assert (every.role == "brace").sum() == 7 * 2 + 6 * 3
    assert usual_rows(usual) == (2, 5, 6, 7, 10)
    assert middle_rows(usual) == (5, 6, 7)


@pytest.mark.parametrize("rows", ["some", [13], [-1]])
def test_rows_of_braces_that_are_not_there_are_refused(usual, rows):
    with pytest.raises(InputError) as caught:
        add_braces(usual, rows)
    assert caught.value.code == "shape-braces"


@pytest.mark.parametrize(
    ("change", "code", "says"),
    [
        ({"length": 1.5}, "size-length", "shorter than the width 2 m"),
        ({"length": 9.0}, "size-length", "3 bays give"),
        ({"bays": 41}, "shape-bays", "outside 0 to 40"),
        ({"cap_symmetry": 7}, "shape-cap", "not 4, 5 or 6"),
        ({"division": (2, 1), "rows": None}, "shape-cap", "no mirror plane"),
        ({"division": (2, 0)}, "shape-rows", "run around, not along"),
        ({"profile": "pointed"}, "shape-profile", "not circle or ellipse"),
        ({"rise": 0.1}, "size-rise", "0.268 m to 1.732 m"),
        ({"width": -1.0}, "size-width", "not a positive length"),
    ],
)
def test_impossible_wishes_are_refused_with_their_bound(change, code, says):
    with pytest.raises(InputError) as caught:
        long_dome(LongDomeSpec(**{**USUAL.__dict__, **change}))
    assert caught.value.code == code
    assert says in caught.value.what


def test_a_wished_length_is_met_by_longer_bays():
    low, high = length_range(USUAL, 3)
    assert low < 4.5 < high
    shell = long_dome(LongDomeSpec(width=2.0, length=4.5, bays=3))
    assert np.ptp(shell.hubs[:, 0]) == pytest.approx(4.5, abs=1e-9)


def test_the_bays_follow_from_the_length():
    shell = long_dome(LongDomeSpec(width=5.0, length=11.0))
    assert shell.recipe.settings["bays"] == 3
    assert np.ptp(shell.hubs[:, 0]) == pytest.approx(11.0, abs=1e-9)


@pytest.mark.parametrize(("rise", "profile"), [(0.6, "circle"), (1.4, "circle"), (1.5, "ellipse")])
def test_other_arches_keep_width_rise_and_length(rise, profile):
    shell = long_dome(LongDomeSpec(width=2.0, rise=rise, profile=profile, length=4.0))
    assert shell.hubs[:, 2].max() == pytest.approx(rise, abs=1e-9)
    assert np.ptp(shell.hubs[shell.base, 1]) == pytest.approx(2.0, abs=1e-9)
    assert np.ptp(shell.hubs[shell.base, 0]) == pytest.approx(4.0, abs=1e-9)
