"""Sloping ground: readings, legs, terrace; files with rubbish in them."""

import numpy as np
import pytest

from strutwright.brief import parse_brief, parse_levels
from strutwright.errors import InputError
from strutwright.shape import make_shell
from strutwright.shape.slope import ground_of
from strutwright.site import legs_of, set_out, terrain_of

BRIEF = """
[project]
name = "Slantgarth test"
[size]
width = "6.0 m"
[shape]
family = "dome"
division = [2, 0]
[site]
levels = "levels.csv"
riser = "{riser}"
"""


def brief_with(tmp_path, rows, riser="0.3 m", head="x,y,height"):
    (tmp_path / "levels.csv").write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
    return parse_brief(BRIEF.format(riser=riser), str(tmp_path / "brief.toml"))


def rows_of(slope, spots=((0, 0), (3, 0), (-3, 0), (0, 3), (0, -3), (2, 2), (-2, 2))):
    return [f"{x} m,{y} m,{1000 * (0.5 + slope[0] * x + slope[1] * y):.0f} mm" for x, y in spots]


def test_legs_meet_the_ground(tmp_path):
    brief = brief_with(tmp_path, rows_of((0.05, -0.02)))
    shell = make_shell(brief)
    legs = legs_of(shell)
    assert len(legs) == len(shell.base)
    assert min(leg.length for leg in legs) == pytest.approx(0.3, abs=2e-3)
    for leg in legs:
        x, y, z = shell.hubs[leg.foot]
        highest = max(0.05 * a - 0.02 * b for a, b in shell.hubs[shell.base, :2])
        assert z == pytest.approx(-0.3 - highest + 0.05 * x - 0.02 * y, abs=2e-3)


def test_without_a_riser_the_shortest_leg_is_one_that_can_be_made(tmp_path):
    shell = make_shell(brief_with(tmp_path, rows_of((0.05, 0.0)), riser="0 m"))
    assert min(leg.length for leg in legs_of(shell)) == pytest.approx(0.10, abs=1e-3)
    assert "slope-least-leg" in {note.code for note in shell.recipe.notes}


def test_level_ground_needs_no_legs(tmp_path):
    shell = make_shell(brief_with(tmp_path, rows_of((0.001, 0.0)), riser="0 m"))
    assert legs_of(shell) == ()
    assert "slope-flat" in {note.code for note in shell.recipe.notes}


def test_a_transposed_reading_is_found_and_put_aside(tmp_path):
    rows = rows_of((0.09, -0.015))
    assert rows[5].endswith("650 mm")
    rows[5] = rows[5].replace("650", "560")
    shell = make_shell(brief_with(tmp_path, rows))
    (note,) = [n for n in shell.recipe.notes if n.code == "levels-blunder"]
    assert "line 7" in note.text
    assert "650 mm" in note.text
    assert "two digits changed places? 650 mm would fit" in note.text


def test_feet_written_as_metres_are_named(tmp_path):
    rows = rows_of((0.09, -0.015))
    rows[1] = "3 m,0 m,2.526 m"  # 770 mm are 2.526 ft
    (note,) = [
        n for n in make_shell(brief_with(tmp_path, rows)).recipe.notes if n.code == "levels-blunder"
    ]
    assert "feet written as metres" in note.text


def test_a_hub_that_was_read_keeps_its_height(tmp_path):
    flat = make_shell(brief_with(tmp_path, rows_of((0, 0)), riser="0 m"))
    at = flat.hubs[flat.base[:7], 0]
    rows = [f"{k},{1000 * (1 + 0.1 * x) + 6 * (k == 3):.1f} mm" for k, x in enumerate(at)]
    brief = brief_with(tmp_path, rows, head="hub,height")
    ground = ground_of(make_shell(brief), brief)
    assert ground.heights[3] == pytest.approx(1.006 + 0.1 * at[3], abs=1e-4)


def test_rock_is_that_of_the_nearest_reading(tmp_path):
    rows = [row + (",0.4 m" if row.startswith("3 m") else "") for row in rows_of((0.05, 0))]
    brief = brief_with(tmp_path, rows, head="x,y,height,rock")
    shell = make_shell(brief)
    ground = ground_of(shell, brief)
    x = shell.hubs[shell.base, 0]
    assert ground.rock[np.argmax(x)] == pytest.approx(0.4)
    assert np.isinf(ground.rock[np.argmin(x)])


def test_heights_beside_hubs(tmp_path):
    flat = make_shell(brief_with(tmp_path, rows_of((0, 0)), riser="0 m"))
    x = flat.hubs[flat.base[:6], 0]
    rows = [f"{k},{1000 + 100 * x[k]:.0f} mm" for k in range(6)]
    legs = legs_of(make_shell(brief_with(tmp_path, rows, head="hub,height")))
    assert max(leg.length for leg in legs) == pytest.approx(0.3 + 0.1 * 6.0, abs=0.02)


def terrain(tmp_path, slope):
    brief = brief_with(tmp_path, rows_of(slope))
    shell = make_shell(brief)
    sheet = set_out(shell, shell.groups["hubs.feet"], tape=0.003, play=0.001)
    found, notes = terrain_of(shell, ground_of(shell, brief), sheet)
    return found, notes, shell


def test_gradient_and_direction(tmp_path):
    found, _, _ = terrain(tmp_path, (0.06, -0.08))
    assert found.gradient == pytest.approx(0.10, abs=1e-3)
    assert found.downhill == pytest.approx(np.arctan2(0.08, -0.06), abs=0.02)


def test_a_terrace_moves_two_thirds_of_slope_times_radius_cubed(tmp_path):
    """A disc of radius R on a slope s: half of it is cut, 2/3 s R3 (integrated by hand).

    The base is a polygon of ten corners, of which a little less is cut.
    """
    found, _, _ = terrain(tmp_path, (0.08, 0.0))
    disc = 2 / 3 * 0.08 * 3.0**3
    assert 0.85 * disc < found.terrace < disc


def test_the_tape_on_the_ground_reads_more(tmp_path):
    found, _, _ = terrain(tmp_path, (0.10, 0.0))
    far = found.too_long.max()
    # across the whole width straight up the slope: 6 m level, 0.6 m of rise
    assert far == pytest.approx(np.hypot(6.0, 0.6) - 6.0, rel=0.02)
    assert found.too_long.min() >= 0


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "levels-form"),
        ("depth\n3 m\n", "levels-form"),
        ("x,y,height\n1 m,2 m\n", "levels-form"),
        ("x,y,height\n1 m,2 m,640\n", "unit-missing"),
        ("x,y,height\n1 m,2 m,640 m\n", "levels-bounds"),
        ("hub,height\nten,640 mm\n", "levels-hub"),
        ("x,y,height\n1 m,2 m,640 mm\n1 m,2 m,650 mm\n", "levels-twice"),
    ],
)
def test_rubbish_is_named_with_its_line(text, code):
    with pytest.raises(InputError) as caught:
        parse_levels(text, "levels.csv")
    assert code in {problem.code for problem in caught.value.problems}
    assert "levels.csv" in caught.value.where


def test_all_problems_of_a_file_at_once():
    with pytest.raises(InputError) as caught:
        parse_levels("x,y,height\n1 m,2 m,640\nrubbish\n3 m,2 m,12 mm\n", "levels.csv")
    assert len(caught.value.problems) == 2


def test_a_file_that_is_not_there(tmp_path):
    brief = parse_brief(BRIEF.format(riser="0 m"), str(tmp_path / "brief.toml"))
    with pytest.raises(InputError) as caught:
        make_shell(brief)
    assert caught.value.code == "levels-unreadable"


def test_a_hub_that_is_no_base_hub(tmp_path):
    rows = [f"{k},100 mm" for k in (0, 2, 4, 25)]
    with pytest.raises(InputError) as caught:
        make_shell(brief_with(tmp_path, rows, head="hub,height"))
    assert caught.value.code == "levels-hub"


def test_too_few_readings(tmp_path):
    with pytest.raises(InputError) as caught:
        make_shell(brief_with(tmp_path, rows_of((0.1, 0.0))[:3]))
    assert caught.value.code == "levels-too-few"


def bumpy(bumps):
    """Twelve readings round the base on a slope, each with a bump of its own, mm."""
    turn = 2 * np.pi * np.arange(12) / 12
    x, y = np.round(3 * np.cos(turn), 3), np.round(3 * np.sin(turn), 3)
    heights = 1000 * (0.5 + 0.05 * x - 0.02 * y) + np.array(bumps)
    return [f"{a} m,{b} m,{h:.0f} mm" for a, b, h in zip(x, y, heights, strict=True)]


BUMPS = [30, -25, 10, 35, -40, 20, -15, -30, 25, 40, -35, -20]


def test_uneven_ground_is_no_heap_of_blunders(tmp_path):
    brief = brief_with(tmp_path, bumpy(BUMPS))
    shell = make_shell(brief)
    ground = ground_of(shell, brief)
    assert ground.plane.blunders.tolist() == []
    assert 0.02 < ground.plane.sigma < 0.06
    assert "levels-uneven" in {note.code for note in shell.recipe.notes}
    sheet = set_out(shell, shell.base, tape=0.003, play=0.001)
    assert terrain_of(shell, ground, sheet)[0].enough > 40


def test_a_blunder_stands_out_from_uneven_ground_too(tmp_path):
    brief = brief_with(tmp_path, bumpy([*BUMPS[:4], 560, *BUMPS[5:]]))
    ground = ground_of(make_shell(brief), brief)
    assert ground.plane.blunders.tolist() == [4]


def test_two_slips_among_twelve_readings_are_both_found(tmp_path):
    brief = brief_with(tmp_path, bumpy([0, 0, 90, 0, 0, 0, 0, -270, 0, 0, 0, 0]))
    shell = make_shell(brief)
    assert sorted(ground_of(shell, brief).plane.blunders.tolist()) == [2, 7]
    assert "levels-uneven" not in {note.code for note in shell.recipe.notes}
