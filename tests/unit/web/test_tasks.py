"""What a worker tells, in which order."""

from dataclasses import replace

import pytest

from strutwright.brief import parse_brief
from strutwright.structure.mended import Mend
from strutwright.web import tasks

BRIEF = """
[project]
name = "Weak"
use = "shelter"
[size]
width = "3.0 m"
[shape]
family = "dome"
division = [1, 0]
[struts]
stock = "steel-25x1.5"
"""


class Told:
    def __init__(self):
        self.parts = []

    def stage(self, name, fraction):
        pass

    def cancelled(self):
        return False

    def part(self, answer):
        self.parts.append(answer)


@pytest.fixture
def mends(monkeypatch):
    """Let one mend be found, without trying any: that is the design's own work."""
    row = Mend("thicker", verdict="passes", mass=31.0, price=None, governs="strut 1 at 0.90")
    asked = []

    def one(design, progress):
        asked.append(progress)
        return replace(design, mends=(row,))

    monkeypatch.setattr(tasks, "mended", one)
    return asked


def test_the_verdict_is_told_before_what_would_mend_it_and_what_to_ask(mends):
    told = Told()
    last = tasks.check({"text": BRIEF}, told)
    assert len(mends) == 1
    first, second = told.parts
    assert first["verdict"] == second["verdict"] == last["verdict"] == "not checked"
    assert [len(one["kit"]["structure"]["mend"]) for one in (first, second, last)] == [0, 1, 1]
    assert last["kit"]["structure"]["mend"][0]["mass"] == 31.0
    assert first["ask"] is second["ask"] is None
    assert last["ask"]["key"] == "site.ground_snow"


def test_a_brief_that_passes_is_told_once_before_what_to_ask(monkeypatch):
    monkeypatch.setattr(tasks, "mended", lambda design, _progress: design)
    told = Told()
    tasks.check({"text": BRIEF}, told)
    assert len(told.parts) == 1


def test_the_page_is_told_the_verdict_of_the_design(mends):
    design = tasks.run(parse_brief(BRIEF))
    assert mends == []
    assert tasks.check({"text": BRIEF}, Told())["sentence"] == tasks.verdict_sentence(design)
