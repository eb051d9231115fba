"""A sentence is text in English and metric, and knows how to be told otherwise."""

from __future__ import annotations

import string
import tomllib
from collections.abc import Callable, Mapping
from functools import cache
from importlib.resources import files
from numbers import Real
from types import MappingProxyType
from typing import Final

from strutwright.units import (
    show_angle,
    show_fine_length,
    show_length,
    show_quantity,
    show_share,
    show_use,
)
from strutwright.values import Note

__all__ = ["LANGUAGES", "Sentence", "note", "sentence", "sentences", "told"]

LANGUAGES: Final = ("en", "de", "es")
"""Languages whose catalogues are complete: tests hold them to the keys and values of English."""

_WITHOUT_SYSTEM: Final[Mapping[str, Callable[[float], str]]] = {
    "share": show_share,
    "angle": show_angle,
    "use": show_use,
}
_LENGTHS: Final[Mapping[str, Callable[[float, str], str]]] = {
    "length": show_length,
    "fine": show_fine_length,
}


class Sentence(str):
    """Text of the catalogue with its values in SI; read as a `str` it is English and metric.

    Joined with other text it becomes plain text and stays English: join the values instead.

    Attributes
    ----------
    key : str
        Where it stands in ``sentences/en.toml``.
    values : tuple of (str, object)
        What is filled in, by field: SI numbers, text, further sentences, or tuples of these.
    """

    __slots__ = ("key", "values")

    key: str
    values: tuple[tuple[str, object], ...]

    def __new__(cls, key: str, values: tuple[tuple[str, object], ...]) -> Sentence:
        """Return the sentence of `key` with `values` in their fields."""
        made = super().__new__(cls, _filled(key, values, LANGUAGES[0], "metric", None))
        made.key = key
        made.values = values
        return made

    def __getnewargs__(self) -> tuple[str, tuple[tuple[str, object], ...]]:  # type: ignore[override]
        """Return what makes an equal sentence, for copies and pickles."""
        return self.key, self.values


def sentence(key: str, /, **values: object) -> Sentence:
    """Return the sentence `key` of the catalogue.

    Fields in the catalogue name their quantity, and `values` are SI:
    ``{width:length}`` (mm, or feet and inches), ``{cut:sawn}`` (to the workshop's step),
    ``{play:fine}`` (two digits of a small length), ``{snow:area load}`` or any other kind of
    `units.show_quantity`, ``{part:share}``, ``{tilt:angle}``, ``{use:use}``, ``{n:#hub|hubs}``
    (the number with the word that fits it), ``{what:word}`` (a word of the catalogue by its
    key), ``{factor:.3g}`` (a bare number). Tuples are told one after the other with commas.

    Raises
    ------
    KeyError
        No such sentence, or a value for one of its fields is missing.
    """
    return Sentence(key, tuple(values.items()))


def note(key: str, /, **values: object) -> Note:
    """Return the note of code `key`; what follows a dot in it tells variants apart."""
    return Note(key.partition(".")[0], sentence(key, **values))


def told(text: str, language: str = "en", system: str = "metric", step: float | None = None) -> str:
    """Return `text` in `language` and `system`; text that is no sentence as it is.

    Parameters
    ----------
    text : str
    language : str
        One of `LANGUAGES`; English for any other.
    system : str
        ``metric``, ``imperial`` or ``both``.
    step : float, m, optional
        The workshop's step, for cut lengths.
    """
    if not isinstance(text, Sentence):
        return text
    chosen = language if language in LANGUAGES else LANGUAGES[0]
    return _filled(text.key, text.values, chosen, system, step)


@cache
def sentences(language: str) -> Mapping[str, str]:
    """Return the catalogue of `language` by key."""
    path = files("strutwright.sentences") / f"{language}.toml"
    return MappingProxyType(tomllib.loads(path.read_text(encoding="utf-8")))


def _filled(
    key: str,
    values: tuple[tuple[str, object], ...],
    language: str,
    system: str,
    step: float | None,
) -> str:
    teller = _Teller(language, system, step)
    return teller.vformat(sentences(language)[key], (), dict(values))


class _Teller(string.Formatter):
    """Fills SI values into the fields of a sentence as one reader wants them."""

    def __init__(self, language: str, system: str, step: float | None) -> None:
        self.language = language
        self.system = system
        self.step = step

    def format_field(self, value: object, kind: str) -> str:
        """Return `value` told as `kind`."""
        if isinstance(value, tuple):
            return ", ".join(self.format_field(one, kind) for one in value)
        if isinstance(value, str):
            return self._word(value) if kind == "word" else self._told(value)
        if isinstance(value, bool) or not isinstance(value, Real):
            return format(value, kind)
        if kind.startswith("#"):
            one, _, many = kind[1:].partition("|")
            return f"{value:g} {one if value == 1 else many}"
        return self._number(float(value), kind) if kind else f"{value}"

    def _told(self, text: str) -> str:
        return told(text, self.language, self.system, self.step)

    def _word(self, key: str) -> str:
        return sentences(self.language)[f"word.{key}"]

    def _number(self, value: float, kind: str) -> str:
        if kind == "sawn":
            return show_length(value, self.system, step=self.step)
        if kind in _WITHOUT_SYSTEM:
            return _WITHOUT_SYSTEM[kind](value)
        if kind in _LENGTHS:
            return _LENGTHS[kind](value, self.system)
        if kind[0] in ".,+0123456789":
            return format(value, kind)
        return show_quantity(value, kind, self.system)
