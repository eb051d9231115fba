"""``strutwright cut``: several kits, a rack, the words and values that come out."""

import json
from collections import Counter

import pytest

from strutwright.cli.main import run

BRIEF = """
[project]
name = "{name}"
[size]
width = "{width}"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
bars = [{{ length = "10 ft", price = 9.80 }}]
[delivery]
carrier = "freight"
"""
RACK = "name,stock,length,quantity,price,unusable\nR1,emt-3/4,2.4 m,1,3.0,\nR2,emt-3/4,many,1,,\n"


@pytest.fixture
def briefs(tmp_path):
    paths = []
    for name, width in (("Low Fernlow", "5.0 m"), ("High Fernlow", "5.4 m")):
        path = tmp_path / f"{width[:3]}.toml"
        path.write_text(BRIEF.format(name=name, width=width))
        paths.append(str(path))
    return paths


def test_two_kits_are_cut_together_for_no_more_than_apart(briefs, capsys):
    costs = []
    for some in ([briefs[0]], [briefs[1]], briefs):
        assert run(["cut", *some, "--json"]) == 0
        data = json.loads(capsys.readouterr().out)
        (plan,) = data["plans"]
        costs.append(plan["plan"]["cost"])
    assert costs[2] <= costs[0] + costs[1] + 1e-9
    labels = Counter(c["label"] for b in plan["plan"]["bars"] for c in b["cuts"])
    assert sum(labels.values()) == 130
    assert {label[0] for label in labels} == {"1", "2"}


def test_the_rack_is_used_and_its_bad_line_named(briefs, tmp_path, capsys):
    rack = tmp_path / "rack.csv"
    rack.write_text(RACK)
    assert run(["cut", briefs[0], "--stock", str(rack), "--keep", "400 mm"]) == 0
    out, err = capsys.readouterr()
    assert "(R1)" in out
    assert "proven" in out
    assert "(line 3)" in err


def test_a_value_without_a_least_length_is_refused(briefs, capsys):
    assert run(["cut", briefs[0], "--keep-value", "2"]) == 2
    assert "cutting-value" in capsys.readouterr().err
