"""``strutwright survey``: right call, right words, right exit code."""

import json
from pathlib import Path

import pytest

from strutwright.cli.main import run

EXAMPLES = Path(__file__).parents[2] / "examples"
BRIEF = """
[project]
name = "Taped dome"
[size]
width = "6.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
"""
READINGS = """kind,from,to,at,value,sigma
# temperature: 20 C
width,0,5,centre,6.002 m,
width,2,7,centre,19 ft 8 in,
distance,0,12,centre,3.0 ft,
"""


@pytest.fixture
def files(tmp_path):
    brief, readings = tmp_path / "dome.toml", tmp_path / "r.csv"
    brief.write_text(BRIEF)
    readings.write_text(READINGS)
    return str(brief), str(readings)


def test_survey_prints_what_the_contract_says(files, capsys):
    assert run(["survey", *files, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    keys = {"shape", "suspects", "corrections", "spread", "next_reading", "cannot_know"}
    assert keys <= set(data)
    assert len(data["shape"]) == 26
    assert len(data["readings"]) == 2


def test_survey_tells_what_it_put_aside(files, capsys):
    assert run(["survey", *files]) == 0
    out = capsys.readouterr().out
    assert "readings-put-aside" in out
    assert "width 2 to 7" in out


def test_survey_tells_every_problem_of_the_file(files, tmp_path, capsys):
    bad = tmp_path / "bad.csv"
    bad.write_text(READINGS + "width,0,77,centre,6 m,\nspan,0,5,centre,6 m,\n")
    assert run(["survey", files[0], str(bad)]) == 2
    err = capsys.readouterr().err
    assert "2 problems" in err
    assert "line 6" in err
    assert "readings-kind" in err


def test_plan_prints_which_readings_to_take(files, capsys):
    assert run(["survey", files[0], "--plan", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["n_swaps"] == 90
    assert all(one["hubs"][0] != one["hubs"][1] for one in data["readings"])
    assert run(["survey", files[0], "--plan"]) == 0
    assert "among the first three" in capsys.readouterr().out


def test_without_readings_or_plan_the_user_is_told(files, capsys):
    assert run(["survey", files[0]]) == 2
    assert "--plan" in capsys.readouterr().err


def test_the_shape_as_built_is_drawn(files, tmp_path, capsys):
    out = tmp_path / "built.svg"
    assert run(["survey", *files, "--picture", str(out), "--look", "front"]) == 0
    assert out.read_text().startswith("<svg")
    assert run(["survey", *files, "--picture", str(out), "--look", "above"]) == 2
    assert "survey-look" in capsys.readouterr().err


def test_a_proof_load_is_named_and_its_sink_read_back(tmp_path, capsys):
    text = (EXAMPLES / "mosswick-two-frequency.toml").read_text()
    path = tmp_path / "whole-struts.toml"
    path.write_text(text.replace("parcel-175", "parcel-us"))
    brief = str(path)
    assert run(["survey", brief, "--proof", "--json"]) == 0
    proof = json.loads(capsys.readouterr().out)
    assert 0 < proof["load"] <= proof["allowed"] / 2
    assert run(["survey", brief, "--proof"]) == 0
    said = capsys.readouterr().out
    assert f"# load: {proof['load']:g} N at hub {proof['hub']}" in said
    lines = [line.strip() for line in said.splitlines() if line.startswith("   ")]
    readings = tmp_path / "proof.csv"
    readings.write_text("kind,from,to,at,value,sigma\n" + "\n".join(lines).split("   (")[0] + "\n")
    assert run(["survey", brief, str(readings)]) == 0
    assert "Joints are as supposed" in capsys.readouterr().out
    assert run(["survey", brief, str(readings), "--json"]) == 0
    joints = json.loads(capsys.readouterr().out)["joints"]
    assert joints["verdict"] == "within"
    assert {"shell-stability"} <= {row["code"] for row in joints["checks"]}


def test_struts_with_untested_couplers_get_no_proof_load(capsys):
    assert run(["survey", str(EXAMPLES / "mosswick-two-frequency.toml"), "--proof"]) == 2
    said = capsys.readouterr().err
    assert "proof-unjudged" in said
    assert "couplers" in said


def test_without_loads_of_the_site_no_proof_load_is_named(files, capsys):
    assert run(["survey", files[0], "--proof"]) == 2
    assert "proof-unjudged" in capsys.readouterr().err
