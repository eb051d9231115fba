"""Every language has every text, with the same values to be filled in."""

import re

import pytest

from strutwright.documents.words import Words, messages
from strutwright.sentences import LANGUAGES

FIELDS = re.compile(r"{(\w+)}")


def test_the_brief_offers_the_languages_that_are_complete():
    from strutwright.brief import schema

    offered = schema("brief")["$defs"]["ProjectTable"]["properties"]["language"]
    found = re.findall(r"'(\w\w)'", str(offered))
    assert set(LANGUAGES) <= set(found)


@pytest.mark.parametrize("language", LANGUAGES[1:])
def test_no_text_is_missing_and_none_is_left_over(language):
    english, other = messages("en"), messages(language)
    assert sorted(set(english) - set(other)) == []
    assert sorted(set(other) - set(english)) == []


@pytest.mark.parametrize("language", LANGUAGES[1:])
def test_texts_take_the_same_values(language):
    other = messages(language)
    shared = {key: text for key, text in messages("en").items() if key in other}
    for key, text in shared.items():
        assert set(FIELDS.findall(text)) == set(FIELDS.findall(other[key])), key


@pytest.mark.parametrize("language", LANGUAGES[1:])
def test_texts_are_translated(language):
    other = messages(language)
    same = [
        key
        for key, text in messages("en").items()
        if text == other.get(key) and len(re.findall(r"[a-z]{2,}", FIELDS.sub("", text))) > 2
    ]
    assert same == []


def test_a_language_that_is_not_there_is_english():
    assert Words.of("xx").language == "en"
