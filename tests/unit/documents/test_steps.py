"""The steps of the build book: order, words, pictures."""

import itertools
import math
import re
from dataclasses import replace

import numpy as np
import pytest

import strutwright as sw
from strutwright.documents import build_book
from strutwright.documents.blocks import Caution, Figure, Heading, Paragraph, Row, Table, Together
from strutwright.documents.book.pictures import book_pictures
from strutwright.documents.book.step_pictures import shares_seen, stage_cameras
from strutwright.documents.pictures import hub_at, signs
from strutwright.documents.pictures.seen import MOST_TURN, Scene, Sights, turned
from strutwright.documents.pictures.step import StepView, step_picture
from strutwright.documents.reader import Reader
from strutwright.drawing import FRONT, PLAN, Camera, Line
from strutwright.shape import DomeSpec, dome

TEXT = """
[project]
name = "Plain"
use = "shelter"
show = "both"
[size]
width = "5 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
[crew]
people = 2
reach = "2.0 m"
platform = "1.0 m"
way = "in-place"
"""


@pytest.fixture(scope="module")
def design():
    return sw.run(sw.parse_brief(TEXT, "plain.toml"))


@pytest.fixture(scope="module")
def book(design):
    return build_book(design)


def steps_of(book):
    return [
        block
        for block in book.blocks
        if isinstance(block, Together)
        and isinstance(block.blocks[0], Heading)
        and block.blocks[0].level == 3
    ]


def test_every_step_has_its_picture_its_box_and_its_check(design, book):
    steps = steps_of(book)
    assert len(steps) == len(design.sequence.steps)
    for block, step in zip(steps, design.sequence.steps, strict=True):
        assert f"{step.number}:" in block.blocks[0].text
        (row,) = [part for part in block.blocks if isinstance(part, Row)]
        assert row.figures[0].picture == f"step-{step.number}"
        assert all(figure.picture in book.pictures for figure in row.figures)
        limits = [p.text for p in block.blocks if isinstance(p, Paragraph) and p.weight == "limit"]
        assert limits[-1].startswith("Check")
        for label, count in step.picks.items():
            assert f"{count} × {label}" in limits[0]


def test_messages_stand_before_what_they_concern(book):
    for block in steps_of(book):
        kinds = [type(part) for part in block.blocks]
        if Caution in kinds:
            assert kinds.index(Caution) < kinds.index(Table)


def test_a_step_with_props_says_where_and_warns(design, book):
    step = next(step for step in design.sequence.steps if step.props)
    block = steps_of(book)[step.number - 1]
    text = str(block)
    assert step.props[0] in text
    assert "fold" in text


def test_most_of_the_new_parts_is_seen(design):
    parts, ends = np.array(list(shares_seen(design).values())).T
    assert parts.min() > 0.7
    assert ends.round(2).min() >= 0.9


def test_the_camera_turns_little_from_stage_to_stage(design):
    cameras = stage_cameras(design, Sights(design.shell))
    for one, two in itertools.pairwise(cameras):
        turn = abs(math.remainder(one.azimuth - two.azimuth, 2 * math.pi))
        assert turn <= MOST_TURN + 1e-9


def one_behind_the_other():
    """Return a dome and a scene: seen from the front, the new strut lies exactly behind."""
    shell = dome(DomeSpec(radius=3.0, division=(2, 0)))
    ends = shell.hubs[shell.struts]
    pairs = {}
    for k, (a, b) in enumerate(ends):
        pairs.setdefault(
            tuple(np.round(sorted([(a[0], a[2]), (b[0], b[2])]), 6).ravel()), []
        ).append(k)
    front, back = next(
        sorted(two, key=lambda k: ends[k, :, 1].mean())
        for two in pairs.values()
        if len(two) == 2 and abs(ends[two[0], :, 1].mean() - ends[two[1], :, 1].mean()) > 0.5
    )
    return shell, Scene(np.array([front]), np.array([back]))


def test_a_strut_behind_another_is_not_seen():
    shell, scene = one_behind_the_other()
    sights = Sights(shell)
    assert sights.share(FRONT, scene) < 0.05
    assert sights.share(PLAN, scene) > 0.95


def test_an_end_behind_another_strut_is_not_seen():
    """The strut at the back hides its ends from the front where the rest stands."""
    shell, scene = one_behind_the_other()
    nearer = Scene(scene.fresh, scene.standing)
    sights = Sights(shell)
    assert sights.joints(PLAN, scene) == 1.0
    assert sights.joints(FRONT, nearer) == 1.0
    crossing = Scene(np.setdiff1d(np.arange(len(shell.struts)), scene.fresh), scene.fresh)
    assert sights.joints(FRONT, crossing) < 1.0


def test_the_inset_of_a_hub_names_its_real_neighbours(design):
    kit = design.kit
    for hub in (0, 12, len(kit.shell.hubs) - 1):
        words = {mark.text for mark in hub_at(kit, hub, "note").marks if hasattr(mark, "text")}
        others = {
            str(n) for row in kit.shell.struts.tolist() if hub in row for n in row if n != hub
        }
        assert others <= words


def test_every_figure_has_its_text(book):
    for block in steps_of(book):
        for part in block.blocks:
            if isinstance(part, Row):
                assert all(isinstance(f, Figure) and len(f.alt) > 20 for f in part.figures)


def test_up_on_the_inset_is_up_at_the_shell(design):
    """A strut to a hub above lies over the middle, one along its course level with it."""
    shell = design.shell
    hub = int(np.flatnonzero(shell.course == 1)[0])
    sheet = hub_at(design.kit, hub, "note")
    middle = next(m.at[1] for m in sheet.marks if getattr(m, "text", "") == str(hub))
    heights = {m.text: m.at[1] for m in sheet.marks if hasattr(m, "text")}
    others = [n for row in shell.struts.tolist() if hub in row for n in row if n != hub]
    above = [n for n in others if shell.hubs[n, 2] > shell.hubs[hub, 2] + 0.2]
    below = [n for n in others if shell.hubs[n, 2] < shell.hubs[hub, 2] - 0.2]
    assert above
    assert below
    assert all(heights[str(n)] > middle for n in above)
    assert all(heights[str(n)] < middle for n in below)


def test_a_camera_turns_a_little_where_its_stage_hides_the_step():
    shell, scene = one_behind_the_other()
    low = Camera("low", FRONT.azimuth, FRONT.height)
    sights = Sights(shell)
    found = turned(sights, low, scene)
    assert sights.share(found, scene) > sights.share(low, scene)
    assert abs(math.remainder(found.azimuth - low.azimuth, 2 * math.pi)) <= MOST_TURN + 1e-9


def test_what_is_drawn_near_ends_at_the_edge_of_the_picture():
    shell = dome(DomeSpec(radius=3.0, division=(4, 0)))
    fresh = np.flatnonzero((shell.course[shell.struts] == 0).all(axis=1))[:1]
    scene = Scene(np.setdiff1d(np.arange(len(shell.struts)), fresh), fresh)
    hubs = np.unique(shell.struts[fresh])
    ask = StepView(
        PLAN, scene, np.arange(len(shell.hubs)), (), (), (), (), 0.0, ("", "", ""), "", "",
        near=hubs,
    )  # fmt: skip
    types = signs(["A"], ["n"])
    sheet = step_picture(shell, np.zeros(len(shell.struts), dtype=int), types, ask)
    lines = [mark for mark in sheet.marks if isinstance(mark, Line)]
    new = [m for m in lines if m.layer == "type A"]
    assert sum(math.dist(m.start, m.end) for m in new) > 30
    for mark in lines:
        for x, y in (mark.start, mark.end):
            assert -1e-9 <= x <= sheet.width + 1e-9
            assert -1e-9 <= y <= sheet.height + 1e-9


@pytest.mark.parametrize("language", ["de", "es"])
def test_pictures_speak_the_language_of_the_book(design, language):
    """No English word of the hub cards and views is left in the pictures of another language."""
    brief = replace(design.brief, project=replace(design.brief.project, language=language))
    english, other = (
        book_pictures(d, Reader.of(d)) for d in (design, replace(design, brief=brief))
    )
    for name in ("plan", "front", "cover", "hub-H1", "step-3", "ring", "hub-of-3"):
        left = {
            word
            for word in re.findall(r">([^<]*[a-z]{3,}[^<]*)</text>", english[name].decode())
            if f">{word}</text>" in other[name].decode()
        }
        assert left == set(), name
