"""The 3D view in a real Chromium: use, loads, shapes, openings, section, measuring."""

import re
from itertools import pairwise
from math import dist

import pytest

pytestmark = pytest.mark.whole
SMALL = "mosswick-two-frequency"
VERDICT = re.compile("Passes|FAILS|NOT CHECKED")


@pytest.fixture
def judged(page, server):
    page.goto(f"{server.url}/#/b/{SMALL}/checks")
    page.locator(".phone", has_text=VERDICT).wait_for()
    page.get_by_label("Shape", exact=True).wait_for()
    return page


def hub_at(page, hub):
    return page.evaluate(f"strutwrightStage.hubAt({hub})")


def test_the_slider_draws_a_shape_larger_and_says_how_much(judged):
    shape = judged.get_by_label("Shape", exact=True)
    names = shape.locator("option").all_inner_texts()
    assert "Deflected" in names
    assert any(name.startswith("Buckling 1, at ") for name in names)
    top = judged.evaluate("strutwrightStage.drawn.shell.hubs.length - 1")
    still = hub_at(judged, top)
    shape.select_option(label="Deflected")
    slide = judged.get_by_label("How far the shape is drawn")
    said = judged.locator(".said-of-shape")
    moved = []
    for _ in range(3):
        times = int(re.search(r"drawn (\d+) times as large", said.inner_text())[1])
        moved.append((times, dist(still, hub_at(judged, top))))
        slide.press("ArrowLeft")
    assert all(a[0] > b[0] for a, b in pairwise(moved))
    for times, gap in moved:  # as many times the same movement
        assert gap == pytest.approx(moved[0][1] * times / moved[0][0], rel=1e-6)
    shape.select_option(label="Shape as designed")
    assert dist(still, hub_at(judged, top)) == 0


def test_arrows_use_cover_openings_and_section_stay_within_six_calls(judged):
    judged.get_by_label("Colour by").select_option("used")
    assert "over 1: fails" in judged.locator(".legend").inner_text()
    judged.get_by_label("Shape", exact=True).select_option(index=1)
    judged.get_by_label("Loads", exact=True).select_option("all")
    arrows = judged.evaluate("strutwrightStage.look.arrows.length")
    assert arrows > 10
    judged.get_by_label("Loads", exact=True).select_option("snow")
    assert 0 < judged.evaluate("strutwrightStage.look.arrows.length") < arrows
    assert "Longest arrow" in judged.locator(".said-of-shape").inner_text()
    judged.get_by_label("Colour by").select_option("type")
    judged.get_by_role("button", name="Cover", exact=True).click()
    judged.get_by_role("button", name="Section").click()
    judged.wait_for_timeout(300)
    assert judged.evaluate("strutwrightStage.calls") <= 6


def test_a_check_is_stopped_and_goes_on_with_the_next_change(page, server):
    page.goto(f"{server.url}/#/b/tallow-cross-stall")
    stop = page.get_by_role("button", name="Stop")
    stop.wait_for()
    stop.click()
    stop.wait_for(state="hidden")
    page.wait_for_timeout(500)
    assert not VERDICT.search(page.locator(".phone").inner_text())
    width = page.get_by_label("Width", exact=True).first
    width.fill("2.9 m")
    width.press("Tab")
    page.locator(".phone", has_text=VERDICT).wait_for()


def test_two_hubs_are_measured_by_their_numbers(judged):
    judged.get_by_role("button", name="Measure").click()
    find = judged.get_by_label("Find a hub, a strut or a type")
    for hub in (3, 14):
        find.fill(f"hub {hub}")
        find.press("Enter")
    told = int(re.search(r"(\d+) mm", judged.locator(".card").inner_text())[1])
    a, b = judged.evaluate("[3, 14].map((n) => strutwrightStage.drawn.shell.hubs[n])")
    assert told == pytest.approx(1000 * dist(a, b), abs=0.5)
    assert judged.evaluate("strutwrightStage.look.lines.length") == 1
