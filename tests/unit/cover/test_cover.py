"""Covers from briefs: what is refused and why, what is noted, what reaches kit and patterns."""

import numpy as np
import pytest

import strutwright as sw
from strutwright.brief import parse_brief
from strutwright.cover import FilmWish, PanelWish, film_layer, pack_densely, panel_plan, plan_cover
from strutwright.cover.nest import half_turn, nest_in_rows, slide
from strutwright.errors import InputError
from strutwright.exports import kit_data, pattern_files
from strutwright.parts import make_kit
from strutwright.shape import make_shell

DOME = """
[project]
name = "Mosswick test house"
[size]
width = "4.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "{stock}"
bars = [{{ length = "6 m" }}]
[hubs]
connector = "socket-pin"
[cover]
{cover}
"""


def plan_of(cover, stock="emt-1"):
    brief = parse_brief(DOME.format(stock=stock, cover=cover), "house.toml")
    kit = make_kit(make_shell(brief), brief)
    return plan_cover(kit.shell, kit.stock, brief)


FILM = 'material = "pe-film-180"\nroll = "3.6 m"\n'


@pytest.mark.parametrize("barrier", ["none", "oil-paint"])
def test_film_on_bare_pvc_is_refused(barrier):
    with pytest.raises(InputError, match="chlorine") as caught:
        plan_of(FILM + f'barrier = "{barrier}"', stock="pvc-sch40-1-1/2")
    assert caught.value.code == "film-on-pvc"
    assert "cover.barrier" in caught.value.where


@pytest.mark.parametrize("barrier", ["white-paint", "tape"])
def test_a_barrier_lets_film_on_pvc(barrier):
    assert plan_of(FILM + f'barrier = "{barrier}"', stock="pvc-sch40-1-1/2") is not None


def test_roll_narrower_than_a_face_names_the_face_and_the_width_that_does():
    with pytest.raises(InputError) as caught:
        plan_of('material = "pe-film-180"\nroll = "0.9 m"')
    assert caught.value.code == "roll-too-narrow"
    assert "face" in caught.value.what
    assert "wider" in caught.value.mend


def test_sheet_smaller_than_a_panel():
    with pytest.raises(InputError) as caught:
        plan_of('material = "pc-6"\nsheet = ["0.8 m", "2.0 m"]')
    assert caught.value.code == "sheet-too-small"


@pytest.mark.parametrize(
    "cover", ['material = "pe-film-180"\nsheet = ["2 m", "3 m"]', 'material = "pc-6"\nroll = "3 m"']
)
def test_film_on_sheets_and_sheets_on_rolls_are_refused(cover):
    with pytest.raises(InputError) as caught:
        plan_of(cover)
    assert caught.value.code == "cover-stock"


def test_a_way_that_does_not_suit_the_family_is_refused():
    with pytest.raises(InputError) as caught:
        plan_of(FILM + 'strips = "arches"')
    assert caught.value.code == "cover-way"


def test_two_layers_have_their_own_sizes_and_air_between():
    plan = plan_of(FILM + 'layers = 2\nstandoff = "20 mm"')
    outer, inner = plan.films
    assert inner.pieces[0].area < outer.pieces[0].area
    assert [set(p.faces) for p in inner.pieces] == [set(p.faces) for p in outer.pieces]
    assert plan.gap.at_strut == pytest.approx(outer.offset - inner.offset)
    assert outer.offset - inner.offset == pytest.approx(2 * outer.offset + 0.02)
    assert {"cover-condensation", "cover-sharp-ends"} <= {note.code for note in plan.notes}


def test_thin_air_is_noted():
    assert "cover-air-thin" not in {n.code for n in plan_of(FILM + "layers = 2").notes}


def test_bare_frame_has_no_cover():
    brief = parse_brief(DOME.format(stock="emt-1", cover=""), "house.toml")
    kit = make_kit(make_shell(brief), brief)
    assert plan_cover(kit.shell, kit.stock, brief) is None


def test_the_way_with_the_least_seam_is_taken_or_one_near_it():
    shell = make_shell(parse_brief(DOME.format(stock="emt-1", cover=""), "house.toml"))
    film = film_layer(shell, FilmWish("outer", "P", 0.0, 3.6, (30.0, 100.0)))
    least = min(one.seam_length for one in film.tried)
    assert film.seam_length <= least * 1.1 + 1e-9
    assert len({one.way for one in film.tried}) >= 3


def test_mirrored_panels_are_told_apart():
    shell = make_shell(parse_brief(DOME.format(stock="emt-1", cover=""), "house.toml"))
    # a class III net has no mirror plane: its panels come without their images
    plan = panel_plan(shell, PanelWish(0.0, (4.0, 6.0), True, 0.0, 0.0, 0.3))
    by_label = {kind.label: kind for kind in plan.types}
    for kind in plan.types:
        if kind.mirror_of:
            other = by_label[kind.mirror_of]
            assert other.mirror_of == kind.label
            edges = [np.linalg.norm(np.roll(k.outline, -1, axis=0) - k.outline, axis=1)
                     for k in (kind, other)]  # fmt: skip
            assert edges[0] == pytest.approx(edges[1][[0, 2, 1]], abs=2e-3)


def test_holes_lie_on_the_panel_and_no_farther_apart_than_asked():
    shell = make_shell(parse_brief(DOME.format(stock="emt-1", cover=""), "house.toml"))
    plan = panel_plan(shell, PanelWish(0.0, (4.0, 6.0), False, 65e-6, 50.0, 0.25))
    kind = plan.types[0]
    step = np.roll(kind.outline, -1, axis=0) - kind.outline
    normal = np.stack([-step[:, 1], step[:, 0]], axis=1) / np.linalg.norm(step, axis=1)[:, None]
    inside = np.einsum("hkd,kd->hk", kind.holes[:, None] - kind.outline[None], normal)
    assert inside.min() == pytest.approx(0.015)
    gaps = np.linalg.norm(np.diff(kind.holes, axis=0), axis=1)
    assert np.median(gaps) <= 0.25 + 1e-9
    assert kind.hole_diameter > 0.006


def test_triangles_interlock_on_the_roll():
    """Two right triangles of 1 by 1 make a square: the row is hardly longer than one."""
    triangle = np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]])
    assert slide(triangle, half_turn(triangle), 0.0) == pytest.approx(0.0, abs=1e-6)
    nest = nest_in_rows([triangle, triangle], 1.0, (10.0,), 0.0)
    assert nest.length == pytest.approx(1.0, abs=1e-6)
    assert nest.density == pytest.approx(1.0, abs=1e-5)


def test_rolls_are_bought_as_short_as_will_do():
    square = np.array([[0.0, 0.0], [3.0, 0.0], [3.0, 2.0], [0.0, 2.0]])
    nest = nest_in_rows([square] * 11, 2.0, (10.0, 30.0))
    assert [use.length for use in nest.stock] == [30.0, 10.0]


def test_a_piece_larger_than_the_roll_never_reaches_the_nest():
    with pytest.raises(ValueError, match="larger"):
        nest_in_rows([np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 3.0]])], 2.0, (10.0,))


def test_dense_packing_beats_rows_of_stars_and_stays_on_the_roll():
    cross = np.array([[1, 0], [2, 0], [2, 1], [3, 1], [3, 2], [2, 2], [2, 3], [1, 3], [1, 2],
                      [0, 2], [0, 1], [1, 1]], dtype=float) / 2  # fmt: skip
    shapes = [cross] * 6
    rows = nest_in_rows(shapes, 3.2, (30.0,))
    dense = pack_densely(shapes, 3.2, (30.0,), seconds=2)
    assert dense.method == "dense"
    assert dense.length < rows.length
    assert dense.density == pytest.approx(6 * 5 / 4 / (dense.length * 3.2))
    for one in dense.placed:
        shape = half_turn(shapes[one.item]) if one.turned else shapes[one.item]
        place = shape + np.array([one.x, one.y])
        assert place.min() >= -1e-6
        assert place[:, 0].max() <= dense.length + 1e-6
        assert place[:, 1].max() <= 3.2 + 1e-6


def test_where_packing_finds_nothing_the_rows_are_kept():
    square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 2.0], [0.0, 2.0]])
    assert pack_densely([square] * 2, 2.0, (30.0,), seconds=1).method == "rows"


@pytest.mark.whole
def test_cover_reaches_kit_json_and_patterns():
    design = sw.run(sw.read_brief("examples/mosswick-two-frequency.toml"))
    data = kit_data(design)
    assert data["cover"]["used"] < data["cover"]["bought"]
    assert len(data["cover"]["strips"]) == sum(len(film.pieces) for film in design.cover.films)
    assert data["climate"]["heater"] > data["climate"]["heat_loss"]["total"]
    assert data["climate"]["vents"]["low"]["share"] >= 0.15
    files = pattern_files(design.cover, design.shell)
    assert set(files) == {"patterns/film-outer.dxf", "patterns/film-inner.dxf"}
