"""`critique` and `page`: the right call, the right exit code."""

import json

import strutwright as sw
from strutwright.cli.main import run

TEXT = """
[project]
name = "Plain"
use = "shelter"
[size]
width = "4 m"
[shape]
family = "dome"
division = [2, 0]
[crew]
platform = "1.0 m"
"""


def test_a_fresh_kit_passes_and_a_changed_one_does_not(tmp_path, capsys):
    kit = sw.write_kit(sw.run(sw.parse_brief(TEXT, "plain.toml")), tmp_path / "kit")
    assert run(["critique", str(kit)]) == 0
    assert "breaks no rule" in capsys.readouterr().out
    data = json.loads((kit / "kit.json").read_text())
    data["sequence"]["stages"][0]["steps"][0]["picks"]["H1"] = 99
    (kit / "kit.json").write_text(json.dumps(data))
    (kit / "build-book.pdf").unlink()
    assert run(["critique", str(kit), "--json"]) == 1
    found = {row["rule"] for row in json.loads(capsys.readouterr().out)}
    assert found == {"kit-stale", "book-missing"}


def test_a_single_page_is_written(tmp_path):
    brief = tmp_path / "plain.toml"
    brief.write_text(TEXT)
    out = tmp_path / "page.pdf"
    assert run(["page", str(brief), "--hub", "3", "--out", str(out)]) == 0
    assert out.read_bytes().startswith(b"%PDF")
    assert run(["page", str(brief), "--out", str(out)]) == 2
