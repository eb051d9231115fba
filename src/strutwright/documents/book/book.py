"""The build book as a Document."""

from __future__ import annotations

from dataclasses import replace

from strutwright.design import Design
from strutwright.documents.blocks import Block, Bullets, Document, Figure, Heading, Paragraph
from strutwright.documents.book.after import after_chapter, lookup_chapter
from strutwright.documents.book.choices import choices_chapter
from strutwright.documents.book.climate import climate_chapter
from strutwright.documents.book.cover import cover_chapter
from strutwright.documents.book.crew import crew_chapter
from strutwright.documents.book.drawings import base_ring, shell_views
from strutwright.documents.book.front import cautions, cover_lines
from strutwright.documents.book.ground import ground_chapter
from strutwright.documents.book.parts import cut_list, hub_cards, parts_list
from strutwright.documents.book.pictures import book_pictures
from strutwright.documents.book.steps import closing_chapter, steps_chapter
from strutwright.documents.framed import framed
from strutwright.documents.limits import limits_chapter
from strutwright.documents.reader import Reader

__all__ = ["build_book"]


def build_book(design: Design, *, date: str = "") -> Document:
    """Return the build book of `design`.

    `date` is printed as given; without it none is, so that the same design gives the same bytes.
    """
    reader = Reader.of(design)
    shell = design.shell
    alt = reader("book.cover_alt", hubs=len(shell.hubs), struts=len(shell.struts))
    plain = framed(
        design,
        reader,
        reader("book.title"),
        (
            *cautions(design, reader),
            *crew_chapter(design, reader),
            *parts_list(design, reader),
            *shell_views(design, reader),
            *base_ring(design, reader),
            *ground_chapter(design, reader),
            *steps_chapter(design, reader),
            *closing_chapter(design, reader),
            *hub_cards(design, reader),
            *cover_chapter(design, reader),
            *climate_chapter(design, reader),
            *after_chapter(design, reader),
            *lookup_chapter(design, reader),
            *cut_list(design, reader),
            *limits_chapter(design, reader),
            *choices_chapter(design, reader),
            *_notes(design, reader),
        ),
        book_pictures(design, reader),
        date=date,
    )
    return replace(
        plain,
        lead=cover_lines(design, reader),
        cover=Figure("cover", alt),
        contents=reader("frame.contents"),
    )


def _notes(design: Design, reader: Reader) -> tuple[Block, ...]:
    items = tuple(f"{reader.told(note.text)} ({note.code})" for note in design.notes)
    body: Block = Bullets(items) if items else Paragraph(reader("notes.none"))
    return (Heading(1, reader("notes.title")), Paragraph(reader("notes.intro")), body)
