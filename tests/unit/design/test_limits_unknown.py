"""Where a required rule cannot be used nobody is told what may hang or what fails first."""

import pytest

import strutwright as sw
from strutwright.brief import parse_brief
from strutwright.design import limit_sentences, verdict_sentence
from strutwright.design.proof import proof_of
from strutwright.documents.limits import limits_chapter
from strutwright.documents.reader import Reader
from strutwright.errors import InputError
from strutwright.exports import kit_data

BRIEF = """
[project]
name = "Untested plates"
[size]
width = "5.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "timber-45x70"
[hubs]
connector = "plate-bolt"
[site]
standard = "en"
ground_snow = "0.5 kN/m2"
basic_wind = { value = "22 m/s", basis = "10 min mean" }
exposure = "II"
base = "anchored"
soil = "stiff clay"
[cover]
material = "pe-film-180"
roll = "6 m"
"""


@pytest.fixture(scope="module")
def design():
    return sw.run(parse_brief(BRIEF, "test.toml"))


def test_the_sentences_say_that_it_is_not_known_and_why(design):
    (said,) = limit_sentences(design)
    assert "not known" in said
    assert "eccentricity" in said
    assert " N" not in said


def test_the_verdict_says_what_was_not_made_before_what_was(design):
    said = verdict_sentence(design)
    assert said.startswith("NOT CHECKED: ")
    assert said.index("eccentricity") < said.index("Of those made")
    assert "joint-strength" in said


def test_no_number_reaches_the_file_or_the_page(design):
    told = kit_data(design)["structure"]
    assert told["hung_capacity"] is None
    assert told["first_failure"] is None
    assert told["storm"] == []
    assert told["strut_loss"] == []
    text = " ".join(str(block) for block in limits_chapter(design, Reader.of(design)))
    assert "eccentricity" in text
    assert "No single loss" not in text
    assert "kN" not in text


def test_no_proof_load_is_named(design):
    with pytest.raises(InputError, match="proof-unjudged"):
        proof_of(design.brief, design.kit, 2.0)
