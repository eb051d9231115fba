"""The page in a real Chromium: what a customer, a workshop and a builder do with it."""

import io
import re
import zipfile
from pathlib import Path

import pypdf
import pytest

pytestmark = pytest.mark.whole
EXAMPLES = Path(__file__).parents[2] / "examples"
SMALL = "mosswick-two-frequency"
SWIPE = """(across) => {
  const walk = document.querySelector(".walk");
  const at = (x) => [new Touch({ identifier: 1, target: walk, clientX: x, clientY: 600 })];
  const say = (name, list, x) => walk.dispatchEvent(
    new TouchEvent(name, { touches: list, changedTouches: at(x), bubbles: true }));
  say("touchstart", at(200), 200);
  say("touchend", [], 200 + across);
}"""
VERDICT = re.compile("Passes|FAILS|NOT CHECKED")


def fact(page, name):
    return page.locator(".fact", has_text=re.compile(f"^{name}")).locator(".fact-value")


def opened(page, server, rest=""):
    page.goto(f"{server.url}/#/b/{SMALL}{rest}")
    fact(page, "Struts").wait_for()


def test_from_a_demo_to_counts_in_feet(page, server):
    page.goto(server.url)
    page.get_by_label("Begin from").select_option("demo:slantgarth-dome")
    page.get_by_label("File name").fill("by-feet")
    page.get_by_role("button", name="Make it").click()
    fact(page, "Span").wait_for()
    page.locator("summary", has_text="Shape").wait_for()
    division = page.get_by_label("Division", exact=True)
    before = fact(page, "Struts").inner_text()
    width = page.get_by_label("Width", exact=True).first
    width.fill("18 ft 4 in")
    width.press("Tab")
    page.locator(".fact-value", has_text="5.59 m").wait_for()  # 18 ft 4 in = 5.588 m
    division.fill("2, 0")
    division.press("Tab")
    page.wait_for_timeout(200)
    page.locator(".fact", has_text=re.compile("^Struts")).filter(has_not_text=before).wait_for()
    assert fact(page, "Struts").inner_text() != before
    page.get_by_role("button", name="Save").click()
    page.get_by_text("Saved.", exact=True).first.wait_for()
    text = (server.folder / "by-feet.toml").read_text()
    assert 'width = "18 ft 4 in"' in text


def test_problems_stand_beside_their_fields_and_undo_takes_them_back(page, server):
    opened(page, server)
    width = page.get_by_label("Width", exact=True).first
    width.fill("6")
    width.press("Tab")
    problem = page.locator("[id='p-size.width']")
    problem.wait_for()
    assert "unit" in problem.inner_text()
    assert width.get_attribute("aria-invalid") == "true"
    page.get_by_role("button", name="Undo").click()
    problem.wait_for(state="hidden")
    assert width.input_value() == "6.0 m"


def test_a_hub_is_picked_and_the_picture_is_cheap(page, server):
    opened(page, server)
    page.locator(".phone", has_text=VERDICT).wait_for()
    spot = page.evaluate("strutwrightStage.project(strutwrightStage.drawn.shell.hubs.at(-1))")
    box = page.locator("canvas.stage").bounding_box()
    page.mouse.click(box["x"] + spot["x"], box["y"] + spot["y"])
    card = page.locator(".card")
    card.wait_for()
    last = page.evaluate("strutwrightStage.drawn.shell.hubs.length - 1")
    assert f"Hub {last}" in card.inner_text()
    assert card.locator("svg.sockets line").count() == 5  # an icosahedral apex
    page.get_by_role("button", name="Cover").click()
    page.wait_for_timeout(300)
    assert page.evaluate("strutwrightStage.calls") <= 6
    card.get_by_role("button", name=re.compile("to hub")).first.click()
    assert "Cut length" in card.inner_text()
    page.get_by_role("button", name="Plan").click()
    page.get_by_role("button", name="Labels").click()
    page.locator(".label").first.wait_for()


def test_the_verdict_is_read_and_the_check_shown(page, server):
    opened(page, server, "/checks")
    verdict = page.locator(".verdict")
    verdict.wait_for()
    assert VERDICT.search(verdict.inner_text())
    first = page.locator(".checks li").first.inner_text()
    assert "after" in first  # its clause
    said = fact(page, "Verdict").inner_text()
    assert verdict.inner_text().upper().startswith(said.upper())


def test_five_steps_by_keyboard_and_button(page, server):
    opened(page, server, "/walk")
    head = page.locator(".walk h2")
    head.wait_for()
    steps = int(re.search(r"of (\d+)", head.inner_text())[1])
    shown = []
    struts = "strutwrightStage.drawn.shell.struts"
    count = f"{struts}.filter((s, k) => strutwrightStage.look.shown('strut', k))"
    for number in range(1, min(steps, 5) + 1):
        if number > 1 and number % 2:
            page.keyboard.press("ArrowRight")
        elif number > 1:
            page.get_by_role("button", name="Next").click()
        page.locator(".walk h2", has_text=f"Step {number} of").wait_for()
        assert page.locator(".picks li").count() > 0
        shown.append(page.evaluate(f"{count}.length"))
    assert shown == sorted(shown)
    assert shown[0] < shown[-1]


def test_the_kit_is_built_and_its_book_is_a_book(page, server):
    opened(page, server, "/files")
    page.get_by_role("button", name="Build the kit").click()
    link = page.get_by_role("link", name="Download the whole kit")
    link.wait_for()
    with page.expect_download() as waiting:
        link.click()
    archive = zipfile.ZipFile(io.BytesIO(waiting.value.path().read_bytes()))
    book = pypdf.PdfReader(io.BytesIO(archive.read(f"{SMALL}-kit/build-book.pdf")))
    assert len(book.pages) > 3
    assert (server.folder / f"{SMALL}-kit" / "kit.json").is_file()


def test_two_windows_change_one_brief(page, context, server):
    opened(page, server)
    other = context.new_page()
    opened(other, server)
    for window, name in ((page, "First name"), (other, "Second name")):
        field = window.get_by_label("Name", exact=True)
        field.fill(name)
        field.press("Tab")
        window.locator("h1", has_text=name).wait_for()
    page.get_by_role("button", name="Save").click()
    page.get_by_text("Saved.", exact=True).first.wait_for()
    other.get_by_role("button", name="Save").click()
    told = other.get_by_role("alertdialog")
    told.wait_for()
    assert "First name" in told.locator("pre").inner_text()
    path = server.folder / f"{SMALL}.toml"
    assert "First name" in path.read_text()
    merged = other.get_by_label("Yours, to be merged here")
    merged.fill(merged.input_value().replace("Second name", "Both names"))
    other.get_by_role("button", name="Save the merged text").click()
    told.wait_for(state="hidden")
    assert "Both names" in path.read_text()
    other.close()


def test_a_strut_left_over_finds_its_place(page, server):
    opened(page, server, "/parts")
    page.locator(".phone", has_text=VERDICT).wait_for()
    page.goto(f"{server.url}/#/b/{SMALL}/checks")
    page.goto(f"{server.url}/#/b/{SMALL}/parts")
    page.get_by_label("Its label, or its cut length as measured").fill("A")
    page.get_by_role("button", name="Where does it belong?").click()
    page.get_by_text(re.compile("Type A .* taken in step")).wait_for()


def test_readings_of_the_tape_find_the_swapped_struts(page, server):
    readings = (EXAMPLES / "pellbrook-readings.csv").read_text()
    page.goto(f"{server.url}/#/b/pellbrook-repair/survey")
    area = page.get_by_role("textbox", name="Readings")
    area.fill(readings)
    page.get_by_role("button", name="What is wrong?").click()
    first = page.locator(".suspects li").first
    first.wait_for()
    assert "swap" in first.inner_text().lower()
    assert {"84", "86"} <= set(re.findall(r"\d+", first.inner_text()))
    page.get_by_role("button", name="Show").first.click()
    area.fill("kind,from,to,at,value,sigma\nlength,1,2,,3 m,\n")
    page.get_by_role("button", name="What is wrong?").click()
    page.locator(".problem").first.wait_for()


def test_two_briefs_are_compared_while_one_is_being_checked(page, server):
    page.goto(f"{server.url}/#/b/pellbrook-repair")
    page.get_by_role("button", name="Stop").wait_for()  # leaving lets this check go, for the page
    page.goto(server.url + "/#/")
    for name in ("tallow-cross-stall", "pellbrook-repair"):
        page.locator("li", has_text=f"{name}.toml").get_by_role("checkbox").check()
    page.get_by_role("button", name="Compare the two chosen").click()
    row = page.get_by_role("row", name=re.compile("^Strut types"))
    row.wait_for()
    assert page.get_by_role("row", name=re.compile("^Mass")).count() == 1


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_phone_in_hand(chromium, server, scheme):
    context = chromium.new_context(
        viewport={"width": 390, "height": 800}, has_touch=True, color_scheme=scheme
    )
    context.set_default_timeout(90_000)
    page = context.new_page()
    opened(page, server)
    page.locator(".phone", has_text=VERDICT).wait_for()
    for rest in ("/brief", "/checks", "/walk/2"):
        page.goto(f"{server.url}/#/b/{SMALL}{rest}")
        page.wait_for_timeout(300)
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert wide <= 390, rest
    button = page.get_by_role("button", name="Next").bounding_box()
    assert button["height"] >= 44
    assert button["y"] + button["height"] < 800  # in sight without scrolling
    assert button["width"] >= 150
    for toward, step in ((-150, 3), (150, 2)):  # a finger's width to the left, and back
        page.evaluate(SWIPE, toward)
        page.locator(".walk h2", has_text=f"Step {step} of").wait_for()
    page.evaluate(SWIPE, -20)  # a touch that trembles goes nowhere
    page.wait_for_timeout(200)
    assert "Step 2 of" in page.locator(".walk h2").inner_text()
    context.close()


def test_the_walk_goes_on_without_a_server(context, server):
    page = context.new_page()
    opened(page, server)
    page.locator(".phone", has_text=VERDICT).wait_for()
    page.reload()  # now the worker of the page is in charge and keeps what it sees
    opened(page, server, "/walk")
    page.locator(".walk h2").wait_for()
    port = server.port
    server.kill()
    try:
        page.reload()
        page.locator(".walk h2").wait_for()
        page.get_by_role("button", name="Next").click()
        page.locator(".walk h2", has_text="Step 2 of").wait_for()
        page.locator(".state", has_text="no server").wait_for()
    finally:
        server.start(port)
