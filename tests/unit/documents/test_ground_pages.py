"""The ground's pages: which anchor goes to which hub, and posts in place of legs."""

from types import SimpleNamespace

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.documents.blocks import Bullets, Table
from strutwright.documents.book.ground import ground_chapter
from strutwright.documents.reader import Reader
from strutwright.shape import make_shell
from strutwright.site import AnchorPlan, HubAnchors
from strutwright.site.terrain import Terrain

BRIEF = """
[project]
name = "Ground test"
[size]
width = "5.0 m"
[site]
frost = "{frost}"
riser = "0.4 m"
"""


def chapter(kinds, frost="0.9 m"):
    brief = parse_brief(BRIEF.format(frost=frost))
    shell = make_shell(brief)
    rows = tuple(
        HubAnchors(hub, 900.0, 300.0, "uplift", 900.0, 2000.0, kind, 2)
        for hub, kind in enumerate(kinds)
    )
    plan = AnchorPlan(rows, np.arange(len(rows)), (), (), ())
    feet = np.flatnonzero(shell.course < 0)
    terrain = Terrain(
        0.05, 0.0, 0.05, 0.0, 0.2, 0.003, 5, 0.02, 1.0, np.zeros((len(feet), 2)), np.array([], int)
    )
    sheet = SimpleNamespace(rows=[SimpleNamespace(hub=int(h), a="P", b="Q") for h in feet])
    design = SimpleNamespace(
        brief=brief, shell=shell, anchors=plan, terrain=terrain, setting_out=sheet, notes=()
    )
    return ground_chapter(design, Reader.of_brief(brief))


def anchor_table(blocks):
    return next(block for block in blocks if isinstance(block, Table) and "Number" in block.head)


def test_two_kinds_of_anchor_are_named_hub_by_hub():
    table = anchor_table(chapter(["helical-small", "rock-bar-20x400"]))
    assert table.head[1] == "Anchor"
    assert "screw anchor" in table.rows[0][1]
    assert "drilled rock" in table.rows[1][1]
    assert "Anchor" not in anchor_table(chapter(["helical-small"] * 2)).head


@pytest.mark.parametrize(("frost", "depth"), [("0.9 m", 900), ("0.3 m", 600)])
def test_posts_reach_below_the_frost(frost, depth):
    """Legs of 400 mm: as posts they are dug in by the frost's depth, and by 600 mm at least."""
    said = [text for block in chapter(["helical-small"], frost) if isinstance(block, Bullets)
            for text in block.items]  # fmt: skip
    posts = next(text for text in said if text.startswith("Posts"))
    assert f"{depth} mm deep" in posts
    assert f"{depth + 400} mm in all" in posts
