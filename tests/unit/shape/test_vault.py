"""Vaults: counts, profiles, walls, end walls with a door, and wishes that cannot be met."""

import re
from collections import Counter

import numpy as np
import pytest

from strutwright.errors import InputError
from strutwright.shape import topology
from strutwright.shape.braces import add_braces
from strutwright.shape.measure import dihedrals, node_lengths
from strutwright.shape.vault import VaultSpec, vault

OPEN = VaultSpec(width=4.0, bays=4, gaps=8, ends="open")


def test_an_open_three_way_vault_has_few_lengths_and_equilateral_triangles():
    shell = vault(OPEN)
    chord = 2 * 2.0 * np.sin(np.pi / 16)
    side = 2 * chord / np.sqrt(3)
    lengths = node_lengths(shell)
    for length, count in ((chord, 2 * 8), (side / 2, 2 * 4), (side, None)):
        found = np.isclose(lengths, length, rtol=0, atol=1e-9).sum()
        assert found == (len(lengths) - 24 if count is None else count)
    assert len(shell.groups["struts.end_rib"]) == 16
    assert "vault-end-rib" in {note.code for note in shell.recipe.notes}


def test_an_open_vault_has_one_ring_and_bows_outwards():
    shell = vault(OPEN)
    assert len(topology.boundary_rings(shell.faces)) == 1
    assert np.nanmax(dihedrals(shell)) < np.pi + 1e-9
    assert len(shell.base) == 10


def test_a_pointed_vault_has_a_straight_ridge_and_equal_steps():
    shell = vault(VaultSpec(width=4.0, rise=2.8, bays=3, gaps=6, profile="pointed", ends="open"))
    ridge = shell.hubs[shell.groups["hubs.crown"]]
    np.testing.assert_allclose(ridge[:, 1], 0.0, atol=1e-12)
    np.testing.assert_allclose(ridge[:, 2], 2.8, atol=1e-12)
    # arc of radius (half² + rise²) / width; a third of its angle is one step
    radius = (2.0**2 + 2.8**2) / 4.0
    step = 2 * radius * np.sin(np.arctan2(2.8, radius - 2.0) / 3 / 2)
    rib = shell.groups["struts.end_rib"]
    np.testing.assert_allclose(node_lengths(shell)[rib], step, rtol=1e-6)


def test_a_parabola_is_walked_in_equal_arcs():
    shell = vault(VaultSpec(width=4.0, rise=1.5, bays=3, gaps=40, profile="parabola", ends="open"))
    y, z = shell.hubs[:, 1], shell.hubs[:, 2]
    np.testing.assert_allclose(z, 1.5 * (1 - (y / 2) ** 2), atol=1e-6)
    # half arc of the parabola z = r (1 - (y/h)²), closed form with slope k = 2 r / h at the base
    k = 2 * 1.5 / 2.0
    arc = 2.0 / 2 * (np.sqrt(1 + k * k) + np.arcsinh(k) / k)
    rib = node_lengths(shell)[shell.groups["struts.end_rib"]]
    assert rib.sum() / 4 == pytest.approx(arc, rel=1e-3)
    assert np.ptp(rib) < 1e-3 * rib.mean()


def test_side_walls_stand_upright_and_are_triangulated():
    shell = vault(VaultSpec(width=4.0, bays=4, gaps=8, side_walls=1.2, ends="open"))
    struts = shell.struts[shell.groups["struts.side_wall"]]
    assert np.abs(np.abs(shell.hubs[struts, 1]) - 2.0).max() < 1e-12
    assert shell.hubs[:, 2].max() == pytest.approx(3.2, abs=1e-12)


def test_an_end_wall_leaves_a_door_of_the_size_wished_for():
    shell = vault(VaultSpec(width=4.0, bays=4, gaps=8, side_walls=0.6, door=(1.0, 2.0)))
    role = Counter(shell.role.tolist())
    assert (role["jamb"], role["head"], role["tie"]) == (4, 2, 2)
    lengths = node_lengths(shell)
    np.testing.assert_allclose(lengths[shell.role == "jamb"], 2.0, atol=1e-12)
    np.testing.assert_allclose(lengths[np.isin(shell.role, ("head", "tie"))], 1.0, atol=1e-12)
    # no face in the doorway: the middle of the door is on no end face
    ends = shell.faces[
        (np.abs(shell.hubs[shell.faces, 0]) > 0.499 * np.ptp(shell.hubs[:, 0])).all(1)
    ]
    y, z = shell.hubs[ends][:, :, 1].mean(1), shell.hubs[ends][:, :, 2].mean(1)
    assert not ((np.abs(y) < 0.5) & (z < 2.0)).any()


def test_end_walls_fill_the_rest_of_the_gable():
    shell = vault(VaultSpec(width=4.0, bays=4, gaps=8, side_walls=0.6, door=(1.0, 2.0)))
    half = np.ptp(shell.hubs[:, 0]) / 2
    at_end = (np.abs(shell.hubs[shell.faces, 0] - half) < 1e-9).all(axis=1)
    a, b, c = (shell.hubs[shell.faces[at_end, k]] for k in range(3))
    area = np.cross(b - a, c - a)[:, 0] / 2
    assert (area > 0).all()
    # polygon inscribed in the half circle, the wall under it, less the door
    polygon = 8 * 0.5 * 2.0**2 * np.sin(np.pi / 8) + 4.0 * 0.6 - 1.0 * 2.0
    assert area.sum() == pytest.approx(polygon, rel=1e-12)


def test_a_gable_too_low_for_a_door_is_closed_and_says_so():
    shell = vault(VaultSpec(width=3.0, bays=3, gaps=6))
    assert "vault-no-door" in {note.code for note in shell.recipe.notes}
    assert len(topology.boundary_rings(shell.faces)) == 1
    np.testing.assert_array_equal(
        np.sort(topology.boundary_rings(shell.faces)[0]), np.sort(shell.base)
    )


def test_a_lamella_grid_closes_its_rhombi_with_purlins():
    shell = vault(VaultSpec(width=4.0, bays=4, gaps=8, grid="lamella", ends="open"))
    purlins = shell.groups["struts.purlin"]
    ends = shell.hubs[shell.struts[purlins]]
    assert np.ptp(ends[:, :, 1:], axis=1).max() < 1e-12
    lengths = node_lengths(shell)
    assert lengths[purlins].max() == pytest.approx(0.83 * 2 * 2.0 * np.sin(np.pi / 16), rel=1e-9)


def test_a_vault_takes_inner_braces():
    braced = add_braces(vault(OPEN), "auto")
    assert (braced.role == "brace").any()


@pytest.mark.parametrize(
    ("wish", "code", "says"),
    [
        ({"gaps": 7}, "shape-gaps", "7 gaps"),
        ({"gaps": None, "longest_strut": 0.01}, "shape-gaps", "more than 80 gaps"),
        ({"bays": 0}, "shape-bays", "0 bays"),
        ({"length": 30.0}, "size-length", "4 bays give"),
        ({"profile": "ellipse"}, "shape-profile", "circle, parabola, pointed"),
        ({"grid": "square"}, "shape-grid", "three-way, lamella"),
        ({"ends": "hipped"}, "shape-ends", "wall, open"),
        ({"side_walls": -0.1}, "size-side-walls", "-0.1 m"),
        ({"rise": 3.0, "ends": "wall"}, "shape-ends", "up to 2 m"),
        ({"rise": 0.2}, "size-rise", "outside"),
    ],
)
def test_impossible_vaults_are_refused_with_their_bound(wish, code, says):
    with pytest.raises(InputError) as caught:
        vault(VaultSpec(**{**OPEN.__dict__, **wish}))
    assert caught.value.code == code
    assert says in caught.value.what


def test_gaps_follow_from_the_longest_strut():
    shell = vault(VaultSpec(width=4.0, length=6.0, longest_strut=0.8, ends="open"))
    assert node_lengths(shell).max() <= 0.8 * 1.05


@pytest.mark.parametrize(
    ("gaps", "door"), [(6, (0.91, 1.83)), (8, (1.6, 2.0)), (10, (0.8, 2.1)), (6, (3.0, 1.6))]
)
def test_a_door_that_does_not_fit_is_told_the_largest_that_does(gaps, door):
    def made(width, height):
        spec = VaultSpec(width=4.27, rise=2.08, bays=4, gaps=gaps, door=(width, height))
        return {note.code: note.text for note in vault(spec).recipe.notes}

    told = made(*door)["vault-no-door"]
    found = re.findall(r"m (?:wide|high) it may be (\d+) mm (high|wide)", told)
    assert found
    for size, which in found:
        for more, code in ((-0.01, "vault-door"), (0.015, "vault-no-door")):
            tried = int(size) / 1000 + more
            size_tried = (door[0], tried) if which == "high" else (tried, door[1])
            assert code in made(*size_tried), (told, size_tried)
