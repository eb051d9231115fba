"""Sections: what the plane cuts is drawn where it is cut."""

from pathlib import Path

import numpy as np
import pytest

from strutwright.brief import read_brief
from strutwright.documents.pictures.section import section_view
from strutwright.drawing import FRONT, SIDE, Circle, Line, Text
from strutwright.shape import DomeSpec, dome, make_shell

EXAMPLES = Path(__file__).parents[3] / "examples"


def metres(sheet, layer):
    """Ends of the lines of a layer, m, from the foot of the cut's left end."""
    scale = float(sheet.text.split("1:")[1].rstrip("."))
    lines = [m for m in sheet.marks if isinstance(m, Line) and m.layer == layer]
    ends = np.array([(line.start, line.end) for line in lines]).reshape(-1, 2)
    return ends * scale / 1000


@pytest.fixture(scope="module")
def shell():
    return dome(DomeSpec(radius=3.0, division=(6, 0)))


@pytest.mark.parametrize("camera", [FRONT, SIDE])
def test_the_cut_of_a_sphere_is_its_circle(shell, camera):
    sheet = section_view(shell, camera, "Section", "cut heavy", "{:.3f} m".format)
    ends = metres(sheet, "cut")
    middle = 0.5 * (ends[:, 0].min() + ends[:, 0].max())
    foot = ends[:, 1].min()
    away = np.hypot(ends[:, 0] - middle, ends[:, 1] - foot)
    sagitta = 3.0 - np.sqrt(9.0 - (0.9 / np.sqrt(3)) ** 2)  # of the largest face
    assert away.max() <= 3.0 + 1e-6
    assert away.min() >= 3.0 - 1.5 * sagitta


def test_sizes_are_those_of_the_shell(shell):
    sheet = section_view(shell, SIDE, "Section", "cut heavy", "{:.3f} m".format)
    said = [mark.text for mark in sheet.marks if isinstance(mark, Text)]
    assert f"{np.ptp(shell.hubs[:, 2]):.3f} m" in said
    wide = [float(text.split()[0]) for text in said if text.endswith(" m") and text[0] == "5"]
    assert wide
    assert wide[0] == pytest.approx(6.0, abs=0.15)


def test_nothing_before_the_plane_is_drawn(shell):
    sheet = section_view(shell, SIDE, "Section", "cut heavy", "{:.3f} m".format)
    beyond = sum(isinstance(m, Line) and m.layer == "beyond" for m in sheet.marks)
    depth = shell.hubs[shell.struts][:, :, 0].min(axis=1)
    assert beyond == (depth <= 1e-5 * shell.size).sum()
    cut = sum(isinstance(m, Circle) for m in sheet.marks)
    spans = shell.hubs[shell.struts][:, :, 0]
    limit = 1e-5 * shell.size
    assert cut == ((spans.min(axis=1) <= limit) & (spans.max(axis=1) > limit)).sum()


def test_height_is_from_the_foot_even_where_a_door_is_cut():
    brief = read_brief(EXAMPLES / "long-ambery-tunnel.toml")
    shell = make_shell(brief)
    sheet = section_view(shell, FRONT, "Section", "cut heavy", "{:.3f} m".format)
    said = [mark.text for mark in sheet.marks if isinstance(mark, Text)]
    assert f"{shell.hubs[:, 2].max():.3f} m" in said
