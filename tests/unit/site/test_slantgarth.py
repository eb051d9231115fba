"""The sloping-site example: nine height readings, one with two digits that changed places."""

from pathlib import Path

import numpy as np
import pytest

from strutwright.brief import read_brief
from strutwright.shape import make_shell
from strutwright.shape.slope import ground_of
from strutwright.site import legs_of, set_out, terrain_of

EXAMPLES = Path(__file__).parents[3] / "examples"


@pytest.fixture(scope="module")
def site():
    brief = read_brief(EXAMPLES / "slantgarth-dome.toml")
    shell = make_shell(brief)
    return brief, shell, ground_of(shell, brief)


def test_the_transposed_height_is_found_and_named(site):
    """The file reads 878 mm on line 11 where 787 was on the staff."""
    _, shell, ground = site
    assert ground.plane.blunders.tolist() == [7]
    assert not ground.plane.ambiguous
    text = next(note.text for note in shell.recipe.notes if note.code == "levels-blunder")
    assert "line 11: 878 mm does not fit" in text
    assert "two digits changed places? 788" in text


def test_the_slope_comes_out_as_the_site_has_it(site):
    """9 % down the slope with 1.5 % of cross fall, as the example says."""
    _, shell, ground = site
    sheet = set_out(shell, shell.base, tape=0.003, play=0.001)
    found, _ = terrain_of(shell, ground, sheet)
    steep = np.hypot(0.09, 0.015)
    assert found.gradient == pytest.approx(steep, abs=0.002)
    assert sorted([abs(found.along), abs(found.across)]) == pytest.approx([0.015, 0.09], abs=0.002)
    assert found.enough <= len(ground.levels)


def test_legs_take_up_the_fall(site):
    _, shell, ground = site
    legs = [leg.length for leg in legs_of(shell)]
    assert max(legs) - min(legs) == pytest.approx(ground.fall, abs=1e-6)
