"""A finding of the critic, and what it looks at."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from strutwright.design import Design
from strutwright.documents.blocks import (
    Block,
    Bullets,
    Caution,
    Document,
    Figure,
    Heading,
    Paragraph,
    Row,
    Table,
    Together,
)
from strutwright.documents.reader import Reader

__all__ = ["Case", "Finding", "figures_of", "flat", "steps_of", "texts_of"]


@dataclass(frozen=True)
class Finding:
    """A rule that the book breaks: the rule, where, and what was found."""

    rule: str
    where: str
    what: str

    def __str__(self) -> str:
        """Return the finding in one line."""
        return f"{self.rule}: {self.where}: {self.what}"


@dataclass(frozen=True)
class Case:
    """A book with the design that it is of."""

    book: Document
    design: Design
    reader: Reader


def flat(book: Document) -> Iterator[Block]:
    """Return all blocks, those that stay together one by one."""
    for block in book.blocks:
        yield block
        if isinstance(block, Together):
            yield from block.blocks


def steps_of(book: Document) -> list[Together]:
    """Return the steps: what stays together under a heading of level 3."""
    return [
        block
        for block in book.blocks
        if isinstance(block, Together)
        and isinstance(block.blocks[0], Heading)
        and block.blocks[0].level == 3
    ]


def figures_of(block: Block) -> Iterator[Figure]:
    """Return the figures in a block."""
    if isinstance(block, Figure):
        yield block
    elif isinstance(block, Row):
        yield from block.figures
    elif isinstance(block, Table):
        yield from (cell for row in block.rows for cell in row if isinstance(cell, Figure))


def texts_of(block: Block) -> Iterator[str]:
    """Return the running words of a block."""
    if isinstance(block, Heading | Paragraph):
        yield block.text
    elif isinstance(block, Bullets):
        yield from block.items
    elif isinstance(block, Caution):
        yield from (block.hazard, block.consequence, block.avoidance)
    elif isinstance(block, Table):
        yield from block.head
        yield from (cell for row in block.rows for cell in row if isinstance(cell, str))
