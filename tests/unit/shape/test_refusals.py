"""Impossible wishes are refused with the bound that they break."""

import pytest

from strutwright.brief import parse_brief
from strutwright.errors import InputError
from strutwright.shape import make_shell


def refused(size, shape="", rest=""):
    text = f'[project]\nname = "Never"\n[size]\n{size}\n'
    text += f"[shape]\n{shape}\n" if shape else ""
    with pytest.raises(InputError) as caught:
        make_shell(parse_brief(text + rest, "never.toml"))
    (problem,) = caught.value.problems
    assert problem.mend
    return problem


def test_a_length_shorter_than_the_width():
    problem = refused('width = "6 m"\nlength = "5 m"')
    assert problem.code == "size-length-short"
    assert "5000 mm is shorter than the width 6000 mm" in problem.what


@pytest.mark.parametrize(
    ("shape", "width", "facing"),
    [
        ('family = "long-dome"\ndivision = [1, 1]\nbays = 2', "4.6 m", "east"),
        ('family = "long-dome"\ndivision = [1, 1]\nbays = 2', "4.5 m", "north"),
        ('family = "vault"\nbays = 5\ngrid = "three-way"', "4.6 m", "east"),
        ('family = "vault"\nbays = 5\ngrid = "three-way"', "4.5 m", "north"),
        ('family = "dome"\ndivision = [4, 0]', "4.6 m", "north"),
    ],
)
def test_a_door_wider_than_the_shell_can_give(shape, width, facing):
    door = f'[[openings]]\nkind = "door"\nwidth = "{width}"\nheight = "1.9 m"\n'
    problem = refused('width = "5 m"', shape, f'{door}facing = "{facing}"\n')
    assert problem.code == "opening-does-not-fit"
    assert "does not fit" in problem.what
    assert "openings[0]" in problem.where


def test_one_length_for_a_long_dome():
    problem = refused('width = "5 m"', 'family = "long-dome"\nbays = 3\nlengths = 1')
    assert problem.code == "lengths-unreachable"
    assert "ask for 3 lengths" in problem.mend


def test_no_drift_with_fewer_lengths_than_nature_gives():
    problem = refused(
        'width = "6 m"', 'family = "dome"\ndivision = [4, 0]\nlengths = 5\ndrift = "0 mm"'
    )
    assert problem.code == "lengths-unreachable"
    assert "move a hub by 1.3 mm, more than the drift of 0.0 mm" in problem.what
    assert "6 lengths, the fewest within it" in problem.mend


@pytest.mark.parametrize("frequency", [0, 1000])
def test_a_frequency_that_cannot_be_made(frequency):
    problem = refused('width = "6 m"', f'family = "dome"\ndivision = [{frequency}, 0]')
    assert problem.code == "brief-out-of-bounds"
    assert "at most 24" in problem.mend


def test_a_length_without_a_width():
    """The length was left out without a word, and a round dome was made."""
    problem = refused('floor_area = "40 m2"\nlength = "12 m"')
    assert problem.code == "size-missing"
    assert "size.length" in problem.where


def test_more_courses_than_a_usual_division_has():
    """Forty courses were met with a dome of 6575 struts."""
    problem = refused('width = "6 m"', 'family = "dome"\ntruncation = 40')
    assert problem.code == "shape-truncation"
    assert "courses from 1 to 8" in problem.mend
