"""What a document is made of: blocks of ready text and pictures, with nothing left to compute."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

__all__ = [
    "SIGNALS",
    "Block",
    "Bullets",
    "Card",
    "Cards",
    "Caution",
    "Document",
    "Figure",
    "Heading",
    "NewPage",
    "Paragraph",
    "Row",
    "Table",
    "Together",
]

SIGNALS: Final = ("DANGER", "WARNING", "CAUTION", "NOTICE")
"""Signal words, the gravest first. Source: ANSI Z535.6 / ISO 3864-2, second-hand."""


@dataclass(frozen=True)
class Heading:
    """A heading of level 1 (a chapter), 2 or 3."""

    level: int
    text: str


@dataclass(frozen=True)
class Paragraph:
    """Running text; `weight` is ``plain``, ``limit`` (12 pt, for limits) or ``small``."""

    text: str
    weight: Literal["plain", "limit", "small"] = "plain"


@dataclass(frozen=True)
class Bullets:
    """A list of short sentences; `numbered` when their order matters."""

    items: tuple[str, ...]
    numbered: bool = False


@dataclass(frozen=True)
class Caution:
    """A safety message: signal word, hazard, consequence, avoidance.

    Source: the four parts of ANSI Z535.6 / ISO 3864-2 messages, recalled.
    """

    word: Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
    hazard: str
    consequence: str
    avoidance: str


@dataclass(frozen=True)
class Figure:
    """A picture by its name in the document's pictures, with its text for those who cannot see it.

    `width` is its width on paper, mm; 0 takes the width of the text.
    """

    picture: str
    alt: str
    caption: str = ""
    width: float = 0.0


@dataclass(frozen=True)
class Table:
    """Rows of text under a head that is repeated on every page the table runs over.

    `align` has one letter a column: l, r or c; `widths` one number a column, shares of the
    text width (0: as wide as its content). A cell may be a Figure.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str | Figure, ...], ...]
    align: str
    caption: str = ""
    widths: tuple[float, ...] = ()


@dataclass(frozen=True)
class Card:
    """A titled picture with a few lines under it, kept together."""

    title: str
    figure: Figure
    lines: tuple[str, ...] = ()


@dataclass(frozen=True)
class Cards:
    """Cards in `columns` columns."""

    cards: tuple[Card, ...]
    columns: int = 2


@dataclass(frozen=True)
class Row:
    """Pictures side by side; `widths` are their shares of the text width."""

    figures: tuple[Figure, ...]
    widths: tuple[float, ...]


@dataclass(frozen=True)
class NewPage:
    """Start a page."""


@dataclass(frozen=True)
class Together:
    """Blocks that stay on one page, as a step with its picture; a rule stands over them."""

    blocks: tuple[Heading | Paragraph | Bullets | Caution | Figure | Table | Row, ...]


Block = Heading | Paragraph | Bullets | Caution | Figure | Table | Cards | Row | NewPage | Together


@dataclass(frozen=True)
class Document:
    """A document ready to be typeset.

    Parameters
    ----------
    title, kit : str
        Title of the document and name of the kit.
    blocks : tuple of Block
        What it says, in order.
    pictures : mapping of str to bytes
        SVG by name.
    foot : mapping of str to str
        Title block: ``version``, ``units``, ``date`` (may be empty), ``sheet`` and ``of``.
    stamp : str
        Verdict that every page bears, or empty.
    paper : str
        ``a4`` or ``us-letter``.
    language : str
        Of the text, such as ``en``.
    lead : tuple of str
        Lines of the cover under the title.
    cover : Figure or None
        Picture of the cover.
    contents : str
        Title of the table of contents; empty for none.
    signals : mapping of str to str
        What is printed for each signal word, in the language of the text.
    """

    title: str
    kit: str
    blocks: tuple[Block, ...]
    pictures: Mapping[str, bytes]
    foot: Mapping[str, str]
    stamp: str = ""
    paper: Literal["a4", "us-letter"] = "a4"
    language: str = "en"
    lead: tuple[str, ...] = ()
    cover: Figure | None = None
    contents: str = field(default="")
    signals: Mapping[str, str] = field(default_factory=lambda: {word: word for word in SIGNALS})
