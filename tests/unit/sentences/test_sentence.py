"""A sentence tells its values in every language and system, and every language has every one."""

import copy
import pickle
import re
import string
import sys

import numpy as np
import pytest

from strutwright.sentences import LANGUAGES, Sentence, note, sentence, sentences, told

FIELDS = re.compile(r"{[^}]*}")


def _fields(text):
    """Return the fields with their quantity; the words of a counted thing are the language's."""
    parts = ((name, kind) for _, name, kind, _ in string.Formatter().parse(text) if name)
    return sorted((name, "#" if kind.startswith("#") else kind) for name, kind in parts)


@pytest.fixture
def trial(monkeypatch):
    def put(text, **words):
        table = {"trial": text, **{f"word.{key}": word for key, word in words.items()}}
        monkeypatch.setattr(sys.modules[Sentence.__module__], "sentences", lambda _language: table)

    return put


def test_read_as_text_it_is_english_and_metric():
    said = sentence("vault-door", width=1.2, height=2.0)
    assert said == "each end wall leaves a door of 1200 mm × 2000 mm, hub to hub"
    assert isinstance(said, str)


def test_it_is_told_in_another_language_and_system():
    said = sentence("vault-door", width=1.2192, height=2.1336)
    assert told(said, "de", "imperial").startswith("jede Stirnwand lässt eine Tür von 4' 0\" × 7'")
    assert "1219 mm (4' 0\")" in told(said, "es", "both")


def test_plain_text_and_unknown_languages_stay_english():
    said = sentence("vault-door", width=1.2, height=2.0)
    assert told("as it is", "de", "imperial") == "as it is"
    assert told(said, "xx") == said


def test_copies_and_pickles_can_still_be_told():
    said = sentence("vault-door", width=1.2192, height=2.0)
    for same in (copy.deepcopy(said), pickle.loads(pickle.dumps(said))):
        assert same == said
        assert told(same, "de", "imperial") == told(said, "de", "imperial")


def test_a_note_has_the_code_before_the_dot():
    made = note("vault-door", width=1.2, height=2.0)
    assert made.code == "vault-door"
    assert isinstance(made.text, Sentence)


@pytest.mark.parametrize(
    ("text", "values", "metric", "imperial"),
    [
        ("{a:fine}", {"a": 0.00035}, "0.35 mm", "0.014 in"),
        ("{a:share}", {"a": 0.08}, "8 %", "8 %"),
        ("{a:area load}", {"a": 700.0}, "0.7 kN/m²", "14.6 psf"),
        ("{a:length}", {"a": (1.0, np.float64(2.0))}, "1000 mm, 2000 mm", "3' 3 3/8\", 6' 6 3/4\""),
        ("{a:#hub|hubs} {b:#hub|hubs}", {"a": 1, "b": np.int64(3)}, "1 hub 3 hubs", "1 hub 3 hubs"),
        ("{a:.2f} {b}", {"a": 0.666, "b": 7}, "0.67 7", "0.67 7"),
        ("{a} {b}", {"a": ("x", "y"), "b": True}, "x, y True", "x, y True"),
    ],
)  # fmt: skip
def test_fields_are_told_by_their_quantity(trial, text, values, metric, imperial):
    trial(text)
    said = sentence("trial", **values)
    assert (said, told(said, "en", "imperial")) == (metric, imperial)


def test_words_are_looked_up_and_sentences_stand_in_sentences(trial):
    trial("{a:word}: {b}", snow="Schnee")
    assert sentence("trial", a="snow", b=sentence("trial", a="snow", b="x")) == "Schnee: Schnee: x"


def test_a_missing_value_or_sentence_is_a_fault():
    with pytest.raises(KeyError):
        sentence("vault-door", width=1.2)
    with pytest.raises(KeyError):
        sentence("no-such-sentence")


@pytest.mark.parametrize("language", LANGUAGES[1:])
def test_no_sentence_is_missing_and_each_takes_the_same_values(language):
    english, other = sentences("en"), sentences(language)
    assert sorted(other) == sorted(english)
    for key, text in english.items():
        assert _fields(text) == _fields(other[key]), key


@pytest.mark.parametrize("language", LANGUAGES[1:])
def test_sentences_are_translated(language):
    other = sentences(language)
    same = [
        key
        for key, text in sentences("en").items()
        if text == other.get(key) and len(re.findall(r"[a-z]{2,}", FIELDS.sub("", text))) > 2
    ]
    assert same == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_sentences_stand_in_order(language):
    keys = list(sentences(language))
    assert keys == sorted(keys)
