"""Every example builds into a whole kit folder; nothing is left out of the pages."""

import json
from pathlib import Path

import pypdf
import pytest

from strutwright.cli.main import run

EXAMPLES = Path(__file__).parents[2] / "examples"
BUILT = ("mosswick-seedling-house", "mosswick-two-frequency", "tallow-cross-stall")
FILES = {
    "brief.toml", "build-book.pdf", "cut-plan.csv", "kit.json", "parts.csv", "parts.xlsx",
    "shell.dxf", "shell.glb", "pictures", "permit-packet.pdf", "quote.pdf", "setting-out.csv",
    "shop-cards.pdf", "labels.pdf", "templates.pdf",
}  # fmt: skip


@pytest.mark.whole
@pytest.mark.parametrize("name", BUILT)
def test_example_builds(tmp_path, name):
    out = tmp_path / name
    ended = run(["build", str(EXAMPLES / f"{name}.toml"), "--out", str(out)])
    assert {path.name for path in out.iterdir()} >= FILES
    kit = json.loads((out / "kit.json").read_text())
    states = {c["status"] for c in kit["checks"] if c["required"]}
    assert ended == (0 if states == {"pass"} else 1)
    book = pypdf.PdfReader(out / "build-book.pdf")
    words = [page.extract_text() for page in book.pages]
    stamp = (
        "FAILS AT SITE LOADS"
        if any(c["status"] == "fail" for c in kit["checks"] if c["required"])
        else "NOT CHECKED"
    )
    assert all((stamp in text) == (ended == 1) for text in words)
    assert f"of {len(words)}" in words[-1].replace("\n", " ")
    pieces = sum(p["quantity"] for t in kit["parts"]["strut_types"] for p in t["pieces"])
    assert sum(len(bar["cuts"]) for bar in kit["cutting"]["bars"]) == pieces
    assert sorted(s for t in kit["parts"]["strut_types"] for s in t["struts"]) == list(
        range(len(kit["shell"]["struts"]))
    )
    assert sorted(h for t in kit["parts"]["hub_types"] for h in t["hubs"]) == list(
        range(len(kit["shell"]["hubs"]))
    )
