import numpy as np
import pytest

from strutwright.shape import steady
from strutwright.shape.corridor import Corridor
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.fitting import Door
from strutwright.shape.openings import open_door
from strutwright.shape.rigidity import count_mechanisms
from strutwright.shape.steady import loose_ways, steadied
from strutwright.shape.vault import VaultSpec, vault


def mechanisms(shell):
    held = np.zeros((len(shell.hubs), 3), dtype=bool)
    held[shell.base] = True
    return count_mechanisms(shell.hubs, shell.struts, held).mechanisms


@pytest.fixture(scope="module")
def walled():
    return vault(VaultSpec(6.0, bays=7, gaps=10, profile="circle", side_walls=1.2))


@pytest.mark.parametrize("azimuth", [0.0, 0.7, 2.1, 4.2])
def test_a_jamb_hub_of_a_dome_is_held_out_of_the_plane_of_its_struts(azimuth):
    house = dome(DomeSpec(radius=3.5, division=(4, 0)))
    made = open_door(house, Door("door_1", 0.9, 1.9, azimuth))
    assert mechanisms(made) == 0
    assert "post" not in made.role


def test_posts_hold_what_a_door_loosens_in_the_wall_of_a_vault(walled):
    made = open_door(walled, Door("door_1", 0.77, 1.92, 1.80))
    posts = made.struts[made.groups["struts.door_1.post"]]
    assert len(posts) == (made.role == "post").sum() - (walled.role == "post").sum() > 0
    assert mechanisms(made) <= mechanisms(walled)
    assert "opening-posts" in {note.code for note in made.recipe.notes}
    without = ~(made.struts[:, None] == posts[None]).all(axis=2).any(axis=1)
    held = np.zeros((len(made.hubs), 3), dtype=bool)
    held[made.base] = True
    loose = count_mechanisms(made.hubs, made.struts[without], held).mechanisms
    assert loose > mechanisms(walled)


def test_loose_ways_change_no_length_and_agree_with_the_rank(walled):
    ways = loose_ways(walled)
    assert ways.shape[2] == mechanisms(walled)
    along = walled.hubs[walled.struts[:, 1]] - walled.hubs[walled.struts[:, 0]]
    moved = ways[walled.struts[:, 1]] - ways[walled.struts[:, 0]]
    stretch = np.einsum("si,sim->sm", along, moved) / np.linalg.norm(along, axis=1)[:, None]
    assert np.abs(stretch).max() < 2e-3
    assert np.abs(ways[walled.base]).max() == 0


def test_what_no_post_can_hold_is_named(walled, monkeypatch):
    monkeypatch.setattr("strutwright.shape.steady.REACH", 0.01)
    made = open_door(walled, Door("door_1", 0.77, 1.92, 1.80))
    (note,) = [note for note in made.recipe.notes if note.code == "opening-loose"]
    assert "door_1 leaves the pinned shell" in note.text


def test_a_large_shell_is_searched_for_its_softest_movements_alone(walled, monkeypatch):
    whole = loose_ways(walled)
    monkeypatch.setattr("strutwright.shape.steady.DENSE", 0)
    few = loose_ways(walled)
    assert few.shape == whole.shape
    # both span the same movements
    a, b = (ways.reshape(-1, ways.shape[2]) for ways in (whole, few))
    assert np.linalg.svd(a.T @ b, compute_uv=False) == pytest.approx(1.0)


def test_a_shell_that_lost_nothing_stays_as_it_is():
    house = dome(DomeSpec(radius=3.0, division=(3, 0)))
    made = open_door(house, Door("door_1", 0.9, 1.9, 0.0))
    corridor = Corridor(0.0, 0.9, 1.9)
    assert steadied(house, made, "door_1", corridor) is made


@pytest.mark.parametrize(
    "shell",
    [
        vault(VaultSpec(6.0, bays=5, gaps=8, ends="open")),
        vault(VaultSpec(6.0, bays=8, gaps=12)),
        dome(DomeSpec(radius=3.0, division=(4, 0))),
        dome(DomeSpec(radius=3.0, division=(6, 0))),
    ],
)
def test_movements_that_nothing_resists_are_those_of_the_rank(shell):
    """By inverse iteration of a subspace, and by the singular values of the whole table."""
    assert steady.mechanisms(shell) == mechanisms(shell)
