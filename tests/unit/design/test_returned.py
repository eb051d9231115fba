"""Lengths sent back are judged one by one; two briefs are compared."""

import pytest

from strutwright.brief import parse_brief
from strutwright.brief.lengths import parse_lengths
from strutwright.cli.main import run
from strutwright.design import surveyed_kit
from strutwright.design.returned import judge_lengths
from strutwright.errors import InputError

BRIEF = """
[project]
name = "Brannoch hubs"
[size]
width = "{width}"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
step = "2 mm"
[survey]
cut = "1 mm"
play = "1 mm"
[delivery]
carrier = "freight"
"""


@pytest.fixture(scope="module")
def order():
    brief = parse_brief(BRIEF.format(width="5.0 m"), "b.toml")
    return surveyed_kit(brief), brief


def pieces(kit):
    return [
        (p.label, p.length) for t in kit.strut_types for p in t.pieces for _ in range(p.quantity)
    ]


def test_all_fit_when_cut_as_asked(order):
    kit, brief = order
    assert {one.verdict for one in judge_lengths(kit, brief, pieces(kit))} == {"fits"}


def test_three_are_cut_again_or_replaced(order):
    # half a step of 2 mm, twice 1 mm of sawing, 1 mm of play: 4 mm
    kit, brief = order
    sent = pieces(kit)
    sent[3] = (sent[3][0], sent[3][1] + 0.0041)
    sent[7] = (sent[7][0], sent[7][1] - 0.0041)
    sent[9] = (sent[9][0], sent[9][1] + 0.0039)
    sent.pop()
    said = [one.verdict for one in judge_lengths(kit, brief, sent)]
    assert (said[3], said[7], said[9], said[-1]) == ("cut again", "replace", "fits", "missing")
    assert len(said) == 65


def test_a_piece_too_many_has_no_place(order):
    kit, brief = order
    sent = [*pieces(kit), ("A", 1.0), ("Q", 1.0)]
    assert [one.verdict for one in judge_lengths(kit, brief, sent)[-2:]] == ["unknown"] * 2


def test_lines_that_cannot_be_read_are_all_named():
    with pytest.raises(InputError) as caught:
        parse_lengths("label,length\nA,1469 mm\nB\nC,long\n", "l.csv")
    assert [p.where for p in caught.value.problems] == ["l.csv (line 3)", "l.csv (line 4)"]


@pytest.mark.whole
def test_compare_names_what_changed(tmp_path, capsys):
    paths = []
    for width in ("5.0 m", "5.4 m"):
        path = tmp_path / f"{width[:3]}.toml"
        path.write_text(BRIEF.format(width=width))
        paths.append(str(path))
    assert run(["compare", *paths]) == 0
    out = capsys.readouterr().out
    assert "width: 5000 mm -> 5400 mm" in out
    assert "hubs: 26, as before" in out
    assert "piece of" in out
