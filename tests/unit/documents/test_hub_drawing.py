"""The drawing of a hub: every spoke and dip, true lengths in the reader's units."""

import numpy as np
import pytest

from strutwright import units
from strutwright.brief import parse_brief
from strutwright.documents.pictures.hub_drawing import HubShow, hub_drawing
from strutwright.documents.words import Words
from strutwright.drawing import Line, Text, extent
from strutwright.making import Fixings, hub_form
from strutwright.parts import make_kit
from strutwright.shape import make_shell

BRIEF = """
[project]
name = "Mosswick test"
[size]
width = "4.4 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "{stock}"
bars = [{{ length = "6 m" }}]
[hubs]
connector = "{connector}"
"""
SYSTEMS = [("timber-45x70", "plate-bolt"), ("emt-1", "socket-pin"), ("emt-1", "flattened-bolt")]


@pytest.fixture(params=SYSTEMS, ids=[name for _, name in SYSTEMS])
def kit(request):
    stock, connector = request.param
    brief = parse_brief(BRIEF.format(stock=stock, connector=connector), "house.toml")
    return make_kit(make_shell(brief), brief)


def drawn(kit, kind, system="metric"):
    words = Words.of("en")
    show = HubShow(
        lambda metres: units.show_length(metres, system), units.show_angle,
        lambda key, **of: words(f"hub_drawing.{key}", **of),
    )  # fmt: skip
    form = hub_form(kit, kind, Fixings(0.025, True, kit.shell.base))
    return form, hub_drawing(form, {}, show, kind.label)


def test_every_spoke_and_every_dip_is_told(kit):
    for kind in kit.hub_types:
        form, sheet = drawn(kit, kind)
        texts = [mark.text for mark in sheet.marks if isinstance(mark, Text)]
        for spoke in form.spokes:
            turn = units.show_angle(spoke.azimuth % (2 * np.pi))
            assert f"{spoke.label} {turn}" in texts
            told = [text for text in texts if f"{units.show_angle(abs(spoke.dip))} down" in text]
            assert any(spoke.label in text.split(":")[0] for text in told)
        assert any("stake hole 27 mm" in text for text in texts) == (form.stake is not None)


@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_lengths_are_in_the_readers_units_and_nothing_leaves_the_sheet(kit, system):
    for kind in kit.hub_types:
        form, sheet = drawn(kit, kind, system)
        texts = {mark.text for mark in sheet.marks if isinstance(mark, Text)}
        assert units.show_length(abs(form.spokes[0].start), system) in texts
        left, low, right, top = extent(sheet.marks)
        assert left >= 0
        assert low >= 0
        assert right <= sheet.width
        assert top <= sheet.height


def test_lengths_are_true_to_the_scale_that_is_told(kit):
    """The hole of a spoke in the plan lies as far from the middle as told, foreshortened."""
    if kit.connector.kind != "socket":
        pytest.skip("pins are lines, which alone tell their place here")
    form, sheet = drawn(kit, kit.hub_types[0])
    words = next(m.text for m in sheet.marks if isinstance(m, Text) and m.text.startswith("1:"))
    scale = float(words.split(",")[0].removeprefix("1:"))
    pins = [m for m in sheet.marks if isinstance(m, Line) and m.layer == "holes"][
        : len(form.spokes)
    ]
    middles = np.array([np.add(pin.start, pin.end) / 2 for pin in pins])
    reach = np.array([1000 * s.holes[0] * np.cos(s.dip) / scale for s in form.spokes])
    turns = np.array([s.azimuth for s in form.spokes])
    centres = middles - reach[:, None] * np.column_stack([np.cos(turns), np.sin(turns)])
    assert np.ptp(centres, axis=0) == pytest.approx([0.0, 0.0], abs=1e-6)
