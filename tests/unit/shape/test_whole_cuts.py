"""A sphere that cannot be levelled whole where it is cut is told where it can."""

import re

import numpy as np
import pytest

from strutwright.errors import InputError
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.seeds import make_seed, top_of
from strutwright.shape.subdivide import subdivide
from strutwright.shape.symmetric import net_orbits, spread_out
from strutwright.shape.topology import boundary_rings


def refused(division, pose="vertex", truncation="1/2"):
    spec = DomeSpec(3.0, division=division, pose=pose, truncation=truncation, level_base="whole")
    with pytest.raises(InputError) as caught:
        dome(spec)
    assert caught.value.code == "level-base-impossible"
    return caught.value


@pytest.mark.parametrize("division", [(2, 1), (1, 2), (3, 1), (3, 2)])
def test_class_three_is_told_the_nearest_cuts_that_can(division):
    error = refused(division)
    cuts = re.findall(r'truncation = "([\d.]+)"', error.mend)
    assert len(cuts) == 2
    for cut in cuts:
        spec = DomeSpec(3.0, division=division, truncation=cut, level_base="whole")
        shell = dome(spec)
        assert shell.recipe.settings["level_base"] == "whole"
        assert np.abs(shell.hubs[shell.base, 2]).max() == 0.0
        centre = np.array(shell.recipe.settings["sphere_centre"])
        assert np.linalg.norm(shell.hubs - centre, axis=1) == pytest.approx(3.0)
        # five sectors alike: the turns of the seed about its corner are kept
        turn = 2 * np.pi / 5
        c, s = np.cos(turn), np.sin(turn)
        image = shell.hubs @ np.array([[c, s, 0], [-s, c, 0], [0, 0, 1]])
        gaps = np.linalg.norm(image[:, None] - shell.hubs[None], axis=2).min(axis=1)
        assert gaps.max() < 1e-9


def test_twins_in_the_mirror_are_refused_for_the_same_reason():
    """(2, 1) was said to shorten a strut to 0 %, its mirror image (1, 2) to turn faces over."""
    whats = {refused(division).what for division in ((2, 1), (1, 2))}
    assert len(whats) == 1
    assert "lay hubs on one another" in whats.pop()


@pytest.mark.parametrize(("truncation", "is_sound"), [("1/2", False), ("0.16", True)])
def test_level_bases_of_the_smallest_class_three_by_trial(truncation, is_sound):
    """72 hubs are one free point besides the corners: it is tried all over its face.

    Independent of the solver: wherever the hubs of the base ring are nearly level, a face is
    turned over or has next to no area at the half sphere, and none at the cut that is offered.
    """
    net = subdivide(make_seed("icosahedron"), (2, 1))
    top, orbits = top_of(net.seed, "vertex"), net_orbits(net)
    loose = int(np.argmax(orbits.quantity))
    assert orbits.quantity[loose] == 60
    start = orbits.reference @ np.ones(3)
    shares = np.linspace(-0.6, 1.6, 67)
    mean = spread_out(orbits, orbits.weights @ orbits.reference) @ top
    unit = dome(DomeSpec(1.0, division=(2, 1), truncation=truncation, level_base="none"))
    ring = boundary_rings(unit.faces)[0]
    height = unit.hubs[ring, 2] - unit.recipe.settings["sphere_centre"][2]
    ring = np.argsort(np.abs(mean - height.mean()))[: len(ring)]
    closest = []
    for a in shares:
        for b in shares:
            place = np.array([a, b, 1 - a - b]) @ orbits.reference
            places = orbits.weights @ orbits.reference.copy()
            places[loose] = place if place @ start > 0 else start
            places /= np.linalg.norm(places, axis=1, keepdims=True)
            hubs = spread_out(orbits, places)
            if np.ptp(hubs[ring] @ top) < 0.03:
                closest.append(np.linalg.det(hubs[net.faces]).min())
    assert closest
    assert (max(closest) > 0.02) == is_sound


def test_class_one_is_told_whole_courses():
    error = refused((4, 0), truncation=4)
    for cut in re.findall(r"truncation = (\d+)", error.mend):
        assert dome(DomeSpec(3.0, division=(4, 0), truncation=int(cut), level_base="whole"))
