import json
from pathlib import Path

import pytest

from strutwright.cli.main import run

EXAMPLES = Path(__file__).parents[2] / "examples"
BRIEF = """
[project]
name = "Test shelter"
[size]
width = "5.0 m"
[shape]
family = "dome"
division = [2, 0]
"""


@pytest.fixture
def brief(tmp_path):
    path = tmp_path / "shelter.toml"
    path.write_text(BRIEF)
    return path


@pytest.mark.whole
def test_build_writes_the_same_bytes_twice(tmp_path, brief, capsys):
    outs = [tmp_path / "one", tmp_path / "two"]
    for out in outs:
        assert run(["build", str(brief), "--out", str(out)]) == 1
    assert "NOT CHECKED" in capsys.readouterr().out
    files = [{p.relative_to(o): p.read_bytes() for p in o.rglob("*") if p.is_file()} for o in outs]
    assert files[0] == files[1]
    kit = json.loads((outs[0] / "kit.json").read_text())
    assert len(kit["shell"]["hubs"]) == 26
    assert sum(t["quantity"] for t in kit["parts"]["strut_types"]) == 65
    picked = {}
    for stage in kit["sequence"]["stages"]:
        for step in stage["steps"]:
            for label, n in step["picks"].items():
                picked[label] = picked.get(label, 0) + n
    parts = kit["parts"]["strut_types"] + kit["parts"]["hub_types"]
    assert picked == {part["label"]: part["quantity"] for part in parts}


@pytest.mark.whole
def test_an_existing_kit_is_not_overwritten(tmp_path, brief, capsys):
    out = tmp_path / "kit"
    assert run(["build", str(brief), "--out", str(out)]) == 1
    assert run(["build", str(brief), "--out", str(out)]) == 2
    assert "out-exists" in capsys.readouterr().err


def test_a_wrong_brief_is_told_with_every_problem(tmp_path, capsys):
    path = tmp_path / "bad.toml"
    path.write_text(BRIEF.replace("[2, 0]", "[1000, 0]").replace('"5.0 m"', "5.0"))
    assert run(["check", str(path)]) == 2
    assert "2 problems" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["missing.toml", "."])
def test_no_brief_is_a_clear_error(tmp_path, name, capsys):
    assert run(["check", str(tmp_path / name)]) == 2
    assert "error" in capsys.readouterr().err


def test_explain_and_schema(capsys):
    assert run(["explain", "out-exists"]) == 0
    assert "--force" in capsys.readouterr().out
    assert run(["explain", "no-such-code"]) == 2
    assert run(["schema", "kit"]) == 0
    assert "schema_version" in capsys.readouterr().out


def test_start_writes_a_brief(tmp_path, capsys):
    assert run(["start", str(tmp_path / "new")]) == 0
    assert "build" in capsys.readouterr().out


def test_check_shows_what_else_there_is(tmp_path, capsys):
    path = tmp_path / "free.toml"
    free = BRIEF.replace('"5.0 m"', '"5.0 m"\nfreedom = "20 %"') + '[struts]\nkerf = "3 mm"\n'
    path.write_text(free)
    assert run(["check", str(path)]) == 1
    told = capsys.readouterr().out
    assert "  * dome icosahedron [2, 0] 3 courses: 26 hubs, 65 struts, 2 types" in told
    assert "    dome octahedron" in told
    assert "  * 5000 mm: " in told
    assert run(["check", str(path), "--json"]) == 1
    kit = json.loads(capsys.readouterr().out)
    assert [row["chosen"] for row in kit["alternatives"]].count(True) == 1
    assert kit["alternatives"][0]["bought"] >= kit["alternatives"][0]["longest"]
    assert [row["width"] for row in kit["sizes"]] == sorted(row["width"] for row in kit["sizes"])


def test_recognise_says_what_a_bundle_is_and_what_lines_are(tmp_path, capsys):
    bundle = tmp_path / "bundle.csv"
    bundle.write_text("length,count\n1571,35\n1385,30\n")
    assert run(["recognise", str(bundle), "--unit", "mm"]) == 0
    told = capsys.readouterr().out
    assert "division [2, 0]" in told
    assert 'file = "bundle.csv", unit = "mm"' in told
    assert run(["recognise", str(EXAMPLES / "oldmere-struts.csv"), "--unit", "mm"]) == 0
    assert "26 hubs, 65 struts, 40 faces, 5.200 m wide" in capsys.readouterr().out
    assert run(["recognise", str(bundle)]) == 2
    assert "import-unit" in capsys.readouterr().err
    assert run(["recognise", str(bundle), "--unit", "yard"]) == 2


def test_an_old_kit_is_checked_like_a_new_one(capsys):
    assert run(["check", str(EXAMPLES / "oldmere-old-dome.toml"), "--json"]) == 1
    kit = json.loads(capsys.readouterr().out)
    assert [t["quantity"] for t in kit["parts"]["strut_types"]] == [35, 30]
    assert kit["shell"]["width"] == pytest.approx(5.2, abs=1e-3)  # as measured
    assert any(check["status"] == "pass" for check in kit["checks"])
