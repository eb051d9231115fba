"""Every page against WCAG 2.2 A and AA, by axe, in light and dark."""

import re
from pathlib import Path

import pytest

pytestmark = pytest.mark.whole
AXE = Path(__file__).parents[2] / "page" / "node_modules" / "axe-core" / "axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
PLACES = [
    "", "/parts", "/checks", "/cutting", "/ground", "/walk", "/more", "/survey", "/text", "/files",
]  # fmt: skip


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_page_shuts_anybody_out(chromium, server, scheme, cannot):
    if not AXE.is_file():
        cannot("axe is not here: run `npm ci` in page/ (make test does)")
    context = chromium.new_context(color_scheme=scheme, bypass_csp=True)
    context.set_default_timeout(90_000)
    page = context.new_page()
    page.goto(server.url)
    page.get_by_role("heading", name="New brief").wait_for()
    found = {"shelf": faults(page)}
    page.goto(f"{server.url}/#/b/mosswick-two-frequency")
    page.locator(".phone", has_text=re.compile("Passes|FAILS|NOT CHECKED")).wait_for()
    for place in PLACES:
        page.goto(f"{server.url}/#/b/mosswick-two-frequency{place}")
        page.wait_for_timeout(400)
        found[place] = faults(page)
    assert {place: told for place, told in found.items() if told} == {}
    context.close()


def faults(page):
    page.evaluate(AXE.read_text(encoding="utf-8"))
    asked = f"axe.run(document, {{runOnly: {RULES}}})"
    told = page.evaluate(asked)["violations"]
    return [(one["id"], one["nodes"][0]["html"][:200], len(one["nodes"])) for one in told]
