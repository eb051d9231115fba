"""The critic: a good book passes, and every way of spoiling it is found."""

from dataclasses import replace

import numpy as np
import pytest

import strutwright as sw
from strutwright.design import kit_number
from strutwright.documents import build_book
from strutwright.documents.blocks import Bullets, Caution, Heading, Paragraph, Row, Table, Together
from strutwright.documents.book import hub_page, left_over_page, step_page
from strutwright.documents.critique import critique
from strutwright.documents.critique.finding import Case
from strutwright.documents.critique.glyphs import known_characters
from strutwright.documents.critique.of_book import contrast
from strutwright.documents.critique.of_steps import difficulty
from strutwright.documents.pictures.seen import Sights
from strutwright.errors import InputError
from strutwright.version import __version__

TEXT = """
[project]
name = "Plain"
use = "shelter"
show = "both"
[size]
width = "4 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
[crew]
people = 2
reach = "2.0 m"
platform = "1.0 m"
way = "in-place"
"""


@pytest.fixture(scope="module")
def design():
    return sw.run(sw.parse_brief(TEXT, "plain.toml"))


@pytest.fixture(scope="module")
def book(design):
    return build_book(design)


def rules(book, design):
    return {finding.rule for finding in critique(book, design)}


def is_step(block):
    return isinstance(block, Together) and block.blocks[0].level == 3


def step_changed(book, number, change):
    """Return the book with the blocks of one step changed."""
    blocks, seen = [], 0
    for block in book.blocks:
        if is_step(block):
            seen += 1
            if seen == number:
                block = Together(tuple(change(list(block.blocks))))  # noqa: PLW2901
        blocks.append(block)
    return replace(book, blocks=tuple(blocks))


def without(kind):
    return lambda blocks: [block for block in blocks if not isinstance(block, kind)]


def test_a_good_book_passes(book, design):
    assert [str(finding) for finding in critique(book, design)] == []


def test_a_step_left_out_is_found(book, design):
    blocks = [
        block for block in book.blocks if not (is_step(block) and "Step 3:" in block.blocks[0].text)
    ]
    assert "step-order" in rules(replace(book, blocks=tuple(blocks)), design)


def test_a_wrong_count_is_found(book, design):
    def change(blocks):
        return [
            replace(b, text=b.text.replace(" × ", "1 × ", 1))
            if isinstance(b, Paragraph) and " × " in b.text
            else b
            for b in blocks
        ]

    assert {"pick-box", "parts-sum"} <= rules(step_changed(book, 2, change), design)


def test_a_hub_that_comes_later_is_found(book, design):
    def change(blocks):
        table = next(b for b in blocks if isinstance(b, Table))
        return [
            replace(table, rows=(*table.rows, ("0", "H1", "A to 25"))) if b is table else b
            for b in blocks
        ]

    assert "forward-reference" in rules(step_changed(book, 1, change), design)


def test_a_picture_away_from_its_step_is_found(book, design):
    assert {"figure-with-step", "step-check"} <= rules(step_changed(book, 1, without(Row)), design)


def test_a_passive_instruction_is_found(book, design):
    spoilt = step_changed(book, 2, lambda b: [*b, Bullets(("The struts are bolted by hand.",))])
    assert "active-voice" in rules(spoilt, design)


@pytest.mark.parametrize(
    ("language", "text", "rule"),
    [
        ("de", "Die Stäbe werden von Hand verschraubt.", "active-voice"),
        ("de", "Die Stangen von Hand verschrauben.", "one-term"),
        ("es", "Las barras son atornilladas a mano.", "active-voice"),
        ("es", "Atornillar las varillas a mano.", "one-term"),
    ],
)
def test_other_languages_are_held_to_their_words(design, language, text, rule):
    project = replace(design.brief.project, language=language)
    told = replace(design, brief=replace(design.brief, project=project))
    book = build_book(told)
    assert {"active-voice", "one-term"} & rules(book, told) == set()
    assert rule in rules(step_changed(book, 2, lambda b: [*b, Bullets((text,))]), told)


def test_a_step_much_harder_than_the_rest_is_found(book, design):
    steps = list(design.sequence.steps)
    hard = max(range(len(steps)), key=lambda k: len(steps[k].struts))
    steps[hard] = replace(steps[hard], struts=np.tile(steps[hard].struts, 4), repeats=1)
    stages = design.sequence.stages
    first = replace(stages[0], steps=tuple(steps))
    spoilt = replace(design, sequence=replace(design.sequence, stages=(first,)))
    assert "difficulty" in {finding.rule for finding in difficulty(Case(book, spoilt, None))}


def test_joints_that_the_picture_hides_are_found(book, design, monkeypatch):
    monkeypatch.setattr(Sights, "joints", lambda *_: 0.8)
    assert "joints-seen" in rules(book, design)


def test_a_message_after_its_step_is_found(book, design):
    late = step_changed(book, 4, lambda b: [*b, Caution("WARNING", "Late.", "Harm.", "Look.")])
    assert "message-before" in rules(late, design)


def test_a_missing_message_and_an_unnamed_prop_are_found(book, design):
    number = next(s.number for s in design.sequence.steps if s.props and s.mechanisms)
    assert "message-missing" in rules(step_changed(book, number, without(Caution)), design)
    assert "prop-named" in rules(step_changed(book, number, without(Bullets)), design)


def test_signal_words_of_another_language_are_found(book, design):
    german = {"DANGER": "GEFAHR", "WARNING": "WARNUNG", "CAUTION": "VORSICHT", "NOTICE": "HINWEIS"}
    assert "signal-language" in rules(replace(book, signals=german), design)


def test_the_cover_bears_the_number_of_the_kit_and_the_version(book, design):
    number = kit_number(design.brief)
    assert any(number in line and __version__ in line for line in book.lead)
    other = replace(design, brief=replace(design.brief, text=design.brief.text + "# more"))
    assert kit_number(other.brief) != number


def test_a_cover_without_the_number_of_the_kit_is_found(book, design):
    assert "cover" in rules(replace(book, lead=book.lead[1:]), design)


def test_a_book_without_the_check_of_the_ground_is_found(book, design):
    blocks = tuple(b for b in book.blocks if getattr(b, "text", "") != "Check of the ground")
    assert "chapter" in rules(replace(book, blocks=blocks), design)


def test_the_time_says_what_it_rests_on(book):
    said = " ".join(i for b in book.blocks if isinstance(b, Bullets) for i in b.items)
    assert "common practice, no source" in said


def test_safety_after_the_first_step_is_found(book, design):
    front = [b for b in book.blocks if isinstance(b, Caution)]
    rest = [b for b in book.blocks if not isinstance(b, Caution)]
    assert "safety-first" in rules(replace(book, blocks=(*rest, *front)), design)


@pytest.mark.parametrize(
    ("caution", "rule"),
    [
        (Caution("ACHTUNG", "A.", "B.", "C."), "signal-word"),
        (Caution("DANGER", "A.", "", "C."), "message-whole"),
        (Caution("DANGER", "A.", "B.", "C."), "severity-order"),
        (Caution("NOTICE", "A.", "Go " + "very " * 20 + "far.", "C."), "sentence-length"),
        (Caution("NOTICE", "Hold the pole.", "B.", "C."), "one-term"),
        (Caution("NOTICE", "It is 12 mm.", "B.", "C."), "both-units"),
        (Caution("NOTICE", "Mind the \u2603.", "B.", "C."), "glyphs"),
    ],
)
def test_a_spoilt_message_is_found(book, design, caution, rule):
    at = max(k for k, block in enumerate(book.blocks) if isinstance(block, Caution))
    blocks = (*book.blocks[: at + 1], caution, *book.blocks[at + 1 :])
    assert rule in rules(replace(book, blocks=blocks), design)


def test_a_missing_chapter_is_found(book, design):
    blocks = tuple(b for b in book.blocks if not (isinstance(b, Heading) and b.text == "Disposal"))
    assert "chapter" in rules(replace(book, blocks=blocks), design)


def test_limits_that_are_not_those_of_the_calculation_are_found(book, design):
    brief = design.brief
    other = replace(design, brief=replace(brief, loads=replace(brief.loads, hung=987.0)))
    assert "limits" in rules(book, other)


def test_a_false_stamp_a_lost_picture_and_a_lost_foot_are_found(book, design):
    spoilt = replace(book, stamp="ALL IS WELL", pictures={}, foot={})
    assert {"stamp", "picture", "pages", "cover"} <= rules(spoilt, design)


def test_a_prop_that_stays_is_found(book, design):
    plan = design.sequence
    stages = tuple(
        replace(stage, steps=tuple(replace(step, removed=()) for step in stage.steps))
        for stage in plan.stages
    )
    assert "prop-removed" in rules(book, replace(design, sequence=replace(plan, stages=stages)))


def test_a_heavy_or_crowded_step_is_found(book, design):
    plan = design.sequence
    stages = tuple(
        replace(stage, steps=tuple(replace(step, repeats=1, lift=40.0) for step in stage.steps))
        for stage in plan.stages
    )
    found = rules(book, replace(design, sequence=replace(plan, stages=stages)))
    assert {"lift", "parts-per-step"} <= found


def test_contrast_of_black_on_white_is_21():
    """WCAG 2.2: 21 : 1 is the largest there is; #777777 on white is 4.48 : 1 (recalled)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


def test_the_font_has_letters_and_no_snowman():
    known = known_characters()
    assert set("aZß ñ°·×–") <= known
    assert "\u2603" not in known


def test_single_pages(design):
    assert "Step 5:" in step_page(design, 5).blocks[0].blocks[0].text
    page = hub_page(design, 12)
    assert page.blocks[1].rows[0][0] == "12"
    assert page.pictures.keys() == {"hub"}
    rows = left_over_page(design, ("A",)).blocks[1].rows
    assert len(rows) == 1
    kind = design.kit.strut_types[0]
    assert rows[0][1].count(" - ") == kind.quantity


@pytest.mark.parametrize(
    ("make", "code"),
    [
        (lambda d: step_page(d, 99), "no-such-step"),
        (lambda d: hub_page(d, 99), "no-such-hub"),
        (lambda d: left_over_page(d, ("Q",)), "no-such-part"),
    ],
)
def test_a_page_that_is_not_there_is_refused(design, make, code):
    with pytest.raises(InputError) as caught:
        make(design)
    assert caught.value.code == code
