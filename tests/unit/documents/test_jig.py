"""Jigs: every figure is measured from one stop; a strut that is not drilled has none."""

import pytest

from strutwright.documents.pictures.jig import end_jig
from strutwright.drawing import Circle, Text, extent
from strutwright.making import EndWork


def shown(metres):
    return f"{1000 * metres:.1f}"


def test_figures_are_measured_from_the_stop():
    sheet = end_jig(EndWork("A", 1.25, 0.009, 0.022, 1.206, 0.072, (0.1, 0.2)), shown, "A", "a")
    said = {mark.text for mark in sheet.marks if isinstance(mark, Text)}
    # the far hole lies where the strut ends, less its own distance from that end
    assert {"22.0", "72.0", "1228.0", "1250.0"} <= said
    left, low, right, top = extent(sheet.marks)
    assert 0 <= left < right <= sheet.width
    assert 0 <= low < top <= sheet.height


@pytest.mark.parametrize("at", [0.012, 0.03, 0.2])
def test_both_holes_lie_as_far_from_their_ends(at):
    sheet = end_jig(EndWork("A", 2.0, 0.009, at, 2.0 - 2 * at, None, None), shown, "A", "a")
    holes = sorted(mark.centre[0] for mark in sheet.marks if isinstance(mark, Circle))
    edges = [m.start[0] for m in sheet.marks if getattr(m, "layer", "") == "parts"
             and getattr(m, "start", (0,))[0] == getattr(m, "end", (1,))[0]]  # fmt: skip
    assert holes[0] - min(edges) == pytest.approx(max(edges) - holes[1])


def test_a_strut_that_is_not_drilled_has_no_jig():
    assert end_jig(EndWork("A", 1.0, None, None, None, None, None), shown, "A", "a") is None
