"""The skirt under a base ring on legs: areas, widths, pieces that fit, doors left open."""

import math

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.cover import laid, plan_cover
from strutwright.cover.skirt import Bay, bays_of, film_skirt, sheet_skirt
from strutwright.errors import InputError
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.riser import raise_on_legs

BRIEF = """
[project]
name = "Mosswick test house"
[size]
width = "{width}"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "timber-45x70"
bars = [{{ length = "6 m" }}]
[hubs]
connector = "plate-bolt"
[site]
riser = "{riser}"
[cover]
{cover}
{more}
"""
FILM = 'material = "pe-film-180"\nroll = "3.6 m"'
SHEET = 'material = "pc-8"'
DOOR = '[[openings]]\nkind = "door"\nwidth = "0.8 m"\nheight = "1.4 m"'
SHELL = dome(DomeSpec(radius=2.0, division=(2, 0)))


def plan_of(cover, riser="0.6 m", more="", width="4.0 m"):
    brief = parse_brief(
        BRIEF.format(cover=cover, riser=riser, more=more, width=width), "house.toml"
    )
    kit = make_kit(make_shell(brief), brief)
    return kit.shell, plan_cover(kit.shell, kit.stock, brief, hub=0.05)


def test_a_decagon_on_legs_has_ten_bays_as_wide_as_outside_its_struts():
    """Side 2 R sin 18 degrees, and 2 h tan 18 degrees more where the film lies h outside."""
    (run,) = bays_of(raise_on_legs(SHELL, 0.6), 0.03)
    side = 4 * math.sin(math.radians(18)) + 2 * 0.03 * math.tan(math.radians(18))
    assert [bay.wide for bay in run] == pytest.approx([side] * 10)
    assert [bay.left for bay in run] == pytest.approx([0.6] * 10)


def test_without_legs_there_is_no_skirt():
    assert bays_of(SHELL, 0.03) == ()
    assert film_skirt((), 3.6, (30.0,), parted=False) is None
    assert plan_of(FILM, riser="0 m")[1].skirt is None


def test_a_skirt_of_film_is_one_strip_with_its_laps_and_hem():
    skirt = film_skirt(bays_of(raise_on_legs(SHELL, 0.6), 0.0), 3.6, (30.0,), parted=False)
    around = 40 * math.sin(math.radians(18))
    (part,) = skirt.parts
    assert skirt.around == pytest.approx(around)
    assert skirt.area == pytest.approx(around * 0.6)
    assert part.wide == pytest.approx(around + 2 * 0.03)
    assert part.high == pytest.approx(0.6 + 0.03 + 0.30)
    assert part.area == pytest.approx(part.wide * part.high)


def test_on_a_slope_each_bay_is_as_high_as_its_legs():
    heights = np.linspace(0.3, 0.9, 10)
    skirt = film_skirt(bays_of(raise_on_legs(SHELL, heights), 0.0), 3.6, (30.0,), parted=False)
    side = 4 * math.sin(math.radians(18))
    wanted = side * (heights + np.roll(heights, -1)).sum() / 2
    assert skirt.area == pytest.approx(wanted)
    assert skirt.highest == pytest.approx(0.9)


def test_film_longer_than_its_roll_and_higher_than_it_is_wide_is_parted():
    long_ = film_skirt([[Bay(0, 2.0, 0.5, 0.5)] * 9], 2.0, (10.0,), parted=False)
    assert sum(part.quantity for part in long_.parts) >= 2
    assert long_.area == pytest.approx(9.0)
    assert all(part.wide <= 10.0 for part in long_.parts)
    high = film_skirt([[Bay(0, 1.2, 2.5, 2.5)] * 4], 2.0, (30.0,), parted=True)
    (part,) = high.parts
    assert part.quantity == 4
    assert (part.wide, part.high) == pytest.approx((2.5 + 0.33, 1.2 + 0.2))


def test_panels_wider_than_the_sheet_are_halved_and_flutes_stand_upright():
    skirt = sheet_skirt([[Bay(0, 3.0, 0.6, 0.6)]], (2.1, 6.0), 0.01, directed=True)
    (part,) = skirt.parts
    assert (part.quantity, part.wide, part.high) == (2, pytest.approx(1.49), pytest.approx(0.6))
    assert {abs(one.angle) for one in skirt.nest.placed} == {math.pi / 2}
    plain = sheet_skirt([[Bay(0, 3.0, 0.6, 0.6)]], (2.1, 6.0), 0.01, directed=False)
    assert [part.quantity for part in plain.parts] == [1]


@pytest.mark.parametrize("cover", [FILM, SHEET])
def test_it_is_bought_and_weighed_with_the_cover_and_faces_stay_the_panels(cover):
    _, flat = plan_of(cover, riser="0 m")
    shell, plan = plan_of(cover)
    more = sum(part.area * part.quantity for part in plan.skirt.parts)
    assert plan.used == pytest.approx(flat.used + more, rel=1e-6)
    assert plan.bought > flat.bought
    assert plan.mass / plan.used == pytest.approx(flat.mass / flat.used)
    assert "cover-skirt" in {note.code for note in plan.notes}
    faces = [p.faces for f in plan.films for p in f.pieces]
    faces += [k.faces for s in plan.sheets for k in s.types]
    assert sorted(np.concatenate(faces).tolist()) == list(range(len(shell.faces)))
    for one in plan.skirt.nest.placed:
        there = laid(plan.skirt.parts[one.item].cut, one.angle) + np.array([one.x, one.y])
        use = plan.skirt.nest.stock[one.stock]
        assert there.min() > -1e-6
        assert (there.max(axis=0) <= [use.length + 1e-6, use.width + 1e-6]).all()


def test_the_bay_of_a_door_stays_open():
    """The band runs under the base struts that are there, a little longer outside them."""
    shell, plan = plan_of(FILM, more=DOOR, width="6.0 m")
    after = np.roll(shell.base, -1)
    ring = {tuple(sorted(p)) for p in zip(shell.base.tolist(), after.tolist(), strict=True)}
    number = {tuple(pair): k for k, pair in enumerate(shell.struts.tolist())}
    there = [number[pair] for pair in ring if pair in number]
    assert len(there) < len(ring)
    ends = shell.hubs[shell.struts[there]]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1).sum()
    assert length < plan.skirt.around < length + 0.05 * len(there)
    assert {k for part in plan.skirt.parts for k in part.struts.tolist()} <= set(there)


def test_a_band_higher_than_the_sheet_is_refused():
    with pytest.raises(InputError) as caught:
        sheet_skirt([[Bay(0, 1.0, 2.6, 2.6)]], (1.25, 2.5), 0.0, directed=False)
    assert caught.value.code == "sheet-too-small"


def test_heights_belong_to_their_own_legs():
    heights = np.linspace(0.3, 0.9, 10)
    shell = raise_on_legs(SHELL, heights)
    (run,) = bays_of(shell, 0.0)
    for k, bay in enumerate(run):
        assert (bay.left, bay.right) == pytest.approx((heights[k], heights[(k + 1) % 10]))
    wide = film_skirt([[Bay(0, 3.0, 2.5, 2.5)]], 2.0, (30.0,), parted=False)
    assert [part.quantity for part in wide.parts] == [2]
