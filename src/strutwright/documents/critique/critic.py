"""All rules over one book."""

from __future__ import annotations

from strutwright.design import Design
from strutwright.documents.blocks import Document
from strutwright.documents.critique.finding import Case, Finding
from strutwright.documents.critique.of_book import BOOK_RULES
from strutwright.documents.critique.of_steps import STEP_RULES
from strutwright.documents.reader import Reader

__all__ = ["critique"]


def critique(book: Document, design: Design) -> tuple[Finding, ...]:
    """Return every rule for good instructions that the `book` of `design` breaks.

    What needs people is not judged: whether it is understood, the risk that is left, local law.
    """
    case = Case(book, design, Reader.of(design))
    return tuple(finding for rule in (*BOOK_RULES, *STEP_RULES) for finding in rule(case))
