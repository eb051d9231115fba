"""The picture of the shape as built: what is drawn, how much larger, what is marked."""

import numpy as np
import pytest

from strutwright.documents.pictures import AsBuilt, as_built
from strutwright.documents.pictures.as_built import times
from strutwright.drawing import Circle, Line, Text
from strutwright.shape.dome import DomeSpec, dome


@pytest.fixture(scope="module")
def shell():
    return dome(DomeSpec(3.0, division=(2, 0)))


@pytest.mark.parametrize(("moved", "factor"), [(0.0, 1), (0.01, 50), (0.1, 5), (0.5, 1), (2.0, 1)])
def test_movements_are_drawn_larger_by_a_neat_factor(shell, moved, factor):
    """At most 12 % of 6 m: 0.72 m on the picture."""
    assert times(shell.hubs, shell.hubs + np.array([moved, 0, 0])) == factor


@pytest.mark.parametrize("look", ["plan", "front", "side"])
def test_suspects_and_readings_are_marked(shell, look):
    shape = shell.hubs.copy()
    shape[20, 2] -= 0.05
    asked = AsBuilt(struts=(3, 7), hubs=(4,), lines=((0, 5),), look=look)
    sheet = as_built(shell, shape, asked)
    layers = [mark.layer for mark in sheet.marks if isinstance(mark, Line | Circle)]
    assert layers.count("suspect") == 3
    assert layers.count("reading") == 1
    assert layers.count("built") == len(shell.struts) - 2
    words = " ".join(mark.text for mark in sheet.marks if isinstance(mark, Text))
    assert "10 times" in words
    assert "strut 3" in words
    assert "strut 7" in words
    assert "0.050 m" in words
