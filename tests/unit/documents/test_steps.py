"""The steps of the build book: order, words, pictures."""

import itertools
import math

import numpy as np
import pytest

import strutwright as sw
from strutwright.documents import build_book
from strutwright.documents.blocks import Caution, Figure, Heading, Paragraph, Row, Table, Together
from strutwright.documents.book.step_pictures import shares_seen, stage_cameras
from strutwright.documents.pictures import hub_at
from strutwright.documents.pictures.seen import MOST_TURN, Scene, share_seen
from strutwright.drawing import FRONT, PLAN
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
    assert min(shares_seen(design).values()) > 0.7


def test_the_camera_turns_little_from_stage_to_stage(design):
    cameras = stage_cameras(design)
    for one, two in itertools.pairwise(cameras):
        turn = abs(math.remainder(one.azimuth - two.azimuth, 2 * math.pi))
        assert turn <= MOST_TURN + 1e-9


def test_a_strut_behind_another_is_not_seen():
    """Seen from the front, the mirror image of a strut lies exactly behind it."""
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
    scene = Scene(np.array([front]), np.array([back]))
    assert share_seen(shell, FRONT, scene) < 0.05
    assert share_seen(shell, PLAN, scene) > 0.95


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
