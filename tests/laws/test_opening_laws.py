"""Doors, slots and vents in any shell: what is built keeps the invariants, or the wish is refused.

Every Shell checks its own invariants when it is made (one fan of faces a hub, every face edge a
strut, outward winding, the Euler number of its rings), so each shell returned here has passed them.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from strutwright.errors import InputError
from strutwright.shape import topology
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.fitting import Door, Slot
from strutwright.shape.measure import dihedrals, node_lengths
from strutwright.shape.openings import open_door, open_slot
from strutwright.shape.rigidity import count_mechanisms
from strutwright.shape.stretch import LongDomeSpec, long_dome
from strutwright.shape.surface import face_areas, floor_area
from strutwright.shape.vault import VaultSpec, vault
from strutwright.shape.vents import Vent, open_vents

FEW = settings(max_examples=5, deadline=None)
SOME = settings(max_examples=6, deadline=None)
WIDTH = 6.0

domes = st.builds(
    lambda division, pose: dome(
        DomeSpec(WIDTH / 2, division=division, pose=pose, level_base="ring")
    ),
    st.sampled_from([(2, 0), (3, 0), (4, 0), (5, 0), (2, 2), (3, 1)]),
    st.sampled_from(["vertex", "edge", "face"]),
)
long_domes = st.builds(
    lambda cap, division, bays: long_dome(
        LongDomeSpec(WIDTH, bays=bays, cap_symmetry=cap, division=division)
    ),
    st.sampled_from([4, 5, 6]),
    st.sampled_from([(1, 1), (2, 2), (2, 0)]),
    st.integers(1, 5),
)
vaults = st.builds(
    lambda gaps, bays, profile, walls, grid, ends: vault(
        VaultSpec(
            WIDTH, bays=bays, gaps=2 * gaps, profile=profile, grid=grid, side_walls=walls, ends=ends
        )
    ),
    st.integers(3, 6),
    st.integers(3, 7),
    st.sampled_from(["circle", "parabola", "pointed"]),
    st.sampled_from([0.0, 0.6, 1.2]),
    st.sampled_from(["three-way", "lamella"]),
    st.sampled_from(["wall", "open"]),
)
shells = st.one_of(domes, long_domes, vaults)


def opened(work, shell, wish):
    """Return the shell with the opening, or None where it is refused as it should be."""
    try:
        return work(shell, wish)
    except InputError as error:
        if error.code not in {"opening-does-not-fit", "vents-beyond-faces"} or not error.mend:
            raise
        return None


def base_pairs(shell):
    base = shell.base
    return {
        tuple(sorted(pair)) for pair in zip(base.tolist(), np.roll(base, -1).tolist(), strict=True)
    }


@SOME
@given(
    shell=shells,
    azimuth=st.floats(-np.pi, np.pi),
    width=st.floats(0.6, 1.5),
    height=st.floats(1.2, 2.1),
)
def test_a_door_anywhere_keeps_the_shell_whole_and_the_doorway_free(shell, azimuth, width, height):
    made = opened(open_door, shell, Door("door_1", width, height, azimuth))
    if made is None:
        return
    assert len(topology.boundary_rings(made.faces)) == 1
    assert np.abs(made.hubs[made.base, 2]).max() < 1e-9
    assert base_pairs(made) <= {tuple(row) for row in made.struts.tolist()}
    assert (made.role == "tie").sum() == (shell.role == "tie").sum() + 1
    frame = made.hubs[made.groups["hubs.door_1.frame"]]
    feet = frame[frame[:, 2] < 1e-9]
    assert len(feet) == 2
    # the width is clear square to the way it faces; along a wall that it meets askew it is more
    assert np.linalg.norm(feet[1] - feet[0]) >= 0.98 * width
    assert frame[:, 2].max() == pytest.approx(height)
    assert nothing_in_the_way(made, feet, width, height)
    # what is not near the door stays where it was
    kept = np.abs(made.hubs[:, None] - shell.hubs[None]).max(axis=2).min(axis=1) < 1e-9
    assert np.linalg.norm(made.hubs[~kept, :2] - feet[:, :2].mean(axis=0), axis=1).max() < 4.0


def mechanisms(shell):
    """Movements of the shell with hinged hubs and a held base that change no strut's length."""
    held = np.zeros((len(shell.hubs), 3), dtype=bool)
    held[shell.base] = True
    return count_mechanisms(shell.hubs, shell.struts, held).mechanisms


@SOME
@given(
    shell=shells,
    azimuth=st.floats(-np.pi, np.pi),
    width=st.floats(0.6, 1.5),
    height=st.none() | st.floats(1.2, 2.1),
)
def test_an_opening_leaves_no_mechanism_that_was_not_there_or_names_it(
    shell, azimuth, width, height
):
    if height is None:
        made = opened(open_slot, shell, Slot("slot_1", width, azimuth))
    else:
        made = opened(open_door, shell, Door("door_1", width, height, azimuth))
    if made is None or "opening-loose" in {note.code for note in made.recipe.notes}:
        return
    assert mechanisms(made) <= mechanisms(shell)
    posts = made.role == "post"
    if height is not None and posts.sum() > (shell.role == "post").sum():
        feet = made.hubs[made.groups["hubs.door_1.frame"]]
        assert nothing_in_the_way(made, feet[feet[:, 2] < 1e-9], width, height)


def nothing_in_the_way(shell, feet, width, height):
    """No strut but the frame passes through the plane of the door within its clear rectangle."""
    middle = feet.mean(axis=0)
    side = (feet[1] - feet[0]) / np.linalg.norm(feet[1] - feet[0])
    out = np.array([side[1], -side[0], 0.0])
    ends = (shell.hubs[shell.struts] - middle) @ out
    free = ~np.isin(shell.role, ["jamb", "head", "tie"])
    for (i, j), (a, b) in zip(shell.struts[free], ends[free], strict=True):
        if a * b >= 0 or abs(a - b) < 1e-9:
            continue
        point = shell.hubs[i] + a / (a - b) * (shell.hubs[j] - shell.hubs[i]) - middle
        if abs(point @ side) < width / 2 - 0.01 and 0.01 < point[2] < height - 0.01:
            return False
    return True


@FEW
@given(bays=st.integers(2, 6), cap=st.sampled_from([4, 6]), side=st.sampled_from([1, -1]))
def test_doors_fit_in_the_long_sides_of_long_domes(bays, cap, side):
    shell = long_dome(LongDomeSpec(WIDTH, bays=bays, cap_symmetry=cap, division=(2, 2)))
    made = open_door(shell, Door("door_1", 0.9, 1.9, side * np.pi / 2))
    feet = made.hubs[made.groups["hubs.door_1.frame"]]
    assert (np.sign(feet[:, 1]) == side).all()


@FEW
@given(bays=st.integers(3, 8), walls=st.sampled_from([0.0, 0.6, 1.2]))
def test_doors_fit_in_the_long_sides_of_vaults(bays, walls):
    shell = vault(VaultSpec(WIDTH, bays=bays, gaps=8, side_walls=walls))
    made = open_door(shell, Door("door_1", 0.9, 1.9, np.pi / 2))
    feet = made.hubs[made.groups["hubs.door_1.frame"]]
    assert (feet[:, 1] > 0).all()
    assert np.abs(feet[:, 0]).max() < np.ptp(shell.hubs[:, 0]) / 2


@SOME
@given(shell=shells, azimuth=st.floats(-np.pi, np.pi), width=st.floats(0.5, 3.0))
def test_what_is_beside_an_opening_can_be_made(shell, azimuth, width):
    """No stubs, no faces on one another, whatever is cut; what is named as fitting does fit."""
    for work, wish in (
        (open_door, Door("d", width, 1.9, azimuth)),
        (open_slot, Slot("s", width, azimuth)),
    ):
        made = opened(work, shell, wish)
        if made is None:
            continue
        usual = float(np.median(node_lengths(shell)))
        assert node_lengths(made).min() >= min(node_lengths(shell).min(), 0.119 * usual)
        assert np.nanmax(dihedrals(made)) <= np.radians(180 + 150) + 1e-6
        assert len(topology.boundary_rings(made.faces)) == 1


@FEW
@given(shell=domes, azimuth=st.floats(-np.pi, np.pi), width=st.floats(0.5, 1.4))
def test_a_slot_is_free_from_the_base_to_past_the_apex_or_refused(shell, azimuth, width):
    made = opened(open_slot, shell, Slot("slot_1", width, azimuth))
    if made is None:
        return
    assert len(topology.boundary_rings(made.faces)) == 1
    assert base_pairs(made) <= {tuple(row) for row in made.struts.tolist()}
    towards = np.array([np.cos(azimuth), np.sin(azimuth)])
    across = np.array([-towards[1], towards[0]])
    inside = (made.hubs[:, :2] @ towards > 0.05) & (
        np.abs(made.hubs[:, :2] @ across) < width / 2 - 0.01
    )
    assert not inside.any()


@FEW
@given(shell=shells, share=st.floats(0.02, 0.2), place=st.sampled_from(["low", "high"]))
def test_vents_take_whole_faces_that_reach_the_area_and_none_too_many(shell, share, place):
    wish = share * floor_area(shell)
    made = opened(open_vents, shell, Vent("vent_1", wish, place, None))
    if made is None:
        return
    faces = made.groups["faces.vent_1.vent"]
    areas = face_areas(made)[faces]
    assert len(set(np.asarray(faces).tolist())) == len(faces)
    assert areas.sum() >= wish - 1e-9
    assert areas.sum() - areas.max() < wish
    assert np.array_equal(made.hubs, shell.hubs)
    assert node_lengths(made) == pytest.approx(node_lengths(shell))


@FEW
@given(shell=shells, azimuth=st.floats(-np.pi, np.pi))
def test_a_door_wider_than_the_shell_can_give_is_refused_with_its_bound(shell, azimuth):
    with pytest.raises(InputError) as caught:
        open_door(shell, Door("door_1", 0.7 * np.ptp(shell.hubs[:, 0]), 1.9, azimuth))
    assert caught.value.code == "opening-does-not-fit"
    assert " m" in caught.value.what
