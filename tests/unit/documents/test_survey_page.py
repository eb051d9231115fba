"""The page of a survey: what is suspect, what to pull, what the joints do, in three languages."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from strutwright.brief import Reading, Readings, Survey, parse_brief
from strutwright.design import Recheck, Surveyed
from strutwright.documents import build_survey, typeset
from strutwright.documents.blocks import Bullets, Paragraph, Table
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.survey import Correction, Joints, calibrate, sinks, survey_shell

BRIEF = """
[project]
name = "Page test"
language = "{language}"
show = "{show}"
[size]
width = "6.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
"""


@pytest.fixture(scope="module")
def surveyed():
    brief = parse_brief(BRIEF.format(language="en", show="metric"))
    kit = make_kit(make_shell(brief), brief)
    pairs = [(0, 5), (1, 6), (2, 7), (3, 8), (4, 9)]
    rows = tuple(
        Reading("width", pair, "centre", 6.0 + (0.5 if pair == (2, 7) else 0.0),
                temperature=20.0, line=line)
        for line, pair in enumerate(pairs, start=2)
    )  # fmt: skip
    result = survey_shell(kit, Readings(rows), Survey())
    pull = Correction(hub=5, dx=0.02, dy=0.0, dz=-0.01, sigma=0.003, order=1, force=120.0)
    value = 500.0 * float(sinks(kit, Joints(0.4, 2e-7), [25], 20.0)[0, 25])
    joints = calibrate(kit, [Reading("sink", (25,), "centre", value, 1e-4, 20.0, load=(500.0, 25))])
    return Surveyed(kit, replace(result, corrections=(pull,)), joints, Recheck((), ()))


def page(surveyed, language="en", show="metric"):
    return build_survey(parse_brief(BRIEF.format(language=language, show=show)), surveyed)


def rows_of(document):
    return [row for block in document.blocks if isinstance(block, Table) for row in block.rows]


def test_the_page_says_what_is_wrong_and_what_to_do(surveyed):
    """Hub 5 stands at -3 m on x: 20 mm along +x is inwards."""
    document = page(surveyed)
    rows = rows_of(document)
    assert rows[0][1] == "a misread tape"
    assert "line 4" in rows[0][3]
    assert rows[1] == ("1", "5", "20 mm in", "", "10 mm down", "120 N", "")
    said = [text for block in document.blocks if isinstance(block, Bullets) for text in block.items]
    assert any("No height was read" in text for text in said)
    words = [block.text for block in document.blocks if isinstance(block, Paragraph)]
    assert any("joints are as supposed" in text for text in words)
    assert {"built-plan", "built-front"} == set(document.pictures)
    assert b"pull" not in document.pictures["built-front"]


def test_a_pull_is_drawn_on_the_plan(surveyed):
    without = replace(surveyed, result=replace(surveyed.result, corrections=()))
    plan = page(surveyed).pictures["built-plan"]
    assert len(plan) > len(page(without).pictures["built-plan"])


@pytest.mark.parametrize(("language", "show"), [("en", "imperial"), ("de", "metric"),
                                                ("es", "both")])  # fmt: skip
def test_it_is_set_on_the_readers_paper(surveyed, language, show):
    document = page(surveyed, language, show)
    assert document.paper == ("us-letter" if show == "imperial" else "a4")
    assert typeset(document).startswith(b"%PDF")
    words = " ".join(block.text for block in document.blocks if isinstance(block, Paragraph))
    assert ("readings were used" in words) == (language == "en")


def test_a_true_shell_is_said_to_be_true(surveyed):
    kit = surveyed.kit
    width = float(np.linalg.norm(kit.shell.hubs[0] - kit.shell.hubs[5]))
    rows = Readings((Reading("width", (0, 5), "centre", width, temperature=20.0, line=2),))
    document = page(Surveyed(kit, survey_shell(kit, rows, Survey())))
    assert "Nothing is suspect" in document.blocks[2].text
    assert document.stamp == ""


def test_the_command_writes_the_page(tmp_path):
    from strutwright.cli.main import run

    brief, readings = tmp_path / "b.toml", tmp_path / "r.csv"
    brief.write_text(BRIEF.format(language="en", show="metric"))
    readings.write_text("kind,from,to,at,value,sigma\nwidth,0,5,,6 m,\n")
    out = Path(tmp_path) / "page.PDF"
    assert run(["survey", str(brief), str(readings), "--picture", str(out)]) == 0
    assert out.read_bytes().startswith(b"%PDF")
