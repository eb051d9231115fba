"""Long domes and vaults from a brief."""

from collections import Counter

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.errors import InputError
from strutwright.shape import make_shell
from strutwright.shape.measure import node_lengths

HEAD = '[project]\nname = "trial"\n'
DOOR = '[[openings]]\nkind = "door"\nwidth = "0.9 m"\nheight = "1.9 m"\nfacing = "east"\n'
SIZE = '[size]\nwidth = "5 m"\nlength = "9 m"\n'


def made(*parts):
    return make_shell(parse_brief(HEAD + "".join(parts), "trial.toml"))


def test_a_length_beyond_the_width_makes_a_long_dome_with_braces():
    shell = made(SIZE)
    assert shell.recipe.family == "long-dome"
    assert np.ptp(shell.hubs[:, 0]) == pytest.approx(9.0, abs=1e-9)
    assert (shell.role == "brace").any()
    assert "shape-chosen" in {note.code for note in shell.recipe.notes}


def test_the_longest_strut_of_the_brief_chooses_the_division():
    shell = made(SIZE, 'longest_strut = "1.0 m"\n[shape]\nfamily = "long-dome"\n')
    assert node_lengths(shell)[shell.role == "shell"].max() <= 1.0
    assert shell.recipe.settings["division"] == [2, 2]


def test_a_division_of_class_one_gives_rows_around():
    shell = made(SIZE, '[shape]\nfamily = "long-dome"\ndivision = [2, 0]\n')
    assert shell.recipe.settings["rows"] == "around"
    clash = '[shape]\nfamily = "long-dome"\ndivision = [2, 0]\nrows = "along"\n'
    with pytest.raises(InputError) as caught:
        made(SIZE, clash)
    assert caught.value.code == "shape-rows"


def test_a_strut_bound_that_the_division_breaks_is_refused():
    text = 'longest_strut = "1.0 m"\n[shape]\nfamily = "long-dome"\ndivision = [1, 1]\n'
    with pytest.raises(InputError) as caught:
        made(SIZE, text)
    assert caught.value.code == "size-contradiction"


def test_a_vault_takes_the_door_of_the_brief_into_its_end_walls():
    shell = made(SIZE, '[shape]\nfamily = "vault"\nside_walls = "0.8 m"\n', DOOR)
    role = Counter(shell.role.tolist())
    assert (role["jamb"], role["head"], role["brace"]) == (4, 2, 0)
    assert "door-in-end" in {note.code for note in shell.recipe.notes}


def test_a_door_that_the_end_wall_has_no_room_for_is_refused():
    low = '[size]\nwidth = "3 m"\nlength = "6 m"\n[shape]\nfamily = "vault"\n'
    with pytest.raises(InputError) as caught:
        made(low, DOOR)
    assert caught.value.code == "opening-does-not-fit"


def test_a_vault_is_braced_only_when_asked():
    shell = made(SIZE, '[shape]\nfamily = "vault"\ninner_braces = "all"\n')
    assert (shell.role == "brace").any()


def test_a_vault_takes_its_gaps_from_the_division():
    shell = made(SIZE, '[shape]\nfamily = "vault"\ndivision = [10, 0]\n')
    assert shell.recipe.settings["gaps"] == 10
    with pytest.raises(InputError) as caught:
        made(SIZE, '[shape]\nfamily = "vault"\ndivision = [3, 3]\n')
    assert caught.value.code == "shape-gaps"
