"""Sentences that can be told again: in another language, in another system of units."""

from strutwright.sentences.sentence import LANGUAGES, Sentence, note, sentence, sentences, told

__all__ = ["LANGUAGES", "Sentence", "note", "sentence", "sentences", "told"]
