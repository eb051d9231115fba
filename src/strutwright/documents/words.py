"""The texts of a language and the brief's way of showing numbers."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from strutwright.sentences import LANGUAGES

__all__ = ["Words", "messages"]


@cache
def messages(language: str) -> Mapping[str, str]:
    """Return the texts of `language` by ``section.key``; read once, five documents use them."""
    path = files("strutwright.documents") / "messages" / f"{language}.toml"
    table = tomllib.loads(path.read_text(encoding="utf-8"))
    return MappingProxyType(
        {f"{name}.{key}": text for name, part in table.items() for key, text in part.items()}
    )


@dataclass(frozen=True)
class Words:
    """Texts of one language."""

    language: str
    texts: Mapping[str, str]

    @classmethod
    def of(cls, language: str) -> Words:
        """Return the texts of `language`; English for a language, or a text, that is not there."""
        chosen = language if language in LANGUAGES else LANGUAGES[0]
        return cls(chosen, {**messages(LANGUAGES[0]), **messages(chosen)})

    def __call__(self, key: str, /, **values: object) -> str:
        """Return the text of ``section.key`` with `values` filled in."""
        return self.texts[key].format(**values)
