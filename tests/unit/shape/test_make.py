import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.errors import InputError
from strutwright.shape import alternatives, make_shell, measure


def brief(size, shape="", rest=""):
    text = f'[project]\nname = "Mosswick"\n[size]\n{size}\n'
    if shape:
        text += f"[shape]\n{shape}\n"
    return parse_brief(text + rest, "brief.toml")


def codes(shell):
    return [note.code for note in shell.recipe.notes]


def test_a_four_frequency_house():
    shell = make_shell(brief('width = "6.0 m"\nrise = "3.0 m"', "division = [4, 0]"))
    assert (len(shell.hubs), len(shell.struts)) == (91, 250)
    assert measure.width(shell) == pytest.approx(6.0)


def test_without_a_shape_one_is_chosen_of_at_least_three():
    wish = brief('width = "6.0 m"\nrise = "3.0 m"')
    choices = alternatives(wish, make_shell(wish))
    assert len({(c.seed, c.division, c.truncation) for c in choices}) >= 3
    shell = make_shell(wish)
    assert "shape-chosen" in codes(shell)
    first = choices[0]
    assert (len(shell.hubs), len(shell.struts)) == (first.hubs, first.struts)
    assert first.fits
    assert measure.node_lengths(shell).max() == pytest.approx(first.longest)
    assert measure.node_lengths(shell).max() <= 1.6
    for choice in choices:
        assert choice.width == pytest.approx(6.0, rel=5e-3)
        assert choice.rise == pytest.approx(3.0, rel=6e-3)


def test_without_a_division_struts_keep_within_bars_and_parcel():
    shell = make_shell(brief('width = "6.0 m"', 'family = "dome"'))
    assert "shape-chosen" in codes(shell)
    assert measure.node_lengths(shell).max() <= 1.6


def test_a_rise_that_the_cut_does_not_give_is_refused_with_the_nearest_cuts():
    wish = 'width = "6.0 m"\nrise = "2.0 m"'
    with pytest.raises(
        InputError, match=r"width 6000 mm .* gives rise 3000 mm .*, but rise 2000 mm"
    ) as caught:
        make_shell(brief(wish, 'division = [2, 0]\ntruncation = "1/2"'))
    assert "truncation = 2 (rise 1763 mm (5' 9 7/16\"))" in caught.value.mend
    shell = make_shell(brief(wish, 'division = [2, 0]\ntruncation = "1/2"\nscale_rise = true'))
    assert shell.hubs[:, 2].max() == pytest.approx(2.0)
    assert measure.width(shell) == pytest.approx(6.0)


def test_a_cut_is_chosen_for_the_rise():
    shell = make_shell(brief('width = "6.0 m"\nrise = "2.48 m"', "division = [3, 0]"))
    assert shell.recipe.settings["courses"] == 4


def test_an_uneven_base_not_spoken_of_is_levelled_with_a_note():
    whole = make_shell(brief('width = "6.0 m"', 'division = [3, 0]\ntruncation = "5/9"'))
    assert whole.recipe.base == "level"
    assert "level-base-whole" in codes(whole)
    ring = make_shell(brief('width = "6.0 m"', "division = [2, 0]\ntruncation = 2"))
    assert "level-base-ring" in codes(ring)
    rough = make_shell(brief('width = "6.0 m"', 'division = [3, 0]\nlevel_base = "none"'))
    assert "base-uneven" in codes(rough)
    assert "shape-truncation-rounded" in codes(rough)


def test_fewer_lengths_are_made_when_asked_for():
    wish = 'width = "6.0 m"\nrise = "3.0 m"'
    shell = make_shell(brief(wish, "division = [4, 0]\nlengths = 5"))
    assert shell.recipe.steps[-1].startswith("fewer lengths: 6 to 5, hubs moved by up to 1.")
    free = wish + '\nfreedom = ["5.99 m", "6.2 m"]'
    held = make_shell(brief(free, "division = [4, 0]\nlengths = 5"))
    plan = np.linalg.norm(held.hubs[held.base, :2], axis=1)
    assert abs(plan - 3.0).max() < 3.0 * 0.01 / 6 + 1e-5
    with pytest.raises(InputError, match="the fewest within it"):
        make_shell(brief(wish, 'division = [4, 0]\nlengths = 4\ndrift = "20 mm"'))
