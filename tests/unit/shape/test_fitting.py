"""Openings at their limits: what still fits, and what is refused with its bound."""

import re

import numpy as np
import pytest

from strutwright.errors import InputError
from strutwright.shape import topology
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.fitting import Door, Slot
from strutwright.shape.measure import dihedrals, node_lengths
from strutwright.shape.openings import open_door, open_slot
from strutwright.shape.rigidity import count_mechanisms
from strutwright.shape.stretch import LongDomeSpec, long_dome
from strutwright.shape.vault import VaultSpec, vault

SIDE = np.pi / 2


@pytest.fixture(scope="module")
def tunnel():
    return long_dome(LongDomeSpec(5.0, bays=3))


@pytest.fixture(scope="module")
def barrel():
    return vault(VaultSpec(6.0, bays=5, gaps=8))


def mechanisms(shell):
    held = np.zeros((len(shell.hubs), 3), dtype=bool)
    held[shell.base] = True
    return count_mechanisms(shell.hubs, shell.struts, held).mechanisms


def test_a_door_whose_feet_are_base_hubs_uses_them():
    """The build broke: each foot was a second hub at the place of a hub of the base."""
    shell = dome(DomeSpec(3.0, division=(2, 0)))
    a, b = shell.hubs[shell.base[:2]]
    width, middle = float(np.linalg.norm(b - a)), (a + b) / 2
    made = open_door(shell, Door("d", width, 1.9, float(np.arctan2(middle[1], middle[0]))))
    feet = made.hubs[made.groups["hubs.d.frame"]]
    assert np.linalg.norm(np.subtract(*feet[feet[:, 2] < 1e-9])) == pytest.approx(width, rel=0.02)
    assert node_lengths(made).min() > 0.3
    assert len(topology.boundary_rings(made.faces)) == 1


@pytest.mark.parametrize("name", ["tunnel", "barrel"])
def test_a_door_wider_than_a_bay_can_give_is_refused_with_the_bay(name, request):
    shell = request.getfixturevalue(name)
    bay = shell.recipe.settings["bay_length"]
    with pytest.raises(InputError, match=f"a bay of {bay:.2f} m can give a head of") as caught:
        open_door(shell, Door("d", 1.9 * bay, 1.9, SIDE))
    wide = float(re.findall(r"that does is ([\d.]+) m wide", caught.value.what)[0])
    assert bay < wide <= 1.5 * bay
    made = open_door(shell, Door("d", wide, 1.9, SIDE))
    feet = made.hubs[made.groups["hubs.d.frame"]]
    assert np.ptp(feet[feet[:, 2] < 1e-9, 0]) == pytest.approx(wide)


def test_a_wide_double_door_fits_in_a_fine_shell():
    shell = long_dome(LongDomeSpec(7.0, bays=6, division=(3, 3)))
    assert shell.recipe.settings["bay_length"] < 0.8
    made = open_door(shell, Door("d", 1.8, 2.1, SIDE))
    assert (made.role == "head").sum() == 1


def test_faces_beside_a_door_do_not_lie_on_one_another():
    """A door 2.5 m wide in a 3-frequency dome had faces folded back by 177 degrees."""
    shell = dome(DomeSpec(3.0, division=(3, 0)))
    for width in (1.2, 1.6, 2.0):
        made = open_door(shell, Door("d", width, 1.9, SIDE))
        assert np.nanmax(dihedrals(made)) < np.radians(180 + 150)


def test_a_slot_runs_along_the_ridge_of_a_long_dome(tunnel):
    """It was said to fit at no width: faces whose edge is seen end on counted as clear of it."""
    made = open_slot(tunnel, Slot("s", 0.8, 0.0))
    frame = made.hubs[made.groups["hubs.s.frame"]]
    assert frame[:, 0].min() < -0.3
    assert frame[:, 0].max() > 4.5
    # the jambs follow the ridge: nothing folds back over them
    assert np.nanmax(dihedrals(made)) < np.radians(200)
    inside = (made.hubs[:, 0] > 0.05) & (np.abs(made.hubs[:, 1]) < 0.39)
    assert not inside.any()
    assert mechanisms(made) == mechanisms(tunnel) == 0


@pytest.mark.parametrize("ends", ["wall", "open"])
def test_a_slot_towards_the_end_of_a_vault_is_refused(ends):
    shell = vault(VaultSpec(6.0, bays=5, gaps=8, ends=ends))
    with pytest.raises(InputError, match="would cut its end rib") as caught:
        open_slot(shell, Slot("s", 0.6, np.pi))
    assert caught.value.code == "opening-does-not-fit"


@pytest.mark.parametrize("width", [0.6, 1.2])
def test_posts_beside_a_slot_hold_the_slot_and_not_the_end_walls(barrel, width):
    """Posts reached across the room to hubs of the end wall, loose before there was a slot."""
    made = open_slot(barrel, Slot("s", width, SIDE))
    posts = made.struts[made.role == "post"]
    assert len(posts)
    length = np.linalg.norm(np.diff(made.hubs[posts], axis=1)[:, 0], axis=1)
    assert length.max() < 1.6 * 1.5
    end = np.ptp(barrel.hubs[:, 0]) / 2
    assert (np.abs(made.hubs[posts, 0]) < end - 1e-9).all()
    assert mechanisms(made) <= mechanisms(barrel)


@pytest.mark.parametrize(
    ("division", "azimuth", "width"), [((4, 0), 2.36, 1.78), ((2, 0), 0.91, 2.04)]
)
def test_a_slot_that_leaves_stubs_or_folded_faces_is_refused(division, azimuth, width):
    shell = dome(DomeSpec(3.0, division=division, level_base="ring"))
    with pytest.raises(InputError, match=r"the largest that does is ([\d.]+) m wide") as caught:
        open_slot(shell, Slot("s", width, azimuth))
    best = float(re.findall(r"that does is ([\d.]+) m", caught.value.what)[0])
    made = open_slot(shell, Slot("s", best, azimuth))
    assert node_lengths(made).min() > 0.119 * np.median(node_lengths(shell))
    assert np.nanmax(dihedrals(made)) < np.radians(180 + 150)
