"""The setting-out pages: what a person in the field finds on them."""

import re

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.design.site import fit_of, sheet_of
from strutwright.documents.blocks import Paragraph, Table
from strutwright.documents.book.drawings import base_ring
from strutwright.documents.reader import Reader
from strutwright.parts import make_kit
from strutwright.shape import make_shell

BRIEF = """
[project]
name = "Field test"
show = "{show}"
[size]
width = "5.0 m"
length = "{length}"
freedom = "10 %"
[struts]
stock = "emt-3/4"
[crew]
people = {people}
[survey]
tape = "3 mm"
play = "2 mm"
"""


class _Design:
    """As much of a design as these pages ask for."""

    def __init__(self, brief):
        self.brief = brief
        self.shell = make_shell(brief)
        self.kit = make_kit(self.shell, brief)
        self.setting_out = sheet_of(self.shell, brief)
        self.tolerances = fit_of(self.kit, brief)


def pages(*, length="5.0 m", people=2, show="metric", loose=()):
    brief = parse_brief(BRIEF.format(length=length, people=people, show=show))
    design = _Design(brief)
    if loose:
        design.tolerances.hub_spread.flags.writeable = True
        design.tolerances.hub_spread[list(loose)] = np.nan
    blocks = base_ring(design, Reader.of_brief(brief))
    words = " ".join(block.text for block in blocks if isinstance(block, Paragraph))
    tables = [block for block in blocks if isinstance(block, Table)]
    return words, tables[-3:], design.setting_out


def test_bands_are_said_to_follow_from_the_play_of_the_hubs():
    words, (_, hubs, _), sheet = pages()
    assert "2 mm of play" in words
    assert "2 × 2 mm × √n" in words
    assert sheet.rows[1].band == pytest.approx(2 * 0.002 + 1.959964 * 0.003)
    assert hubs.rows[1][5] == "± 10 mm"


def test_one_or_two_people_are_told_how():
    assert "Alone:" in pages(people=1)[0]
    assert "Two people:" in pages(people=2)[0]


def test_every_table_has_room_for_what_was_measured():
    for table in pages(length="9.0 m")[1]:
        assert table.head[-1] == "Measured"
        assert {row[-1] for row in table.rows} == {""}


def test_the_ellipse_is_that_of_95_per_cent():
    """Two tapes at a right angle, 3 mm each: 2.4477 x 3 mm either way, twice for the axis."""
    _, (_, hubs, _), _ = pages()
    assert hubs.rows[0][6] == ""
    assert hubs.rows[1][6] == "15 mm × 15 mm"


def test_a_long_base_is_squared_by_its_pegs_and_widths():
    words, (pegs, _, spans), sheet = pages(length="9.0 m", show="imperial")
    assert "P - R and Q - S are alike" in words
    assert len(pegs.rows) == 6
    assert sum(row[0] == "width" for row in spans.rows) >= 4
    assert all(re.search(r'"$', row[2]) for row in spans.rows)
    assert "P - R" not in pages()[0]
    assert len(sheet.pegs) == 4


def test_hubs_that_nothing_holds_are_named():
    assert "Left out: hubs 12, 14" in pages(loose=(12, 14))[0]
    assert "Left out" not in pages()[0]
