import itertools
import math

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.documents.pictures import (
    RingSigns,
    Spoke,
    View,
    band_words,
    base_ring,
    hub_card,
    hub_type_thumb,
    marking,
    neat_scale,
    signs,
    view,
    view_labels,
)
from strutwright.drawing import (
    FRONT,
    ISOMETRIC,
    PLAN,
    SIDE,
    SMALLEST_TEXT,
    Line,
    Text,
    extent,
    svg,
    text_corners,
)
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.measure import node_lengths
from strutwright.site import set_out

PLAIN = """
[project]
name = "Plain"
use = "shelter"
[size]
width = "4 m"
[struts]
stock = "emt-3/4"
"""
VIEWS = {"plan": PLAN, "front": FRONT, "side": SIDE, "isometric": ISOMETRIC}


def show(length):
    return f"{length * 1000:.0f}"


def shell_of(frequency):
    return dome(DomeSpec(radius=3.0, division=(frequency, 0), truncation="1/2"))


def types_of(shell):
    _, type_of = np.unique(-np.round(node_lengths(shell), 4), return_inverse=True)
    count = int(type_of.max()) + 1
    return type_of, signs("ABCDEFGHIJ"[:count], [f"{'n' * (k + 1)}" for k in range(count)])


def words(sheet):
    return [mark for mark in sheet.marks if isinstance(mark, Text)]


def boxes(sheet):
    for mark in words(sheet):
        xs, ys = zip(*text_corners(mark), strict=True)
        yield mark.text, (min(xs), min(ys), max(xs), max(ys))


def meet(one, two, slack=0.0):
    return (
        one[0] < two[2] - slack
        and two[0] < one[2] - slack
        and one[1] < two[3] - slack
        and two[1] < one[3] - slack
    )


def assert_sound(sheet):
    """Letters within the paper, none too small, none on another (by their cap height)."""
    for text, box in boxes(sheet):
        assert box[0] >= 0, text
        assert box[1] >= 0, text
        assert box[2] <= sheet.width, text
        assert box[3] <= sheet.height, text
    assert min(mark.size for mark in words(sheet)) >= SMALLEST_TEXT - 1e-9
    flat = [(mark, box) for mark, (_, box) in zip(words(sheet), boxes(sheet), strict=True)]
    for (a, one), (b, two) in itertools.combinations(flat, 2):
        low_one = (one[0], one[1] + 0.21 * a.size, one[2], one[3])
        low_two = (two[0], two[1] + 0.21 * b.size, two[2], two[3])
        assert not meet(low_one, low_two), (a.text, b.text)


@pytest.mark.parametrize("frequency", [2, 4])
@pytest.mark.parametrize("name", VIEWS)
def test_labels_of_a_dome_do_not_collide_on_a4(frequency, name):
    shell = shell_of(frequency)
    type_of, types = types_of(shell)
    asked = View(VIEWS[name], name.title())
    placing = view_labels(shell, type_of, types, asked)
    assert not placing.left_out
    labels = [label.box for label in placing.labels]
    assert not any(meet(a, b) for a, b in itertools.combinations(labels, 2))
    sheet = view(shell, type_of, types, asked)
    assert sheet.width <= 180
    assert sheet.height <= 250
    assert_sound(sheet)


def test_a_plan_names_every_hub_and_every_strut():
    shell = shell_of(4)
    type_of, types = types_of(shell)
    labels = view_labels(shell, type_of, types, View(PLAN, "Plan")).labels
    named = sorted(label.wish.text for label in labels)
    hubs = [str(k) for k in range(len(shell.hubs))]
    assert named == sorted([*hubs, *(types[k].label for k in type_of)])


def test_an_elevation_leaves_out_what_is_behind():
    shell = shell_of(2)
    type_of, types = types_of(shell)
    drawn = {
        int(label.wish.text)
        for label in view_labels(shell, type_of, types, View(FRONT, "Front")).labels
        if label.wish.text.isdigit()
    }
    front = {k for k, (_, y, _) in enumerate(shell.hubs) if y < -0.5}
    back = {k for k, (x, y, _) in enumerate(shell.hubs) if y > 1.5 and abs(x) < 2}
    assert front <= drawn
    assert not back & drawn


def test_a_view_is_drawn_to_the_scale_that_it_names():
    shell = shell_of(2)
    type_of, types = types_of(shell)
    sheet = view(shell, type_of, types, View(PLAN, "Plan"))
    assert "1:40" in words(sheet)[-1].text
    struts = [mark for mark in sheet.marks if mark.layer.startswith("type ")]
    left, _, right, _ = extent(struts)
    assert right - left == pytest.approx(np.ptp(shell.hubs[:, 0]) * 1000 / 40, abs=0.1)


def test_an_isometric_view_says_that_it_is_not_to_scale():
    shell = shell_of(2)
    type_of, types = types_of(shell)
    sheet = view(shell, type_of, types, View(ISOMETRIC, "Isometric"))
    assert words(sheet)[-1].text == "Isometric, not to scale"
    assert "not to scale" in sheet.text


@pytest.mark.parametrize("frequency", [2, 4])
def test_the_base_ring_shows_pegs_distances_and_diagonals_apart(frequency):
    shell = shell_of(frequency)
    setting = set_out(shell, shell.base, tape=0.003, play=0.001)
    sheet = base_ring(shell, setting, show, RingSigns(north=0.3))
    assert_sound(sheet)
    shown = [mark.text for mark in words(sheet)]
    assert shown.count("6000") == sum(span.kind == "diagonal" for span in setting.spans)
    assert {"P", "Q"} <= set(shown)
    assert {str(hub) for hub in shell.base} <= set(shown)
    for span in setting.spans:
        assert show(span.length) in shown


def test_the_base_ring_shows_door_and_fall():
    """The arrow of a door goes inwards between its jambs, that of the slope downhill."""
    shell = shell_of(2)
    setting = set_out(shell, shell.base, tape=0.003, play=0.001)
    signs = RingSigns(doors=(("door", 2, 3),), fall=(math.pi, "falls 9 %"))
    sheet = base_ring(shell, setting, show, signs)
    assert_sound(sheet)
    assert {"door", "falls 9 %"} <= {mark.text for mark in words(sheet)}
    _, door = [mark for mark in sheet.marks if isinstance(mark, Line) and mark.layer == "doors"]
    middle = np.array([sheet.width / 2, sheet.height / 2])
    assert np.linalg.norm(middle - door.end) < np.linalg.norm(middle - door.start)
    (fall,) = (mark for mark in sheet.marks if mark.layer == "fall" and isinstance(mark, Line))
    assert fall.end[0] < fall.start[0]
    assert fall.end[1] == pytest.approx(fall.start[1])


def test_a_hub_card_shows_true_angles_between_spokes():
    (sign,) = signs("A", ["n"])
    angles = [0.0, 62.5, 121.0, 180.0, 240.0, 301.5]
    spokes = [
        Spoke(math.radians(a), math.radians(8.1), sign, f"to {k}") for k, a in enumerate(angles)
    ]
    sheet = hub_card("Hub type H2", spokes)
    assert_sound(sheet)
    shown = [mark.text for mark in words(sheet)]
    for figure in ("62.5°", "58.5°", "59.0°", "60.0°", "61.5°"):
        assert figure in shown
    assert "A: 8.1° below the tangent" in shown


def test_a_hub_card_has_a_section_for_each_dip_and_says_what_rises():
    kinds = signs("AB", ["n", "w"])
    spokes = [Spoke(k * 1.5, dip, kinds[k % 2]) for k, dip in enumerate((0.1, 0.2, -0.3, 0.2))]
    sheet = hub_card("Hub type H1", spokes)
    assert_sound(sheet)
    shown = {mark.text for mark in words(sheet) if "tangent" in mark.text}
    assert shown == {
        "A: 5.7° below the tangent",
        "B: 11.5° below the tangent",
        "A: 17.2° above the tangent",
    }


def test_struts_are_marked_to_one_scale_but_not_too_short_for_their_bands():
    (sign,) = signs("A", ["nwn"])
    lengths = []
    for share in (1.0, 0.5, 0.01):
        sheet = marking(sign, share)
        left, _, right, _ = extent([mark for mark in sheet.marks if mark.layer == "parts"][:1])
        lengths.append(right - left)
    assert lengths == pytest.approx([38, 19, 12])
    assert "narrow, wide, narrow" in sheet.text


def test_a_hub_in_a_list_has_its_spokes_in_their_directions():
    brief = parse_brief(PLAIN, "plain.toml")
    kit = make_kit(make_shell(brief), brief)
    for k, kind in enumerate(kit.hub_types):
        lines = [m for m in hub_type_thumb(kit, k, "title", "text").marks if isinstance(m, Line)]
        found = [math.atan2(m.end[1] - m.start[1], m.end[0] - m.start[0]) for m in lines]
        turns = np.exp(1j * np.array(found)) - np.exp(1j * kind.spokes[:, 0])
        assert abs(turns).max() < 1e-9


@pytest.mark.parametrize(
    ("size", "room", "scale"), [(6, 152, 40), (6, 120, 50), (1, 1000, 1), (60, 100, 600)]
)
def test_scales_are_neat_and_fit(size, room, scale):
    assert neat_scale(size, room) == scale


def test_bands_in_words():
    assert band_words("nw") == "narrow, wide"


def test_the_same_shell_gives_the_same_bytes():
    shell = shell_of(2)
    type_of, types = types_of(shell)
    first = svg(view(shell, type_of, types, View(PLAN, "Plan")))
    assert first == svg(view(shell, type_of, types, View(PLAN, "Plan")))


def test_labels_without_room_are_counted_on_the_picture():
    shell = shell_of(6)
    type_of, types = types_of(shell)
    asked = View(PLAN, "Plan", width=60.0)
    left_out = len(view_labels(shell, type_of, types, asked).left_out)
    assert left_out
    sheet = view(shell, type_of, types, asked)
    assert f"{left_out} labels left out" in words(sheet)[-1].text
